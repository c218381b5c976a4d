using Indicators.Analysis.Fits;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using NodaTime;
using Xunit;
using static Indicators.Analysis.Tests.Programmes;

namespace Indicators.Analysis.Tests;

/// <summary>What stands behind a trend, from small programmes in which it can be counted by hand or by doing without a wetland.</summary>
public class EvidenceTests
{
    private const string Area = "990101010101";
    private static readonly ProgrammeData Chorus = Drawn(7, [Area], 12, 14, Frog("a"), Frog("b"), Frog("c"));

    private static AreaResult Analyse(ProgrammeData data, string area = Area, ProgrammeSettings? settings = null, int threads = 1) =>
        ProgrammeAnalysis.Prepare(data, settings ?? new ProgrammeSettings(), new RunOptions { Resamples = 200 })
            .Analyse(Code(area), threads, TestContext.Current.CancellationToken);

    private static SeriesEvidence One(ProgrammeData data, ProgrammeSettings? settings = null) => Assert.Single(Analyse(data, settings: settings).Evidence);

    [Fact]
    public void Every_trend_has_its_evidence_in_the_same_order_for_any_number_of_threads()
    {
        var result = Analyse(Chorus);
        Assert.Equal(result.Trends.Select(t => (t.Area, t.Species)), result.Evidence.Select(e => (e.Area, e.Species)));
        Assert.Equal(result.Evidence, Analyse(Chorus, threads: 2).Evidence);
        Assert.All(result.Evidence, e => Assert.Equal(EvidenceRule.Grade(e.Reasons), e.Grade));
    }

    [Fact]
    public void Furthest_wetland_is_the_one_that_moves_the_percent_furthest()
    {
        // e^−0.01 − 1 is −0.995 %, e^0.00996 − 1 is 1.001 %.
        Assert.Equal(1, new LeaveOneOut([-0.01, 0.00996, 0]).Furthest(0));
    }

    [Fact]
    public void Influence_of_a_wetland_is_the_trend_without_it_less_the_trend_with_it()
    {
        var whole = Analyse(Chorus);
        for (int k = 0; k < 3; k++)
        {
            double estimate = whole.Trends[k].PercentPerSeason!.Value;
            var without = Chorus.Stations.Select(s => s.Wetland).Distinct().ToDictionary(w => w, w =>
            {
                var gone = Chorus.Stations.Where(s => s.Wetland == w).Select(s => s.Id).ToHashSet();
                return Analyse(Chorus with
                {
                    Stations = [.. Chorus.Stations.Where(s => !gone.Contains(s.Id))],
                    Surveys = [.. Chorus.Surveys.Where(s => !gone.Contains(s.Station))],
                }).Trends[k].PercentPerSeason!.Value - estimate;
            });
            var (wetland, change) = without.MaxBy(pair => Math.Abs(pair.Value));
            Assert.Equal(wetland, whole.Evidence[k].LeftOut);
            Assert.Equal(change, whole.Evidence[k].LeaveOneOutChange!.Value, 1e-6);
            Assert.Equal(1, whole.Evidence[k].LeftOutStations);
            Assert.Equal(without.Values.All(c => Math.Sign(estimate + c) == Math.Sign(estimate)), whole.Evidence[k].SignHolds);
        }
    }

    [Fact]
    public void Wetland_of_a_protected_species_is_not_told_not_even_by_its_number_of_stations()
    {
        var open = One(Drawn(7, [Area], 12, 14, Frog("a")));
        var hidden = One(Drawn(7, [Area], 12, 14, Frog("a", isProtected: true)));
        Assert.NotNull(open.LeftOut);
        Assert.Equal(
            open with
            {
                LeftOut = null, LeftOutStations = null, DispersionDf = null, ZeroCellShare = null, OneStationSeasons = null, CeilingShare = Math.Round(open.CeilingShare!.Value, 2),
            },
            hidden);
    }

    [Fact]
    public void Protected_species_kept_back_here_has_no_evidence_either()
    {
        var data = Drawn(7, [Area], 4, 14, Frog("a", isProtected: true), Frog("b"));
        Assert.Equal("b", Assert.Single(Analyse(data).Evidence).Species.ToString());
    }

    [Fact]
    public void Area_of_one_wetland_names_no_wetland()
    {
        var one = Drawn(7, [Area], 12, 14, Frog("a"));
        var evidence = One(one with { Stations = [.. one.Stations.Select(s => s with { Wetland = one.Stations[0].Wetland })] });
        Assert.NotNull(evidence.LeaveOneOutChange);
        Assert.Equal((null, 1), (evidence.LeftOut, evidence.LeftOutStations));
    }

    [Fact]
    public void Only_wetland_that_heard_it_leaves_nothing_when_left_out()
    {
        var evidence = One(Nights(1, 10, (_, t, v) => t == 3 && v == 0 ? 1 : 0));
        Assert.Equal((null, false), (evidence.LeaveOneOutChange, evidence.SignHolds));
        Assert.Equal(Evidence.Thin, evidence.Grade);
    }

    [Fact]
    public void Never_heard_has_nothing_to_support()
    {
        var evidence = One(Nights(9, 10, (_, _, _) => 0));
        Assert.Equal((Evidence.Thin, EvidenceReason.NoInterval), (evidence.Grade, evidence.Reasons));
        Assert.Equal((null, null, null, 0), (evidence.ZeroCellShare, evidence.Dispersion, evidence.CeilingShare, evidence.Seasons));
    }

    [Fact]
    public void Zero_cells_and_seasons_on_one_station_are_counted()
    {
        // Ten seasons; the second of two ponds listens in the first six only. Heard in 10 + 3 of 10 + 6 cells.
        var data = Nights(2, 10, (w, t, v) => v == 0 && (w == 0 || t % 2 == 0) ? 1 + t % 3 : 0);
        var evidence = One(data with { Surveys = [.. data.Surveys.Where(s => s.Station != StationId("p01") || s.Date.Year < 2016)] });
        Assert.Equal(3.0 / 16, evidence.ZeroCellShare);
        Assert.Equal((10, 4), (evidence.Seasons, evidence.OneStationSeasons));
        Assert.True(evidence.Reasons.HasFlag(EvidenceReason.SeasonsOnOneStation | EvidenceReason.VeryFewWetlands));
        Assert.Equal(16 - 2 - 1, evidence.DispersionDf);
    }

    [Fact]
    public void Calls_scatter_too_much_only_when_whole_seasons_of_a_station_go_together()
    {
        // The same coins: one for each visit, or one for all visits of a station and season.
        static int Coin(int a, int b, int c) => Statistics.Resampling.Philox.Block((uint)a, (uint)b, (uint)c, 0, 5, 1).W0 % 5 == 0 ? 3 : 0;
        var visits = One(Nights(20, 20, (w, t, v) => Coin(w, t, v)));
        var seasons = One(Nights(20, 20, (w, t, _) => Coin(w, t, 0)));
        // With a chance of a fifth of 3, else 0: variance over mean is 3 × 4/5 for a visit, three times that for three alike.
        Assert.InRange(visits.Dispersion!.Value, 2.1, 2.7);
        Assert.InRange(seasons.Dispersion!.Value, 6.3, 8.1);
        Assert.Equal((false, true), (visits.Reasons.HasFlag(EvidenceReason.Scattered), seasons.Reasons.HasFlag(EvidenceReason.Scattered)));
    }

    [Fact]
    public void New_observers_are_those_without_a_survey_in_the_three_seasons_before()
    {
        // Seasons 2010 to 2019. Ann always; Bob until 2015, so not before; Cleo from 2018; Dan in 2010 and 2019.
        var data = Observed((w, year) => w switch
        {
            0 => "Ann",
            1 => year <= 2015 ? "Bob" : " ANN ",
            2 => year >= 2018 ? "Cleo" : "Ann",
            _ => year is 2010 or 2019 ? "Dan" : "Ann",
        });
        var evidence = One(data);
        Assert.Equal(4, evidence.Observers);
        // 2017 to 2019: 4 ponds × 3 seasons × 3 nights; Cleo 6 of them, Dan 3.
        Assert.Equal(9.0 / 36, evidence.NewObserverShare!.Value, 1e-12);
        Assert.False(evidence.Reasons.HasFlag(EvidenceReason.NewObservers));
        var all = One(Observed((w, year) => year < 2017 ? $"old {w}" : $"new {w}"));
        Assert.Equal((8, 1.0, true), (all.Observers, all.NewObserverShare, all.Reasons.HasFlag(EvidenceReason.NewObservers)));
    }

    [Fact]
    public void Too_few_observers_or_nights_without_a_name_tell_nothing()
    {
        Assert.Equal((null, null), Told(One(Observed((w, year) => year < 2017 ? "Ann" : "Bob"))));
        Assert.Equal((null, null), Told(One(Observed((_, _) => null))));
        // Names on half of the last seasons' nights are not most of them.
        Assert.Equal((4, null), Told(One(Observed((w, year) => year >= 2017 && w < 2 ? null : $"l{w}"))));
        Assert.Equal((4, null), Told(One(Observed((w, year) => year is >= 2014 and < 2017 && w < 2 ? "" : $"l{w}"))));
        // Three in all, and two of them in the six seasons compared.
        Assert.Equal((3, null), Told(One(Observed((w, year) => year == 2010 ? "Cleo" : year < 2017 ? "Ann" : "Bob"))));
        static (int?, double?) Told(SeriesEvidence evidence) => (evidence.Observers, evidence.NewObserverShare);
    }

    [Fact]
    public void Fewer_than_six_seasons_have_no_three_before_the_last_three() =>
        Assert.Null(One(Observed((w, year) => $"l{w}") with { Surveys = [.. Observed((w, _) => $"l{w}").Surveys.Where(s => s.Date.Year >= 2015)] }).NewObserverShare);

    [Fact]
    public void Observers_of_other_areas_and_of_nights_outside_the_window_do_not_count()
    {
        var here = Observed((w, _) => $"l{w % 3}");
        var winter = here.Surveys.Where(s => s.Station == StationId("p00"))
            .Select(s => s with { Id = Id<Survey>.Parse("x" + s.Id).Value, Date = new LocalDate(s.Date.Year, 12, s.Date.Day), Observer = "Winter", Calls = [] });
        var elsewhere = here.Surveys.Where(s => s.Station == StationId("p00"))
            .Select(s => s with { Id = Id<Survey>.Parse("y" + s.Id).Value, Station = StationId("far"), Observer = "Far " + s.Id });
        var data = here with { Stations = [.. here.Stations, Pond("far", "wfar", "990101010102")], Surveys = [.. here.Surveys, .. winter, .. elsewhere] };
        Assert.Equal(One(here), One(data));
    }

    [Fact]
    public void Breaches_are_a_share_of_the_nights_that_can_be_checked()
    {
        Assert.Null(One(Chorus with { Species = [Frog("a")], Surveys = [.. Chorus.Surveys.Select(s => s with { Calls = [] })] }).OutsideProtocolShare);
        var nights = Nights(8, 10, (w, _, v) => v == 0 ? 1 : 0);
        ProgrammeData Minutes(Func<Survey, double?> minutes) => nights with { Surveys = [.. nights.Surveys.Select(s => s with { Minutes = minutes(s) })] };
        // April's nights short, May's long enough, June's without a note.
        var evidence = One(Minutes(s => s.Date.Month switch { 4 => 3, 5 => 5, _ => null }));
        Assert.Equal((0.5, true), (evidence.OutsideProtocolShare, evidence.Reasons.HasFlag(EvidenceReason.OutsideProtocol)));
        Assert.Equal(0, One(Minutes(_ => 10)).OutsideProtocolShare);
    }

    private static ProgrammeData Nights(int wetlands, int seasons, Func<int, int, int, int> level) => Data(
        Enumerable.Range(0, wetlands).Select(w => Pond($"p{w:00}", $"w{w:00}", Area)),
        [Frog("a")],
        from w in Enumerable.Range(0, wetlands)
        from t in Enumerable.Range(0, seasons)
        from v in Enumerable.Range(0, 3)
        select Listen($"{w}-{t}-{v}", $"p{w:00}", new LocalDate(2010 + t, 4 + v, 20), ("a", level(w, t, v))));

    private static ProgrammeData Observed(Func<int, int, string?> observer)
    {
        var data = Nights(4, 10, (w, t, v) => (w + t + v) % 4);
        return data with { Surveys = [.. data.Surveys.Select(s => s with { Observer = observer(s.Id.ToString()[0] - '0', s.Date.Year) })] };
    }
}
