using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using NodaTime;
using Xunit;
using static Indicators.Analysis.Tests.Programmes;

namespace Indicators.Analysis.Tests;

public sealed class PlacesTests
{
    [Fact]
    public void Wetland_where_only_a_protected_species_was_heard_looks_like_a_silent_one()
    {
        var silent = Prepared(protectedHeard: false);
        var heard = Prepared(protectedHeard: true);
        Assert.Equal(silent.Places().Wetlands, heard.Places().Wetlands);
        Assert.Equal(silent.Places().Seasons, heard.Places().Seasons);
        Assert.Equal(silent.Places().Calls, heard.Places().Calls);
        Assert.Equal(silent.Places().Gazetteer, heard.Places().Gazetteer);
        Assert.DoesNotContain(heard.Places().Calls, calls => calls.Species == SpeciesId("secret") || calls.Wetland == WetlandId("w0"));
        Assert.Equal(CallingTimes(silent), CallingTimes(heard));
    }

    [Fact]
    public void Protected_species_has_its_window_and_no_day_heard()
    {
        var heard = Drawn(5, ["9901"], 9, 6, Frog("common"), Frog("secret", isProtected: true));
        var times = CallingTimes(ProgrammeAnalysis.Prepare(heard, new ProgrammeSettings(), new RunOptions { Resamples = 20 }));
        var secret = times.Single(time => time.Species == SpeciesId("secret"));
        Assert.Equal(new CallingWindow(new AnnualDate(4, 1), new AnnualDate(7, 31)), secret.Window);
        Assert.Equal((null, null, null, null), (secret.FirstHeard, secret.MedianHeard, secret.LastHeard, secret.SurveysHeard));
    }

    [Fact]
    public void Watershed_named_after_a_protected_species_goes_by_its_code()
    {
        var data = Drawn(5, ["9901", "9902"], 9, 3, Frog("common"), Frog("secret", isProtected: true)) with
        {
            Watersheds = [new Watershed(Code("9901"), "Upper Secret Creek"), new Watershed(Code("9902"), "Lower Creek")],
        };
        var analysis = ProgrammeAnalysis.Prepare(data, new ProgrammeSettings(), new RunOptions { Resamples = 20 });
        Assert.Equal([null, "Lower Creek"], new[] { "9901", "9902" }.Select(code => analysis.Analyse(Code(code), 1, TestContext.Current.CancellationToken).Area.Name));
    }

    [Fact]
    public void Days_heard_are_the_first_middle_and_last_over_all_seasons()
    {
        // Heard on 9 April, 2 May, 5 May and 20 May of different years; the earlier of the two in the middle is 2 May.
        var time = CallingTimes(Prepared(protectedHeard: false)).Single(each => each.Species == SpeciesId("common"));
        Assert.Equal((new AnnualDate(4, 9), new AnnualDate(5, 2), new AnnualDate(5, 20)), (time.FirstHeard, time.MedianHeard, time.LastHeard));
        Assert.Equal(4, time.SurveysHeard);
    }

    [Fact]
    public void Days_heard_run_over_new_year_where_a_window_does()
    {
        var winter = Frog("winter", window: new CallingWindow(new AnnualDate(11, 1), new AnnualDate(2, 28)));
        var data = Data(
            [Pond("s", "w", "99")], [winter],
            [Listen("a", "s", new LocalDate(2019, 12, 20), ("winter", 1)), Listen("b", "s", new LocalDate(2020, 2, 3), ("winter", 1)), Listen("c", "s", new LocalDate(2020, 11, 30), ("winter", 2))]);
        var time = Assert.Single(CallingTimes(ProgrammeAnalysis.Prepare(data, new ProgrammeSettings(), new RunOptions { Resamples = 20 })));
        Assert.Equal((new AnnualDate(11, 30), new AnnualDate(12, 20), new AnnualDate(2, 3)), (time.FirstHeard, time.MedianHeard, time.LastHeard));
    }

    [Fact]
    public void Days_heard_of_a_summer_species_stay_in_order_beside_one_whose_window_runs_over_new_year()
    {
        var winter = Frog("winter", window: new CallingWindow(new AnnualDate(11, 1), new AnnualDate(2, 28)));
        var summer = Frog("summer", window: new CallingWindow(new AnnualDate(5, 15), new AnnualDate(8, 10)));
        // Open all year, from midsummer on: its year begins where its window does.
        var always = Frog("always", window: new CallingWindow(new AnnualDate(6, 15), new AnnualDate(6, 14)));
        var data = Data(
            [Pond("s", "w", "99")], [winter, summer, always],
            [
                Listen("a", "s", new LocalDate(2019, 6, 20), ("summer", 1), ("always", 1)), Listen("b", "s", new LocalDate(2020, 7, 10), ("summer", 1)),
                Listen("c", "s", new LocalDate(2021, 8, 2), ("summer", 2)), Listen("d", "s", new LocalDate(2021, 1, 9), ("winter", 2), ("always", 1)),
            ]);
        var times = CallingTimes(ProgrammeAnalysis.Prepare(data, new ProgrammeSettings(), new RunOptions { Resamples = 20 })).ToDictionary(time => time.Species.ToString());
        Assert.Equal((new AnnualDate(6, 20), new AnnualDate(7, 10), new AnnualDate(8, 2)), (times["summer"].FirstHeard, times["summer"].MedianHeard, times["summer"].LastHeard));
        Assert.Equal((new AnnualDate(6, 20), new AnnualDate(1, 9)), (times["always"].FirstHeard, times["always"].LastHeard));
    }

    [Theory]
    [InlineData("10-01", "12-20", "11-01", "03-01", "10-01", "03-01")]
    [InlineData("01-15", "04-30", "11-01", "03-01", "11-01", "04-30")]
    [InlineData("03-20", "05-10", "04-01", "06-01", "03-20", "06-01")]
    public void Windows_that_differ_are_joined_from_the_earliest_first_to_the_latest_last_day(string first, string last, string ownFirst, string ownLast, string joinedFirst, string joinedLast)
    {
        static CallingWindow Window(string from, string to) => new(CallingWindow.ParseDay(from).Value, CallingWindow.ParseDay(to).Value);
        var data = Data(
            [Pond("s", "w", "9901"), Pond("t", "v", "9902")], [Frog("frog", window: Window(first, last))],
            [Listen("a", "s", new LocalDate(2020, 4, 5)), Listen("b", "t", new LocalDate(2020, 4, 5))]) with
        {
            Expected = [new ExpectedSpecies(Code("9902"), SpeciesId("frog"), Window(ownFirst, ownLast))],
        };
        var analysis = ProgrammeAnalysis.Prepare(data, new ProgrammeSettings(), new RunOptions { Resamples = 20 });
        var whole = analysis.Areas.Single(area => area == Code("99"));
        Assert.Equal(Window(joinedFirst, joinedLast), Assert.Single(analysis.Analyse(whole, 1, TestContext.Current.CancellationToken).CallingTimes).Window);
    }

    [Fact]
    public void Wetland_counts_visits_in_the_window_levels_and_all_surveys()
    {
        var places = Prepared(protectedHeard: false).Places();
        var calls = places.Calls.Where(each => each.Wetland == WetlandId("W 1")).ToList();
        // Two stations of one wetland: levels 2 and 0 in 2020, 1 in 2021; the survey of 1 September lies outside the window.
        Assert.Equal(
            [new WetlandCalls(WetlandId("W 1"), SpeciesId("common"), 2020, 2, 1, 1.0, 2), new WetlandCalls(WetlandId("W 1"), SpeciesId("common"), 2021, 1, 1, 1.0, 1)],
            calls);
        Assert.Equal([(2020, 3), (2021, 1)], places.Seasons.Where(each => each.Wetland == WetlandId("W 1")).Select(each => (each.Season, each.Surveys)));
        var place = places.Wetlands.Single(each => each.Wetland == WetlandId("W 1"));
        Assert.Equal(("w-1", 2, 4, 2020, 2021), (place.Slug, place.Stations, place.Surveys, place.FirstSeason, place.LastSeason));
    }

    [Fact]
    public void Short_names_are_plain_and_unique()
    {
        var shorts = Prepared(protectedHeard: false).Places().Wetlands.Select(place => place.Slug).ToList();
        Assert.Equal(shorts.Distinct(), shorts);
        Assert.Contains("etang-7", shorts);
        Assert.Contains("w-1-2", shorts);
        Assert.All(shorts, each => Assert.Matches("^[a-z0-9]+(-[a-z0-9]+)*$", each));
    }

    [Fact]
    public void Gazetteer_holds_every_kind_of_name_but_none_that_names_a_protected_species()
    {
        var names = Prepared(protectedHeard: true).Places().Gazetteer;
        Assert.Contains(new GazetteerEntry("Upper Lakes", GazetteerKind.Watershed, Code("9901"), null), names);
        Assert.Contains(new GazetteerEntry("Marl Pond", GazetteerKind.Wetland, Code("9901"), "w-1"), names);
        Assert.Contains(new GazetteerEntry("Landing", GazetteerKind.Station, Code("9901"), "w-1"), names);
        Assert.DoesNotContain(names, entry => entry.Name.Contains("secret", StringComparison.OrdinalIgnoreCase));
        Assert.DoesNotContain(names, entry => entry.Name.Contains("callada", StringComparison.OrdinalIgnoreCase));
        // Nobody listened in this watershed, so it has no page of its own.
        Assert.DoesNotContain(names, entry => entry.Name == "Far Away");
    }

    private static IReadOnlyList<CallingTime> CallingTimes(ProgrammeAnalysis analysis) =>
        analysis.Analyse(analysis.Areas[0], 1, TestContext.Current.CancellationToken).CallingTimes;

    private static ProgrammeAnalysis Prepared(bool protectedHeard)
    {
        Station[] stations =
        [
            Pond("s0", "w0", "9901"), Pond("s1", "W 1", "9901") with { Name = "Landing" }, Pond("s2", "W 1", "9901") with { Name = "The SECRET ditch" },
            Pond("s3", "w3", "9901") with { Name = "Charco de la rana callada" }, Pond("s4", "w-1", "9901"), Pond("s5", "Étang 7", "9901"),
        ];
        var data = Data(
            stations,
            [Frog("common"), Frog("secret", isProtected: true) with { OtherNames = OtherNames.Of([new("es", "rana callada")]) }],
            [
                Listen("a", "s1", new LocalDate(2020, 5, 5), ("common", 2)), Listen("b", "s2", new LocalDate(2020, 5, 6)), Listen("c", "s2", new LocalDate(2020, 9, 1), ("common", 3)),
                Listen("d", "s1", new LocalDate(2021, 4, 9), ("common", 1)), Listen("e", "s3", new LocalDate(2021, 5, 20), ("common", 1)), Listen("f", "s4", new LocalDate(2022, 5, 2), ("common", 1)),
                Listen("g", "s5", new LocalDate(2022, 6, 2)),
                protectedHeard ? Listen("h", "s0", new LocalDate(2022, 6, 3), ("secret", 3)) : Listen("h", "s0", new LocalDate(2022, 6, 3)),
            ]) with
        {
            Watersheds = [new Watershed(Code("9901"), "Upper Lakes"), new Watershed(Code("9902"), "Far Away")],
            Wetlands = [new Wetland(WetlandId("W 1"), "Marl Pond", null), new Wetland(WetlandId("w3"), "Secret Frog Pond", null)],
        };
        return ProgrammeAnalysis.Prepare(data, new ProgrammeSettings(), new RunOptions { Resamples = 20 });
    }

    private static Id<Wetland> WetlandId(string text) => Id<Wetland>.Parse(text).Value;
}
