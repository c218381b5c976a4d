using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using NodaTime;
using Xunit;
using static Indicators.Analysis.Tests.Programmes;

namespace Indicators.Analysis.Tests.Occupancy;

public class StationSilenceTests
{
    /// <summary>One station's visits, season after season, 1 heard and 0 not; other stations as given.</summary>
    private static AreaResult Analyse(double limit, params string[][] stations)
    {
        var surveys = stations.SelectMany((seasons, s) => seasons.SelectMany((visits, t) => visits.Select((heard, v) =>
            Listen($"{s}-{t}-{v}", $"s{s}", new LocalDate(2010 + t, 4, 5).PlusDays(9 * v), heard == '1' ? [("a", 1)] : []))));
        var settings = new ProgrammeSettings { Occupancy = new OccupancyOptions { SilenceChance = limit } };
        var data = Data(Enumerable.Range(0, stations.Length).Select(s => Pond($"s{s}", $"w{s}", "9901")), [Frog("a")], surveys);
        return ProgrammeAnalysis.Prepare(data, settings, new RunOptions { Resamples = 1 }).Analyse(Code("9901"), 1, TestContext.Current.CancellationToken);
    }

    /// <summary>The share of all ways to spread the ones over the places that leave so many at the end silent, one by one.</summary>
    private static double ByListing(int heard, int all, int silent)
    {
        int ways = 0, such = 0;
        for (int mask = 0; mask < 1 << all; mask++)
        {
            if (int.PopCount(mask) != heard)
                continue;
            ways++;
            such += mask >> (all - silent) == 0 ? 1 : 0;
        }
        return (double)such / ways;
    }

    [Fact]
    public void Chance_is_the_larger_of_two_shares_found_by_listing_every_arrangement()
    {
        // 8 seasons of 2 visits; 7 of 10 visits heard until 2014, then 6 silent.
        var result = Analyse(0.05, ["11", "10", "11", "01", "10", "00", "00", "00"]);
        var quiet = Assert.Single(result.Silences);
        Assert.Equal((SilenceKind.GoneQuiet, 1, 2014, 7, 3, 16, 7), (quiet.Kind, quiet.Rank, quiet.HeardSeason, quiet.SilentVisits, quiet.SilentSeasons, quiet.Visits, quiet.VisitsHeard));
        double byVisit = ByListing(7, 16, 7), bySeason = ByListing(5, 8, 3);
        Assert.Equal(Math.Max(byVisit, bySeason), quiet.Chance, 1e-12);
        Assert.True(bySeason > byVisit);
    }

    [Fact]
    public void Tally_bounds_the_listing_by_enumeration()
    {
        // Every arrangement of the same number of visits heard is as likely: how many of them would be listed?
        int listed = 0, ways = 0;
        double expected = 0;
        for (int mask = 0; mask < 1 << 10; mask++)
        {
            if (int.PopCount(mask) != 5)
                continue;
            ways++;
            string[] seasons = [.. Enumerable.Range(0, 10).Select(t => (mask >> t & 1) == 1 ? "1" : "0")];
            var result = Analyse(0.1, seasons);
            listed += result.Silences.Count(s => s.Kind == SilenceKind.GoneQuiet);
            expected = result.SilenceTallies.Single(t => t.Kind == SilenceKind.GoneQuiet).ExpectedByChance;
        }
        // C(7, 5) / C(10, 5) = 21 / 252 is the largest attainable chance within a tenth.
        Assert.Equal(21.0 / 252, expected, 1e-12);
        Assert.Equal(expected, (double)listed / ways, 1e-12);
    }

    [Fact]
    public void Newly_heard_mirrors_gone_quiet_and_must_be_of_late()
    {
        var late = Analyse(0.05, ["000", "000", "000", "000", "000", "000", "011", "110"]);
        var silence = Assert.Single(late.Silences);
        Assert.Equal((SilenceKind.NewlyHeard, 2016, 19, 6, null), (silence.Kind, silence.HeardSeason, silence.SilentVisits, silence.SilentSeasons, silence.ChancePresent));
        Assert.Equal(Math.Max(ByListing(4, 24, 19), ByListing(2, 8, 6)), silence.Chance, 1e-12);
        Assert.Empty(Analyse(0.05, ["000", "000", "000", "000", "011", "110", "111", "011", "101", "011"]).Silences);
    }

    [Fact]
    public void Station_no_longer_listened_at_and_a_station_never_heard_are_not_looked_at()
    {
        var result = Analyse(0.05,
            ["11", "11", "11", "00", "00", "00", "00", "", "", ""],
            ["00", "00", "00", "00", "00", "00", "00", "00", "00", "00"],
            ["11", "11", "11", "11", "00", "00", "00", "00", "00", "00"]);
        var tally = result.SilenceTallies.Single(t => t.Kind == SilenceKind.GoneQuiet);
        Assert.Equal((1, 1), (tally.Tested, tally.Listed));
        Assert.Equal("s2", Assert.Single(result.Silences).Station.ToString());
    }

    [Fact]
    public void Single_bad_spring_is_not_a_loss_however_many_visits_it_had()
    {
        // Nine visits of one silent season: unlikely visit by visit, one season in nine as seasons go.
        Assert.Empty(Analyse(0.05, ["111", "111", "110", "111", "011", "111", "111", "111", "000000000"]).Silences);
    }

    [Fact]
    public void Ranks_start_at_the_least_likely_to_be_chance()
    {
        string[] Quiet(int heard, int silent) => [.. Enumerable.Repeat("11", heard), .. Enumerable.Repeat("00", silent)];
        var silences = Analyse(0.05, Quiet(6, 4), Quiet(5, 5), Quiet(7, 3)).Silences;
        Assert.Equal([1, 2, 3], silences.Select(s => s.Rank));
        Assert.Equal(silences.Select(s => s.Chance).Order(), silences.Select(s => s.Chance));
        Assert.Equal("s1", silences[0].Station.ToString());
    }

    [Fact]
    public void Chance_at_the_wetland_hears_all_its_stations()
    {
        var world = new OccupancyWorld(20, 12, 0.7, 0.03, 0.03, [0.6, 0.6, 0.6]) { Species = 1, EmptiedFrom = 7, EmptiedEvery = 5 };
        var data = world.Draw(2).Data;
        var settings = new ProgrammeSettings();
        AreaResult Result(ProgrammeData d) => ProgrammeAnalysis.Prepare(d, settings, new RunOptions { Resamples = 1 }).Analyse(OccupancyWorld.Area, 1, TestContext.Current.CancellationToken);
        var alone = Result(data).Silences.First(s => s.Kind == SilenceKind.GoneQuiet);
        Assert.InRange(alone.ChancePresent!.Value, 1e-9, 0.2);

        // A second station at the same wetland that hears it still.
        var wetland = data.Stations.Single(s => s.Id == alone.Station).Wetland.ToString();
        var other = Listen("other", "zz", new LocalDate(OccupancyWorld.FirstSeason + 11, 6, 2), ("f0", 2));
        var heard = Result(data with { Stations = [.. data.Stations, Pond("zz", wetland, "99")], Surveys = [.. data.Surveys, other] });
        Assert.Equal(1, heard.Silences.Single(s => s.Station == alone.Station && s.Kind == SilenceKind.GoneQuiet).ChancePresent!.Value, 1e-9);
    }
}
