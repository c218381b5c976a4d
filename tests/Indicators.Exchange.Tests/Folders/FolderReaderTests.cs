using System.Globalization;
using System.Text;
using Indicators.Exchange.Folders;
using Indicators.Monitoring;
using NodaTime;
using Xunit;

namespace Indicators.Exchange.Tests.Folders;

public class FolderReaderTests
{
    private const string SurveyHeading = "survey_id,station_id,date,start_time,minutes,observer,air_temp_c,wind_beaufort,sky_code,noise,notes\n";

    private static Problem Only<T>(FolderFile<T> file)
        where T : class => Assert.Single(file.Rows.SelectMany(r => r.Problems));

    private static FolderFile<Survey> Surveys(string content)
    {
        using var folder = new TempFolder().With("surveys.csv", content);
        return folder.Read().Surveys;
    }

    private static FolderFile<CallRow> Calls(string content)
    {
        using var folder = new TempFolder().With("calls.csv", content);
        return folder.Read().Calls;
    }

    [Fact]
    public void Survey_row_gives_every_column_its_type()
    {
        var file = Surveys(SurveyHeading + "S1,ST1,2024-05-02,21:15,5,An Observer,12.5,3,2,1,\"two, boats\"\n");
        Assert.Empty(file.Notes);
        var survey = Assert.Single(file.Rows).Value!;
        Assert.Equal("S1", survey.Id.ToString());
        Assert.Equal(new LocalDate(2024, 5, 2), survey.Date);
        Assert.Equal(new LocalTime(21, 15), survey.StartTime);
        Assert.Equal((5.0, 12.5, 3), (survey.Minutes, survey.AirTempC, survey.WindBeaufort));
        Assert.Equal(("An Observer", "2", "1", "two, boats"), (survey.Observer, survey.SkyCode, survey.Noise, survey.Notes));
    }

    [Fact]
    public void Columns_may_come_in_any_order_and_case_and_only_the_required_ones()
    {
        var survey = Assert.Single(Surveys("DATE,Station_ID,survey_id\n2024-05-02,ST1,S1\n").Rows).Value!;
        Assert.Equal(new LocalDate(2024, 5, 2), survey.Date);
        Assert.Null(survey.Minutes);
    }

    [Theory]
    [InlineData(",")]
    [InlineData(";")]
    [InlineData("\t")]
    public void Delimiter_is_told_from_the_heading(string delimiter)
    {
        var file = Calls($"survey_id,species_id,call_index\nS1,SP1,3\n".Replace(",", delimiter, StringComparison.Ordinal));
        Assert.Equal(3, Assert.Single(file.Rows).Value!.Call.Level.Value);
    }

    [Fact]
    public void Delimiter_is_told_even_when_other_delimiters_stand_in_the_heading()
    {
        var file = Calls("survey_id;species_id;call_index;\"a, b, c, d\"\nS1;SP1;1;x\n");
        Assert.Equal(1, Assert.Single(file.Rows).Value!.Call.Level.Value);
        Assert.Equal(["a, b, c, d"], Assert.Single(file.Notes).Names);
    }

    [Fact]
    public void Byte_order_mark_line_endings_and_empty_lines_change_nothing_but_line_numbers()
    {
        var file = Calls("\uFEFF\r\nsurvey_id,species_id,call_index\r\n\r\nS1,SP1,1\r\n , ,\r\nS1,SP2,9\r\n");
        Assert.Equal([4, 6], file.Rows.Select(r => r.Source.Line));
        Assert.Equal((6, "call_index", "9"), (Only(file).Line, Only(file).Column, Only(file).Value));
    }

    [Fact]
    public void Last_line_without_an_ending_is_read() => Assert.Single(Calls("survey_id,species_id,call_index\nS1,SP1,1").Rows);

    [Fact]
    public void Darwin_Core_headings_serve_as_well()
    {
        using var folder = new TempFolder()
            .With("stations.csv", "locationID,locality,decimalLatitude,decimalLongitude,higherGeographyID,wetland_id\nST1,Reed Bay,45.5,-90.25,990101,W1\n")
            .With("species.csv", "taxonID,scientificName,vernacularName,window_start,window_end,sensitivity,sensitive_location\nSP1,Rana sylvatica,wood frog,03-15,05-15,7,YES\n")
            .With("surveys.csv", "eventID,locationID,eventDate,eventTime,samplingEffort,recordedBy\nS1,ST1,2024-05-03,00:30,5 minutes,A. Nother\nS2,ST1,2024-05-03,21:30,3 min,\n")
            .With("calls.csv", "eventID,taxonID,organismQuantity,organismQuantityType\nS1,SP1,2,call index\n");
        var read = folder.Read();
        Assert.Equal("Reed Bay", Assert.Single(read.Stations.Rows).Value!.Station.Name);
        Assert.True(Assert.Single(read.Species.Rows).Value!.Protected);
        Assert.Equal([new LocalDate(2024, 5, 2), new LocalDate(2024, 5, 3)], read.Surveys.Rows.Select(r => r.Value!.Date));
        Assert.Equal([5.0, 3.0], read.Surveys.Rows.Select(r => r.Value!.Minutes!.Value));
        var note = Assert.Single(read.Surveys.Notes);
        Assert.Equal((ProblemKind.EveningBefore, 1), (note.Kind, note.Count));
        Assert.Equal(2, Assert.Single(read.Calls.Rows).Value!.Call.Level.Value);
        Assert.Equal(["organismQuantityType"], Assert.Single(read.Calls.Notes).Names);
    }

    [Fact]
    public void Plain_date_is_the_evening_already()
    {
        var survey = Assert.Single(Surveys("survey_id,station_id,date,start_time\nS1,ST1,2024-05-02,00:30\n").Rows).Value!;
        Assert.Equal(new LocalDate(2024, 5, 2), survey.Date);
    }

    [Fact]
    public void Unknown_columns_are_noted_and_a_reason_is_passed_over()
    {
        var file = Calls("survey_id,species_id,call_index,colour,reason\nS1,SP1,1,green,\"call_index: was wrong\"\nS1,SP2,1,green\n");
        Assert.Equal(["colour"], Assert.Single(file.Notes).Names);
        Assert.All(file.Rows, r => Assert.NotNull(r.Value));
    }

    [Fact]
    public void File_without_a_required_column_is_refused_and_says_what_was_found()
    {
        var file = Calls("survey_id,species,call_index\nS1,SP1,1\n");
        Assert.Equal(ProblemKind.ColumnsMissing, file.Refusal!.Kind);
        Assert.Equal(["species_id (or taxonID)"], file.Refusal.Names);
        Assert.Equal(["survey_id", "species", "call_index"], file.Refusal.Found);
        Assert.Null(Assert.Single(file.Rows).Value);
    }

    [Fact]
    public void Two_headings_for_one_column_refuse_the_file() =>
        Assert.Equal(["survey_id", "eventID"], Calls("survey_id,eventID,species_id,call_index\n").Refusal!.Names);

    [Theory]
    [InlineData("")]
    [InlineData("\uFEFF")]
    [InlineData("\r\n\n  \n")]
    public void Empty_file_is_refused(string content) => Assert.Equal(ProblemKind.FileEmpty, Calls(content).Refusal!.Kind);

    [Fact]
    public void Heading_alone_is_a_file_without_rows()
    {
        var file = Calls("survey_id,species_id,call_index\n");
        Assert.Null(file.Refusal);
        Assert.Empty(file.Rows);
    }

    [Fact]
    public void Quote_never_closed_refuses_the_file_and_names_the_line_it_opens_on()
    {
        var file = Surveys(SurveyHeading + "S1,ST1,2024-05-02,,,,,,,,ok\nS2,ST1,2024-05-03,,,,,,,,\"no end\nS3,ST1,2024-05-04,,,,,,,,ok\n");
        Assert.Equal((ProblemKind.QuoteNotClosed, 3), (file.Refusal!.Kind, file.Refusal.Line));
    }

    [Fact]
    public void Bytes_that_are_not_utf8_refuse_their_row_alone_and_are_named_by_line_and_place()
    {
        byte[] content = [.. Encoding.UTF8.GetBytes(SurveyHeading + "S1,ST1,2024-05-02,,,Zoë,,,,,\nS2,ST1,2024-05-03,,,Zo"), 0xEB, .. ",,,,,\n"u8];
        using var folder = new TempFolder().With("surveys.csv", content);
        var file = folder.Read().Surveys;
        Assert.Equal("Zoë", file.Rows[0].Value!.Observer);
        Assert.Equal((ProblemKind.RowNotUtf8, 3, 23), (Only(file).Kind, Only(file).Line, Only(file).Count));
        Assert.Equal("S2", file.Rows[1].Key);
    }

    [Fact]
    public void File_in_another_encoding_is_refused_at_its_heading()
    {
        using var folder = new TempFolder().With("calls.csv", [0xFF, 0xFE, .. Encoding.Unicode.GetBytes("survey_id,species_id,call_index\n")]);
        var refusal = folder.Read().Calls.Refusal!;
        Assert.Equal((ProblemKind.FileNotUtf8, 1, 1), (refusal.Kind, refusal.Line, refusal.Count));
    }

    [Theory]
    [InlineData("S1,SP1", 2)]
    [InlineData("S1,SP1,1,extra", 4)]
    public void Row_with_another_number_of_cells_is_refused(string row, int cells)
    {
        var file = Calls($"survey_id,species_id,call_index\n{row}\n");
        Assert.Equal((ProblemKind.CellCount, cells, "3"), (Only(file).Kind, Only(file).Count, Only(file).Rule));
        Assert.Equal("S1", file.Rows[0].Key);
    }

    [Theory]
    [InlineData("date", "02.05.2024")]
    [InlineData("date", "2024-13-01")]
    [InlineData("date", "1899-12-31")]
    [InlineData("date", "")]
    [InlineData("start_time", "9 pm")]
    [InlineData("minutes", "0")]
    [InlineData("minutes", "-5")]
    [InlineData("minutes", "601")]
    [InlineData("minutes", "5,5")]
    [InlineData("minutes", "NaN")]
    [InlineData("air_temp_c", "61")]
    [InlineData("air_temp_c", "-60.5")]
    [InlineData("air_temp_c", "warm")]
    [InlineData("wind_beaufort", "13")]
    [InlineData("wind_beaufort", "-1")]
    [InlineData("wind_beaufort", "2.5")]
    [InlineData("survey_id", " ")]
    [InlineData("station_id", "")]
    public void Survey_value_that_cannot_be_is_refused_with_its_column_and_text(string column, string text)
    {
        var cells = new Dictionary<string, string> { ["survey_id"] = "S1", ["station_id"] = "ST1", ["date"] = "2024-05-02", [column] = text };
        var file = Surveys(string.Join(';', cells.Keys) + "\n" + string.Join(';', cells.Values) + "\n");
        var problem = Only(file);
        Assert.Equal((ProblemKind.Value, 2, column, text.Trim()), (problem.Kind, problem.Line, problem.Column, problem.Value));
        Assert.False(string.IsNullOrEmpty(problem.Rule));
    }

    [Theory]
    [InlineData("minutes", "600")]
    [InlineData("minutes", "0.5")]
    [InlineData("air_temp_c", "-60")]
    [InlineData("air_temp_c", "60")]
    [InlineData("wind_beaufort", "0")]
    [InlineData("wind_beaufort", "12")]
    [InlineData("date", "1900-01-01")]
    [InlineData("date", "2026-06-01")]
    public void Survey_value_at_the_edge_of_its_range_is_taken(string column, string text)
    {
        var cells = new Dictionary<string, string> { ["survey_id"] = "S1", ["station_id"] = "ST1", ["date"] = "2024-05-02", [column] = text };
        Assert.NotNull(Assert.Single(Surveys(string.Join(',', cells.Keys) + "\n" + string.Join(',', cells.Values) + "\n").Rows).Value);
    }

    [Fact]
    public void Date_after_today_is_refused()
    {
        var problem = Only(Surveys("survey_id,station_id,date\nS1,ST1,2026-06-02\n"));
        Assert.Equal((ProblemKind.FutureDate, "2026-06-02", "2026-06-01"), (problem.Kind, problem.Value, problem.Rule));
    }

    [Fact]
    public void Row_with_several_wrong_values_names_each()
    {
        var file = Surveys("survey_id,station_id,date,minutes\nS1,ST1,yesterday,long\n");
        Assert.Equal(["date", "minutes"], file.Rows[0].Problems.Select(p => p.Column));
    }

    [Fact]
    public void Same_id_twice_refuses_all_its_rows_even_when_one_is_refused_already()
    {
        var file = Surveys("survey_id,station_id,date\nS1,ST1,2024-05-02\nS2,ST1,2024-05-02\n S1 ,ST1,bad\n");
        Assert.Equal([null, "S2", null], file.Rows.Select(r => r.Value?.Id.ToString()));
        Assert.Equal([(ProblemKind.IdRepeated, 4)], file.Rows[0].Problems.Select(p => (p.Kind, p.OtherLine!.Value)));
        Assert.Equal([ProblemKind.Value, ProblemKind.IdRepeated], file.Rows[2].Problems.Select(p => p.Kind));
    }

    [Fact]
    public void Same_species_twice_on_one_survey_refuses_both_rows()
    {
        var file = Calls("survey_id,species_id,call_index\nS1,SP1,1\nS2,SP1,1\nS1,SP1,2\n");
        Assert.Equal([false, true, false], file.Rows.Select(r => r.Value is not null));
        Assert.All([file.Rows[0], file.Rows[2]], r => Assert.Equal((ProblemKind.SpeciesRepeated, "SP1"), (r.Problems[0].Kind, r.Problems[0].Value)));
    }

    [Theory]
    [InlineData("station_id,wetland_id,watershed_code,latitude,longitude,weight", "ST1,W1,990101,45,-90,0", "weight")]
    [InlineData("station_id,wetland_id,watershed_code,latitude,longitude,weight", "ST1,W1,990101,45,-90,Infinity", "weight")]
    [InlineData("station_id,wetland_id,watershed_code,latitude,longitude,stop_number", "ST1,W1,990101,45,-90,0", "stop_number")]
    [InlineData("station_id,wetland_id,watershed_code,latitude,longitude", "ST1,W1,99010,45,-90", "watershed_code")]
    [InlineData("station_id,wetland_id,watershed_code,latitude,longitude", "ST1,W1,990101,90.1,-90", "latitude")]
    [InlineData("station_id,wetland_id,watershed_code,latitude,longitude", "ST1,,990101,45,-90", "wetland_id")]
    public void Station_value_that_cannot_be_is_refused(string heading, string row, string column)
    {
        using var folder = new TempFolder().With("stations.csv", $"{heading}\n{row}\n");
        Assert.Equal(column, Only(folder.Read().Stations).Column);
    }

    [Theory]
    [InlineData("true", true)]
    [InlineData("FALSE", false)]
    [InlineData("1", true)]
    [InlineData("0", false)]
    [InlineData("Yes", true)]
    [InlineData("no", false)]
    [InlineData("", false)]
    [InlineData("maybe", null)]
    public void Protected_is_a_yes_or_a_no(string text, bool? expected)
    {
        using var folder = new TempFolder().With("species.csv",
            $"species_id,scientific_name,common_name,window_start,window_end,sensitivity,sensitive_location\nSP1,Rana sylvatica,wood frog,03-15,05-15,7,{text}\n");
        Assert.Equal(expected, folder.Read().Species.Rows[0].Value?.Protected);
    }

    [Fact]
    public void Names_in_other_languages_are_read_by_their_headings()
    {
        using var folder = new TempFolder().With("species.csv",
            "Common_Name_ES,species_id,scientific_name,vernacularName,common_name_de,window_start,window_end,sensitivity,common_name_x,common_name_english\n"
            + "rana de bosque,SP1,Rana sylvatica,wood frog,Waldfrosch,03-15,05-15,7,x,y\n ,SP2,Rana clamitans,green frog,,03-15,05-15,7,x,y\n");
        var file = folder.Read().Species;
        Assert.Equal(OtherNames.Of([new("de", "Waldfrosch"), new("es", "rana de bosque")]), file.Rows[0].Value!.OtherNames);
        Assert.Equal(OtherNames.None, file.Rows[1].Value!.OtherNames);
        Assert.Equal(["common_name_x", "common_name_english"], Assert.Single(file.Notes).Names);
        using var twice = new TempFolder().With("species.csv",
            "species_id,scientific_name,common_name,common_name_es,common_name_ES,window_start,window_end,sensitivity\nSP1,Rana sylvatica,wood frog,a,b,03-15,05-15,7\n");
        Assert.Equal(ProblemKind.ColumnRepeated, twice.Read().Species.Refusal!.Kind);
    }

    [Fact]
    public void Expected_row_has_both_ends_of_a_window_or_neither()
    {
        using var folder = new TempFolder().With("expected.csv",
            "watershed_code,species_id,window_start,window_end\n99,SP1,,\n9901,SP1,11-15,02-10\n9902,SP1,11-15,\n99,SP1,,\n");
        var rows = folder.Read().Expected.Rows;
        Assert.Equal([null, true, null, null], rows.Select(r => r.Value?.Window?.Wraps));
        Assert.Equal(("window_end", ""), (rows[2].Problems[0].Column, rows[2].Problems[0].Value));
        Assert.Equal(ProblemKind.IdRepeated, rows[0].Problems[0].Kind);
        Assert.Equal(ProblemKind.IdRepeated, rows[3].Problems[0].Kind);
    }

    [Fact]
    public void Folder_that_is_missing_or_holds_nothing_of_ours_is_a_failure()
    {
        using var folder = new TempFolder().With("survey.csv", "x\n");
        Assert.Equal(ProblemKind.FolderWithoutFiles, folder.TryRead().Failure!.Kind);
        Directory.Delete(folder.Path, recursive: true);
        Assert.Equal(ProblemKind.FolderMissing, folder.TryRead().Failure!.Kind);
    }

    [Fact]
    public void File_of_another_name_is_noted_and_case_of_names_does_not_matter()
    {
        using var folder = new TempFolder().With("survey.csv", "x\n").With("CALLS.CSV", "survey_id,species_id,call_index\nS1,SP1,1\n").With("readme.md", "x");
        var read = folder.Read();
        Assert.Equal((ProblemKind.FileIgnored, "survey.csv"), (Assert.Single(read.Notes).Kind, read.Notes[0].File));
        Assert.Equal("CALLS.CSV", read.Calls.Name);
        Assert.Single(read.Calls.Rows);
    }

    [Fact]
    public void Progress_ends_with_all_bytes_read()
    {
        const string Calls = "survey_id,species_id,call_index\nS1,SP1,1\n";
        const string Watersheds = "watershed_code,name\n99,Here\n";
        using var folder = new TempFolder().With("calls.csv", Calls).With("watersheds.csv", Watersheds);
        var reports = new List<FolderProgress>();
        var options = new FolderReadOptions(DateTimeZone.Utc, new LocalDate(2026, 6, 1));
        FolderReader.Read(folder.Path, options, new Listener(reports.Add), TestContext.Current.CancellationToken);
        long total = Calls.Length + Watersheds.Length;
        Assert.Equal(new FolderProgress("calls.csv", total, total), reports[^1]);
        Assert.Equal(reports.Select(r => r.BytesRead).Order(), reports.Select(r => r.BytesRead));
    }

    [Fact]
    public void Numbers_are_read_with_a_point_under_a_comma_decimal_culture()
    {
        var before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo("de-DE");
            Assert.Equal(12.5, double.Parse("12,5", CultureInfo.CurrentCulture));
            var rows = Surveys("survey_id;station_id;date;air_temp_c\nS1;ST1;2024-05-02;12.5\nS2;ST1;2024-05-02;12,5\n").Rows;
            Assert.Equal(12.5, rows[0].Value!.AirTempC);
            Assert.Equal("12,5", rows[1].Problems[0].Value);
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    private sealed class Listener(Action<FolderProgress> report) : IProgress<FolderProgress>
    {
        public void Report(FolderProgress value) => report(value);
    }
}
