using System.Globalization;
using CsCheck;
using NodaTime;
using Xunit;

namespace Indicators.Monitoring.Tests;

public class FieldTypesTests
{
    private static CallingWindow Window(string first, string last) => new(CallingWindow.ParseDay(first).Value, CallingWindow.ParseDay(last).Value);

    /// <summary>The example of nesting of the U.S. Watershed Boundary Dataset: 170601020101 in 1706010201, 17060102, 170601, 1706 and 17.</summary>
    [Fact]
    public void Watershed_code_nests_by_two_digits()
    {
        var code = WatershedCode.Parse("170601020101").Value;
        Assert.Equal(["170601020101", "1706010201", "17060102", "170601", "1706", "17"], code.SelfAndAncestors().Select(c => c.ToString()));
        Assert.Equal("17060102", code.AtLevel(8).ToString());
        Assert.Null(code.AtLevel(8)!.Value.AtLevel(10));
        Assert.Null(code.AtLevel(7));
        Assert.Null(WatershedCode.Parse("17").Value.Parent);
        Assert.True(code.IsWithin(code));
        Assert.True(code.IsWithin(WatershedCode.Parse("17").Value));
        Assert.False(code.IsWithin(WatershedCode.Parse("18").Value));
    }

    [Theory]
    [InlineData("09", true)]
    [InlineData(" 0102 ", true)]
    [InlineData("9", false)]
    [InlineData("123", false)]
    [InlineData("12345678901234", false)]
    [InlineData("12a4", false)]
    [InlineData("１２", false)]
    [InlineData("", false)]
    [InlineData("-1", false)]
    public void Watershed_code_is_an_even_number_of_digits_and_keeps_leading_zeros(string text, bool valid)
    {
        var code = WatershedCode.Parse(text);
        Assert.Equal(valid, code.IsValid);
        if (valid) Assert.Equal(text.Trim(), code.Value.ToString());
    }

    [Fact]
    public void Watershed_codes_order_a_parent_before_what_lies_in_it()
    {
        string[] codes = ["9902", "99", "990101", "9901", "98"];
        Assert.Equal(["98", "99", "9901", "990101", "9902"], codes.Select(c => WatershedCode.Parse(c).Value).Order().Select(c => c.ToString()));
    }

    [Theory]
    [InlineData("04-01", "06-15", "2024-04-01", 2024)]
    [InlineData("04-01", "06-15", "2024-06-15", 2024)]
    [InlineData("04-01", "06-15", "2024-06-16", null)]
    [InlineData("04-01", "06-15", "2024-03-31", null)]
    [InlineData("11-15", "02-10", "2024-11-15", 2024)]
    [InlineData("11-15", "02-10", "2024-12-31", 2024)]
    [InlineData("11-15", "02-10", "2025-01-01", 2024)]
    [InlineData("11-15", "02-10", "2025-02-10", 2024)]
    [InlineData("11-15", "02-10", "2025-02-11", null)]
    [InlineData("11-15", "02-10", "2024-11-14", null)]
    [InlineData("05-01", "05-01", "2024-05-01", 2024)]
    [InlineData("02-01", "02-29", "2023-02-28", 2023)]
    [InlineData("02-01", "02-29", "2024-02-29", 2024)]
    [InlineData("02-01", "02-28", "2024-02-29", null)]
    [InlineData("01-01", "12-31", "2024-02-29", 2024)]
    public void Calling_window_says_which_season_a_date_belongs_to(string first, string last, string date, int? season)
    {
        var window = Window(first, last);
        var day = NodaTime.Text.LocalDatePattern.Iso.Parse(date).Value;
        Assert.Equal(season, window.SeasonOf(day));
        Assert.Equal(season is not null, window.Contains(day));
    }

    /// <summary>Walking day by day from the window's opening to its close must meet exactly the days that it contains.</summary>
    [Fact]
    public void Calling_window_holds_the_days_that_a_walk_through_it_meets()
    {
        var days = Gen.Int[0, 364].Select(d => new LocalDate(2023, 1, 1).PlusDays(d));
        for (uint number = 0; number < 300; number++)
        {
            var (first, last) = Gen.Select(days, days).Generate(new PCG(number, 99), null, out _);
            var window = new CallingWindow(new AnnualDate(first.Month, first.Day), new AnnualDate(last.Month, last.Day));
            var close = last < first ? last.PlusYears(1) : last;
            var walked = new HashSet<LocalDate>();
            for (var day = first; day <= close; day = day.PlusDays(1)) walked.Add(day);
            for (var day = first; day < first.PlusYears(1); day = day.PlusDays(1))
                Assert.Equal(walked.Contains(day) ? 2023 : null, window.SeasonOf(day));
        }
    }

    [Theory]
    [InlineData("4-1")]
    [InlineData("13-01")]
    [InlineData("02-30")]
    [InlineData("")]
    [InlineData("April 1")]
    public void Day_of_the_year_is_month_and_day(string text) => Assert.False(CallingWindow.ParseDay(text).IsValid);

    [Theory]
    [InlineData("0", 0)]
    [InlineData(" 3 ", 3)]
    [InlineData("4", null)]
    [InlineData("-1", null)]
    [InlineData("1.0", null)]
    [InlineData("two", null)]
    [InlineData("", null)]
    [InlineData("99999999999", null)]
    public void Call_level_is_zero_to_three(string text, int? level)
    {
        var parsed = CallLevel.Parse(text);
        Assert.Equal(level, parsed.IsValid ? parsed.Value.Value : null);
    }

    [Fact]
    public void Call_level_says_what_would_be_right()
    {
        Assert.Equal("'7' is not a call level: give 0 (not heard), 1 (calls with gaps), 2 (calls overlap) or 3 (full chorus).", CallLevel.Parse("7").Problem!.Sentence);
        Assert.Equal("A call level is missing: give 0 (not heard), 1 (calls with gaps), 2 (calls overlap) or 3 (full chorus).", CallLevel.Parse("").Problem!.Sentence);
        Assert.Throws<InvalidOperationException>(() => CallLevel.Parse("7").Value);
    }

    [Theory]
    [InlineData("ST-01", "ST-01")]
    [InlineData("  007 ", "007")]
    [InlineData("née", "née")]
    [InlineData("", null)]
    [InlineData("   ", null)]
    [InlineData("a\tb", null)]
    [InlineData("a\uFFFDb", null)]
    public void Id_is_text_without_control_characters(string text, string? id)
    {
        var parsed = Id<Station>.Parse(text);
        Assert.Equal(id, parsed.IsValid ? parsed.Value.ToString() : null);
    }

    [Fact]
    public void Id_has_64_characters_at_most_and_is_ordered_ordinally()
    {
        Assert.True(Id<Survey>.Parse(new string('x', 64)).IsValid);
        Assert.Equal("a survey id", Id<Survey>.Parse(new string('x', 65)).Problem!.Thing);
        Assert.True(Id<Survey>.Parse("S10").Value.CompareTo(Id<Survey>.Parse("S9").Value) < 0);
        Assert.NotEqual(Id<Survey>.Parse("s1").Value, Id<Survey>.Parse("S1").Value);
    }

    [Theory]
    [InlineData("0", 0.0)]
    [InlineData("10", 10.0)]
    [InlineData("7.5", 7.5)]
    [InlineData("10.01", null)]
    [InlineData("-0.1", null)]
    [InlineData("7,5", null)]
    [InlineData("NaN", null)]
    public void Coefficient_of_conservatism_is_zero_to_ten(string text, double? value)
    {
        var parsed = Conservatism.Parse(text);
        Assert.Equal(value, parsed.IsValid ? parsed.Value.Value : null);
    }

    [Theory]
    [InlineData("90", true)]
    [InlineData("-90.0001", false)]
    [InlineData("NaN", false)]
    [InlineData("45,5", false)]
    [InlineData("45° N", false)]
    public void Latitude_is_decimal_degrees(string text, bool valid) => Assert.Equal(valid, GeoPoint.ParseLatitude(text).IsValid);

    [Theory]
    [InlineData("-180", true)]
    [InlineData("180.5", false)]
    public void Longitude_is_decimal_degrees(string text, bool valid) => Assert.Equal(valid, GeoPoint.ParseLongitude(text).IsValid);

    [Fact]
    public void Point_out_of_range_cannot_be_made()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => GeoPoint.At(double.NaN, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => GeoPoint.At(0, -180.1));
        Assert.Throws<ArgumentOutOfRangeException>(() => Effort.Of(-1));
        Assert.Equal(3, Effort.Of(3).Surveys);
    }

    [Fact]
    public void Numbers_are_read_with_a_point_under_a_comma_decimal_culture()
    {
        var before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo("de-DE");
            Assert.Equal("1,5", 1.5.ToString("R", CultureInfo.CurrentCulture));
            Assert.Equal(45.5, GeoPoint.ParseLatitude("45.5").Value);
            Assert.Equal(7.5, Conservatism.Parse("7.5").Value.Value);
            Assert.False(Conservatism.Parse("7,5").IsValid);
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    [Fact]
    public void Default_protocol_names_a_source_for_every_limit()
    {
        var protocol = Protocol.Default;
        Assert.Equal((5.0, 30, new LocalTime(1, 0)), (protocol.MinimumMinutes!.Value, protocol.EarliestMinutesAfterSunset!.Value, protocol.LatestStart!.Value));
        Assert.All([protocol.MinimumMinutes.Source, protocol.EarliestMinutesAfterSunset.Source, protocol.LatestStart.Source], s => Assert.NotEmpty(s));
    }

    [Fact]
    public void Run_of_a_date_may_wrap_the_year()
    {
        var protocol = new Protocol { Name = "winter", Runs = [new ProtocolRun("winter", new AnnualDate(12, 1), new AnnualDate(1, 31), null)] };
        Assert.Equal("winter", protocol.RunOf(new LocalDate(2025, 1, 31))?.Name);
        Assert.Null(protocol.RunOf(new LocalDate(2025, 2, 1)));
    }

    [Fact]
    public void Problem_kinds_weigh_what_their_words_say()
    {
        Assert.Equal(ProblemSeverity.Failure, ProblemKind.FolderMissing.Severity());
        Assert.Equal(ProblemSeverity.Refusal, ProblemKind.Conflict.Severity());
        Assert.Equal(ProblemSeverity.Warning, ProblemKind.ProtocolNotKept.Severity());
        Assert.Equal(ProblemSeverity.Note, ProblemKind.EveningBefore.Severity());
        Assert.All(Enum.GetValues<ProblemKind>().Where(k => k.IsConsequence()), k => Assert.Equal(ProblemSeverity.Refusal, k.Severity()));
    }
}
