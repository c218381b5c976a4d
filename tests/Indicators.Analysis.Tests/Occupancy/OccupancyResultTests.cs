using System.Text.Json;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using NodaTime;
using Xunit;
using static Indicators.Analysis.Tests.Programmes;

namespace Indicators.Analysis.Tests.Occupancy;

public class OccupancyResultTests
{
    private static AreaResult Analyse(ProgrammeData data, string area = "99", ProgrammeSettings? settings = null, int resamples = 1) =>
        ProgrammeAnalysis.Prepare(data, settings ?? new ProgrammeSettings(), new RunOptions { Resamples = resamples })
            .Analyse(Code(area), 1, TestContext.Current.CancellationToken);

    [Fact]
    public void Raw_shares_count_wetlands_once_however_many_stations_and_surveys_they_have()
    {
        // Ten wetlands of two stations each; wetland w is heard at its second station only.
        var stations = Enumerable.Range(0, 20).Select(s => Pond($"s{s:00}", $"w{s / 2}", "99"));
        var surveys = from s in Enumerable.Range(0, 20)
                      from t in Enumerable.Range(0, 3)
                      from visit in Enumerable.Range(0, 3)
                      let heard = s % 2 == 1 && s / 2 < 4 + t && visit != t
                      select Listen($"{s}-{t}-{visit}", $"s{s:00}", new LocalDate(2010 + t, 4 + visit, 20), heard ? [("a", 2)] : []);
        var points = Analyse(Data(stations, [Frog("a")], surveys)).Occupancy;
        Assert.Equal([(2010, 10, 4), (2011, 10, 5), (2012, 10, 6)], points.Select(p => (p.Season, p.Wetlands, p.WetlandsHeard!.Value)));
        Assert.All(points, p => Assert.Equal(p.WetlandsHeard!.Value / 10.0, p.RawShare!.Value));
        Assert.All(points, p => Assert.True(p.Psi >= p.RawShare - 1e-9));
    }

    /// <summary>
    /// Heard at every one of N visits to twelve wetlands and never at four: but for the chance of missing it six times there the likelihood is p^N, and half the 95 % quantile of χ² with one degree of freedom, 3.841459 (tables), is lost at p = e^(−1.9207/N).
    /// </summary>
    [Fact]
    public void Detection_estimated_at_one_still_has_a_lower_end()
    {
        var stations = Enumerable.Range(0, 16).Select(s => Pond($"s{s:00}", $"w{s:00}", "99"));
        var surveys = from s in Enumerable.Range(0, 16)
                      from t in Enumerable.Range(0, 3)
                      from visit in Enumerable.Range(0, 2)
                      select Listen($"{s}-{t}-{visit}", $"s{s:00}", new LocalDate(2010 + t, 5, 20 + visit), s < 12 ? [("a", 2)] : []);
        var rate = Analyse(Data(stations, [Frog("a")], surveys)).Detection.Single();
        Assert.Equal((1.0, null, 1.0), (rate.P, rate.StandardError, rate.Upper));
        Assert.Equal(Math.Exp(-3.841459 / 2 / 72), rate.Lower!.Value, 1e-6);
        Assert.NotNull(rate.VisitsForAbsenceCautious);
    }

    [Fact]
    public void Surveys_outside_the_window_are_no_visits()
    {
        var world = new OccupancyWorld(12, 6, 0.6, 0.1, 0.1, [0.4, 0.4, 0.4]) { Species = 1 };
        var data = world.Draw(1).Data;
        var winter = data.Stations.Select(s => Listen("x" + s.Id, s.Id.ToString(), new LocalDate(OccupancyWorld.FirstSeason + 2, 1, 10)));
        var (summer, both) = (Analyse(data), Analyse(data with { Surveys = [.. data.Surveys, .. winter] }));
        Assert.Equal(summer.Occupancy, both.Occupancy);
        Assert.Equal(summer.Detection, both.Detection);
    }

    [Fact]
    public void Seasons_without_a_survey_have_no_point_and_do_not_break_the_model()
    {
        var world = new OccupancyWorld(30, 9, 0.6, 0.1, 0.1, [0.5, 0.5, 0.5]) { Species = 1 };
        var data = world.Draw(3).Data;
        data = data with { Surveys = [.. data.Surveys.Where(s => s.Date.Year is not (OccupancyWorld.FirstSeason + 4))] };
        var points = Analyse(data).Occupancy;
        Assert.Equal(8, points.Count);
        Assert.DoesNotContain(OccupancyWorld.FirstSeason + 4, points.Select(p => p.Season));
        Assert.All(points, p => Assert.NotNull(p.Lower));
    }

    [Fact]
    public void Too_few_wetlands_give_shares_and_no_model()
    {
        var world = new OccupancyWorld(9, 8, 0.6, 0.1, 0.1, [0.5, 0.5, 0.5]) { Species = 1 };
        var result = Analyse(world.Draw(2).Data);
        Assert.All(result.Occupancy, p => Assert.Equal((OccupancyBasis.FewWetlands, null, true), (p.Basis, p.Psi, p.RawShare is not null)));
        Assert.Equal((OccupancyBasis.FewWetlands, 9), (result.OccupancyRates[0].Basis, result.OccupancyRates[0].Wetlands));
        Assert.Empty(result.Detection);
        var allowed = new ProgrammeSettings { Occupancy = new OccupancyOptions { MinimumWetlands = 9 } };
        Assert.All(Analyse(world.Draw(2).Data, settings: allowed).Occupancy, p => Assert.NotNull(p.Psi));
    }

    [Fact]
    public void Species_never_heard_says_so_and_has_no_points()
    {
        var world = new OccupancyWorld(12, 5, 0.6, 0.1, 0.1, [0.5, 0.5, 0.5]) { Species = 1 };
        var data = world.Draw(2).Data;
        var result = Analyse(data with { Species = [.. data.Species, Frog("z")] });
        Assert.DoesNotContain(result.Occupancy, p => p.Species == SpeciesId("z"));
        Assert.Equal(OccupancyBasis.NeverHeard, result.OccupancyRates.Single(r => r.Species == SpeciesId("z")).Basis);
    }

    [Fact]
    public void Single_season_and_single_visits_fall_back_to_what_they_can_tell()
    {
        var world = new OccupancyWorld(40, 1, 0.6, 0.1, 0.1, [0.5, 0.5, 0.5]) { Species = 1 };
        var one = Assert.Single(Analyse(world.Draw(2).Data).Occupancy);
        Assert.Equal(OccupancyBasis.OneOccupancy, one.Basis);
        Assert.True(one.Lower < one.Psi && one.Psi < one.Upper);

        // One visit a season to wetlands that each had one season: missed and empty look alike.
        var data = world.Draw(2).Data;
        data = data with { Surveys = [.. data.Surveys.GroupBy(s => s.Station).Select(g => g.First())] };
        Assert.All(Analyse(data).Occupancy, p => Assert.Equal((OccupancyBasis.NotIdentified, null), (p.Basis, p.Psi)));
    }

    [Fact]
    public void Part_with_few_visits_shares_the_rate_of_its_neighbour()
    {
        var world = new OccupancyWorld(20, 6, 0.7, 0.1, 0.1, [0.3, 0.6, 0.4]) { Species = 1 };
        var data = world.Draw(4).Data;
        int late = 0;
        data = data with { Surveys = [.. data.Surveys.Where(s => s.Date.Month != 7 || ++late <= 9)] };
        var detection = Analyse(data).Detection;
        Assert.Equal([(WindowPart.Early, true), (WindowPart.Middle, false), (WindowPart.Late, false)], detection.Select(d => (d.Part, d.P == detection[0].P)));
        Assert.Equal(9, detection[2].Visits);
        Assert.Equal(detection[1].P, detection[2].P);
    }

    [Fact]
    public void Protected_species_has_no_count_of_wetlands_by_season_and_no_silence()
    {
        var world = new OccupancyWorld(20, 10, 0.7, 0.0, 0.0, [0.6, 0.6, 0.6]) { Species = 1, EmptiedFrom = 5, EmptiedEvery = 4 };
        var data = world.Draw(4).Data;
        Assert.NotEmpty(Analyse(data).Silences);
        var kept = Analyse(data with { Species = [Frog("f0", isProtected: true)] });
        Assert.NotEmpty(kept.Occupancy);
        Assert.All(kept.Occupancy, p => Assert.Equal((null, null, true), (p.WetlandsHeard, p.RawShare, p.Psi is not null)));
        Assert.All(kept.Detection, d => Assert.Null(d.Detections));
        Assert.Empty(kept.Silences);
        Assert.All(kept.SilenceTallies, t => Assert.Equal(0, t.Tested));

        var few = Analyse(data with
        {
            Species = [Frog("f0", isProtected: true)],
            Stations = [.. data.Stations.Select((s, i) => i < 4 ? s with { Watershed = Code("9901") } : s)],
        }, "9901");
        Assert.Empty(few.Occupancy);
        Assert.Empty(few.OccupancyRates);
        Assert.Empty(few.Detection);
    }

    [Fact]
    public void Fit_is_one_for_areas_with_the_same_stations_and_silences_are_told_in_the_smallest()
    {
        var world = new OccupancyWorld(15, 10, 0.7, 0.0, 0.0, [0.6, 0.6, 0.6]) { Species = 2, EmptiedFrom = 5, EmptiedEvery = 4 };
        var data = world.Draw(5).Data;
        data = data with { Stations = [.. data.Stations.Select(s => s with { Watershed = Code("990102") })] };
        var (inner, outer) = (Analyse(data, "990102"), Analyse(data));
        Assert.Equal(inner.Occupancy.Select(p => p with { Area = outer.Area.Code }), outer.Occupancy);
        Assert.Equal(inner.OccupancyRates.Select(p => p with { Area = outer.Area.Code }), outer.OccupancyRates);
        Assert.NotEmpty(inner.Silences);
        Assert.Empty(outer.Silences);
        Assert.Empty(outer.SilenceTallies);
    }

    [Fact]
    public void Areas_with_the_same_stations_come_out_together_as_they_do_one_by_one()
    {
        var world = new OccupancyWorld(15, 10, 0.7, 0.0, 0.0, [0.6, 0.6, 0.6]) { Species = 2, EmptiedFrom = 5, EmptiedEvery = 4 };
        var data = world.Draw(5).Data;
        data = data with { Stations = [.. data.Stations.Select(s => s with { Watershed = Code("990102") })] };
        var analysis = ProgrammeAnalysis.Prepare(data, new ProgrammeSettings(), new RunOptions { Resamples = 50 });
        var set = Assert.Single(analysis.AreaSets);
        Assert.Equal(3, set.Areas.Count);
        var together = analysis.Analyse(set.Areas, 1, TestContext.Current.CancellationToken).ToArray();
        Assert.NotEmpty(together.Single(result => result.Area.Code == Code("990102")).Silences);
        foreach (var (area, result) in set.Areas.Zip(together))
            Assert.Equal(JsonSerializer.Serialize(analysis.Analyse(area, 1, TestContext.Current.CancellationToken)), JsonSerializer.Serialize(result));
    }
}
