using System.Globalization;
using System.Text;
using Indicators.Analysis.Results;
using Indicators.Exchange.Export;
using Indicators.Statistics.Pooling;
using Indicators.Storage.Tests;
using NodaTime;
using Xunit;

namespace Indicators.Application.Tests.Export;

public sealed class ExportTests
{
    [Fact]
    public async Task Trends_have_these_columns_in_this_order()
    {
        var trend = new Trend
        {
            Area = Invented.Code("0701"),
            Species = Invented.Frog("wood"),
            Status = TrendStatus.Estimated,
            FirstSeason = 2012,
            LastSeason = 2026,
            PercentPerSeason = -4.25,
            Lower = -6.000000000000001,
            Upper = null,
            Interval = IntervalKind.ObservedChange,
            Direction = Direction.Down,
            Clusters = 7,
            Stations = 8,
            Surveys = 240,
            UpperUnderlying = -0.5,
            SeasonSd = 0.125,
        };
        Assert.Equal(
            """
            watershed_code,species_id,first_season,last_season,percent_per_season,lower,upper,direction,interval,clusters,stations,surveys,lower_underlying,upper_underlying,season_sd
            0701,wood,2012,2026,-4.25,-6.000000000000001,,down,observed_change,7,8,240,,-0.5,0.125

            """,
            await Csv(ExportTables.Trends([trend])));
        Assert.Equal(
            """
            [
            {"watershed_code":"0701","species_id":"wood","first_season":2012,"last_season":2026,"percent_per_season":-4.25,"lower":-6.000000000000001,"upper":null,"direction":"down","interval":"observed_change","clusters":7,"stations":8,"surveys":240,"lower_underlying":null,"upper_underlying":-0.5,"season_sd":0.125}
            ]

            """,
            await Json(ExportTables.Trends([trend])));
    }

    [Fact]
    public async Task Indices_have_these_columns_in_this_order()
    {
        var point = new IndexPoint
        {
            Area = Invented.Code("0701"),
            Species = Invented.Frog("wood"),
            Season = 2012,
            Status = IndexStatus.Estimated,
            Index = 0,
            Lower = 0,
            Upper = null,
            Stations = 3,
            Surveys = 9,
        };
        Assert.Equal(
            """
            watershed_code,species_id,season,index,lower,upper,stations,surveys
            0701,wood,2012,0,0,,3,9

            """,
            await Csv(ExportTables.Indices([point])));
    }

    [Fact]
    public async Task Conditions_and_their_lines_have_these_columns_in_this_order()
    {
        Condition[] conditions =
        [
            new Condition { Area = Invented.Code("0701"), Season = 2012, Lacks = ScoreLack.EarlySeason },
            new Condition
            {
                Area = Invented.Code("0701"),
                Season = 2014,
                Lacks = ScoreLack.None,
                Score = 72.5,
                Lower = 60,
                Upper = 81.25,
                Class = ConditionClass.Fair,
                PresencePart = 80,
                SensitivityPart = 75,
                CallingPart = 100,
                DirectionPart = 18.125,
                PresenceRawPart = 70,
                SensitivityRawPart = 65.5,
                Lines =
                [
                    new ConditionLine(ScorePart.Presence, Invented.Frog("wood"), -6, 1.5),
                    new ConditionLine(ScorePart.Calling, null, -21.5, null),
                ],
            },
        ];
        Assert.Equal(
            """
            watershed_code,season,score,lower,upper,class,presence_part,sensitivity_part,calling_part,direction_part,presence_raw_part,sensitivity_raw_part
            0701,2012,,,,,,,,,,
            0701,2014,72.5,60,81.25,fair,80,75,100,18.125,70,65.5

            """,
            await Csv(ExportTables.Conditions(conditions)));
        Assert.Equal(
            """
            watershed_code,season,part,species_id,points,change
            0701,2014,presence,wood,-6,1.5
            0701,2014,calling,,-21.5,

            """,
            await Csv(ExportTables.ConditionLines(conditions)));
    }

    [Fact]
    public async Task Occupancy_and_silences_have_these_columns_in_this_order()
    {
        var (area, wood) = (Invented.Code("0701"), Invented.Frog("wood"));
        Assert.Equal(
            "watershed_code,species_id,season,wetlands,wetlands_heard,raw_share,psi,lower,upper,basis\n0701,wood,2012,12,3,0.25,0.5,0.25,0.75,many_seasons\n",
            await Csv(ExportTables.Occupancy([new OccupancyPoint(area, wood, 2012, 12, 3, 0.25, 0.5, 0.25, 0.75, OccupancyBasis.ManySeasons)])));
        Assert.Equal(
            "watershed_code,species_id,basis,wetlands,wetlands_heard,visits,colonisation,colonisation_lower,colonisation_upper,extinction,extinction_lower,extinction_upper,visits_for_absence\n"
            + "0701,wood,few_wetlands,4,2,30,,,,,,,\n",
            await Csv(ExportTables.OccupancyRates([new OccupancyRates { Area = area, Species = wood, Basis = OccupancyBasis.FewWetlands, Wetlands = 4, WetlandsHeard = 2, Visits = 30 }])));
        Assert.Equal(
            "watershed_code,species_id,part,visits,detections,p,standard_error,lower,upper,visits_for_absence,visits_for_absence_cautious\n0701,wood,late,40,,0.5,0.125,0.25,0.75,5,11\n",
            await Csv(ExportTables.Detection([new DetectionRate(area, wood, WindowPart.Late, 40, null, 0.5, 0.125, 0.25, 0.75, 5, 11)])));
        var silence = new StationSilence
        {
            Area = area,
            Kind = SilenceKind.GoneQuiet,
            Rank = 1,
            Station = Invented.Station("00T1"),
            Species = wood,
            HeardSeason = 2019,
            SilentVisits = 9,
            SilentSeasons = 3,
            Visits = 40,
            VisitsHeard = 20,
            Chance = 0.001,
        };
        Assert.Equal(
            "watershed_code,kind,rank,station_id,species_id,heard_season,silent_visits,silent_seasons,visits,visits_heard,chance,chance_present\n0701,gone_quiet,1,00T1,wood,2019,9,3,40,20,0.001,\n",
            await Csv(ExportTables.Silence([silence])));
        Assert.Equal(
            "watershed_code,kind,tested,listed,expected_by_chance\n0701,newly_heard,30,2,1.5\n",
            await Csv(ExportTables.SilenceTally([new SilenceTally(area, SilenceKind.NewlyHeard, 30, 2, 1.5)])));
    }

    [Fact]
    public async Task Group_and_effort_have_these_columns_in_this_order()
    {
        var group = new GroupIndexPoint { Area = Invented.Code("0701"), Season = 2013, Index = 99.5, Lower = 80, Upper = 120, Species = 6 };
        Assert.Equal(
            "watershed_code,season,index,lower,upper,species,group\n0701,2013,99.5,80,120,6,all\n",
            await Csv(ExportTables.Group([group])));
        var trend = new GroupTrend { Area = Invented.Code("0701"), Group = SpeciesGroup.HighConservatism, Species = 3, PercentPerSeason = -2.5, Direction = Direction.Down };
        Assert.Equal(
            """
            watershed_code,group,species,percent_per_season,lower_underlying,upper_underlying,direction,probability_of_decline,two_way_lower,two_way_upper
            0701,high_conservatism,3,-2.5,,,down,,,

            """,
            await Csv(ExportTables.GroupTrends([trend])));
        Assert.Equal(
            "watershed_code,season,stations,wetlands,surveys\n0701,2013,4,3,12\n",
            await Csv(ExportTables.Effort([new SeasonEffort(Invented.Code("0701"), 2013, 4, 3, 12)])));
    }

    [Fact]
    public async Task Pooled_shrunken_and_rolled_up_tables_leave_the_whole_programmes_parent_empty()
    {
        var pooled = new PooledTrend
        {
            Level = 8, Species = Invented.Frog("wood"), Method = BetweenVarianceMethod.RestrictedMaximumLikelihood, Areas = 9, PercentPerSeason = -1.5,
            Lower = -2, Upper = -1, PredictionLower = -4, PredictionUpper = 1, Tau = 0.01, TauLower = 0, TauUpper = 0.02, ISquared = 0.5, Q = 16, SharedSeasonSd = 0.25, SeasonCorrelation = 0.375,
        };
        var shrunken = new ShrunkenTrend
        {
            Parent = Invented.Code("07"), Area = Invented.Code("0701"), Species = pooled.Species, RawPercent = -6, PercentPerSeason = -2.5, Lower = -5, Upper = 0.5, OwnShare = 0.125,
        };
        var rollUp = new RollUp { Area = Invented.Code("07"), Species = pooled.Species, Season = 2013, DirectIndex = 90, RolledUpIndex = 95.5, Areas = 2, StationShare = 1 };
        Assert.Equal(
            """
            parent_code,level,species_id,method,areas,percent_per_season,lower,upper,prediction_lower,prediction_upper,tau,tau_lower,tau_upper,i_squared,q,shared_season_sd,season_correlation
            ,8,wood,restricted_maximum_likelihood,9,-1.5,-2,-1,-4,1,0.01,0,0.02,0.5,16,0.25,0.375

            """,
            await Csv(PoolingExports.Pooled([pooled])));
        Assert.Equal(
            "parent_code,watershed_code,species_id,raw_percent,raw_lower,raw_upper,percent_per_season,lower,upper,own_share\n07,0701,wood,-6,,,-2.5,-5,0.5,0.125\n",
            await Csv(PoolingExports.Shrunken([shrunken])));
        Assert.Equal(
            "watershed_code,species_id,season,direct_index,rolled_up_index,difference,areas,station_share\n07,wood,2013,90,95.5,5.5,2,1\n",
            await Csv(PoolingExports.RollUp([rollUp])));
    }

    [Fact]
    public async Task Influence_tells_the_grade_and_its_reasons_in_codes()
    {
        var evidence = new SeriesEvidence
        {
            Area = Invented.Code("0701"), Species = Invented.Frog("wood"), Grade = Evidence.Thin, Reasons = EvidenceReason.FewSeasons | EvidenceReason.Scattered,
            LeaveOneOutChange = -0.5, LeftOut = Invented.Pond("W2"), LeftOutStations = 2, SignHolds = false, Dispersion = 3.5, DispersionDf = 40,
            ZeroCellShare = 0.25, Seasons = 7, OneStationSeasons = 1, CeilingShare = 0.125, Observers = 4, NewObserverShare = 0.75, OutsideProtocolShare = 0,
        };
        var nothing = new SeriesEvidence { Area = evidence.Area, Species = Invented.Frog("marsh"), Grade = Evidence.WellSupported, Reasons = EvidenceReason.None };
        Assert.Equal(
            """
            watershed_code,species_id,evidence,reasons,leave_one_out_change,left_out,left_out_stations,sign_holds,dispersion,dispersion_df,zero_cell_share,seasons,one_station_seasons,ceiling_share,observers,new_observer_share,outside_protocol_share
            0701,wood,thin,few_seasons scattered,-0.5,W2,2,false,3.5,40,0.25,7,1,0.125,4,0.75,0
            0701,marsh,well_supported,,,,,,,,,0,,,,,

            """,
            await Csv(ExportTables.Influence([evidence, nothing])));
    }

    [Fact]
    public async Task Trend_checks_say_why_there_is_none_and_what_other_means_give()
    {
        var trend = new Trend
        {
            Area = Invented.Code("0701"), Species = Invented.Frog("wood"), Status = TrendStatus.Estimated, Interval = IntervalKind.ObservedChange, InformativeClusters = 9,
            SilentStations = 2, Resamples = 1999, LowerMonteCarloError = 0.0625, UpperMonteCarloError = 0.125, BcaLower = -3.5, BcaUpper = 1.5, JackknifeLower = -4,
            JackknifeUpper = 2, EqualStationsPercent = -0.5,
        };
        var none = new Trend { Area = trend.Area, Species = Invented.Frog("marsh"), Status = TrendStatus.OnlyInFirstSeasons, Interval = IntervalKind.NoEstimate, InformativeClusters = 1 };
        Assert.Equal(
            """
            watershed_code,species_id,status,informative_clusters,silent_stations,resamples,lower_monte_carlo_error,upper_monte_carlo_error,bca_lower,bca_upper,jackknife_lower,jackknife_upper,percent_equal_stations
            0701,wood,estimated,9,2,1999,0.0625,0.125,-3.5,1.5,-4,2,-0.5
            0701,marsh,only_in_first_seasons,1,,,,,,,,,

            """,
            await Csv(ExportTables.TrendChecks([trend, none])));
    }

    [Fact]
    public async Task Surveys_have_a_row_a_call_and_a_silent_night_one_row()
    {
        var night = new PublishedSurvey(
            Invented.Survey("s,1"),
            Invented.Station("001"),
            Invented.Pond("W \"1\""),
            Invented.Code("0701"),
            new LocalDate(2020, 4, 5),
            new LocalTime(21, 5),
            5,
            -1.5,
            2,
            "1",
            " two\nlines",
            [.. Invented.Loud.Calls]);
        var silent = night with { Id = Invented.Survey("s2"), StartTime = null, Minutes = null, AirTempC = null, WindBeaufort = null, SkyCode = null, Noise = null, Calls = [] };
        Assert.Equal(
            """"
            survey_id,station_id,wetland_id,watershed_code,date,start_time,minutes,air_temp_c,wind_beaufort,sky_code,noise,species_id,call_index
            "s,1",001,"W ""1""",0701,2020-04-05,21:05,5,-1.5,2,1," two
            lines",marsh,3
            "s,1",001,"W ""1""",0701,2020-04-05,21:05,5,-1.5,2,1," two
            lines",wood,1
            s2,001,"W ""1""",0701,2020-04-05,,,,,,,,

            """",
            await Csv(ExportTables.Surveys([night, silent])));
        Assert.EndsWith(
            "\"noise\":null,\"species_id\":null,\"call_index\":null}\n]\n",
            await Json(ExportTables.Surveys([silent])),
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task Nothing_to_write_is_a_heading_or_an_empty_array()
    {
        Assert.Equal("watershed_code,season,stations,wetlands,surveys\n", await Csv(ExportTables.Effort([])));
        Assert.Equal("[\n]\n", await Json(ExportTables.Effort([])));
    }

    [Fact]
    public async Task Real_numbers_read_back_to_the_last_bit_and_none_is_a_word()
    {
        double[] numbers = [1.0 / 3, 0.1 + 0.2, double.Epsilon, double.MaxValue, 1e-5, 123456789012345680];
        var table = new ExportTable("numbers", ["x"], numbers.Select(number => (IReadOnlyList<object?>)[number]));
        Assert.Equal(numbers, (await Csv(table)).Split('\n')[1..^1].Select(text => double.Parse(text, CultureInfo.InvariantCulture)));
        var odd = new ExportTable("odd", ["x", "y"], [[double.NaN, -0.0], [double.PositiveInfinity, null]]);
        Assert.Equal("x,y\n,0\n,\n", await Csv(odd));
        Assert.Equal("[\n{\"x\":null,\"y\":0},\n{\"x\":null,\"y\":null}\n]\n", await Json(odd));
    }

    [Fact]
    public async Task Long_table_is_written_whole_in_parts()
    {
        var rows = Enumerable.Range(0, 50_000).Select(i => (IReadOnlyList<object?>)[i, "é"]);
        string text = await Csv(new ExportTable("long", ["n", "letter"], rows));
        Assert.Equal(50_002, text.Split('\n').Length);
        Assert.EndsWith("\n49999,é\n", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Codes_in_files_are_these()
    {
        Assert.Equal(["unclear", "up", "down", "steady"], Codes<Direction>());
        Assert.Equal(["poor", "fair", "good"], Codes<ConditionClass>());
        Assert.Equal(["presence", "sensitivity", "calling", "direction"], Codes<ScorePart>());
        Assert.Equal(
            ["observed_change", "observed_change_stations", "no_estimate", "few_clusters", "few_seasons", "lost_resamples"],
            Codes<IntervalKind>());
        Assert.Equal(Enum.GetValues<IntervalKind>(), Codes<IntervalKind>().Select(ResultCode.Read<IntervalKind>));
        Assert.Throws<FormatException>(() => ResultCode.Read<Direction>("sideways"));
    }

    private static IEnumerable<string> Codes<T>()
        where T : struct, Enum => Enum.GetValues<T>().Select(ResultCode.Of);

    private static Task<string> Csv(ExportTable table) => Written(table, ExportFormat.Csv);

    private static Task<string> Json(ExportTable table) => Written(table, ExportFormat.Json);

    private static async Task<string> Written(ExportTable table, ExportFormat format)
    {
        using var stream = new MemoryStream();
        await TableWriter.WriteAsync(table, format, stream, TestContext.Current.CancellationToken);
        return Encoding.UTF8.GetString(stream.ToArray());
    }
}
