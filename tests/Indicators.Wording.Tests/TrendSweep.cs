using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;

namespace Indicators.Wording.Tests;

/// <summary>Every kind of trend the engine can hand over, drawn up systematically.</summary>
internal static class TrendSweep
{
    public static readonly TrendOptions Options = new();

    private static readonly (string Species, string Area)[] Names =
        [("wood frog", "Marl Creek"), ("spring peeper", "Otter Lake"), ("northern leopard frog", "Upper Reed River")];

    private static readonly (double Lower, double Percent, double Upper)[] Down =
        [(-6.2, -4.1, -2.3), (-40, -22, -3.4), (-99.9, -80, -12), (-7, -3.5, -0.02), (-3.1, -1.6, -0.4)];

    public static IEnumerable<TrendTopic> All()
    {
        var trends = Estimated().Concat(WithoutLimits()).Concat(NoInterval()).ToList();
        foreach (var trend in trends)
        {
            foreach (double? ceiling in new double?[] { 0, 0.099, 0.1, 0.14, 0.62 })
            {
                foreach (var (species, area) in Names)
                {
                    yield return new TrendTopic(trend with { CeilingShare = ceiling }, species, area, Options);
                    if (TrendSentences.HasInterval(trend))
                        yield return new TrendTopic(Beneath(trend) with { CeilingShare = ceiling }, species, area, Options);
                }
            }
        }
    }

    public static Trend Of(double? lower, double? percent, double? upper, Direction direction, bool slowly = false) => new()
    {
        Area = WatershedCode.Parse("990100010101").Value,
        Species = Id<Species>.Parse("WOFR").Value,
        Status = TrendStatus.Estimated,
        FirstSeason = 2012,
        LastSeason = 2026,
        PercentPerSeason = percent,
        Lower = lower,
        Upper = upper,
        Interval = IntervalKind.ObservedChange,
        Direction = direction,
        Slowly = slowly,
        Clusters = 12,
        InformativeClusters = 11,
        Stations = 14,
        Surveys = 412,
        SilentStations = 3,
        Resamples = 2000,
    };

    /// <summary>
    /// The same result with an interval of the underlying direction: the old range moves there, and a narrower one says what
    /// happened over just these seasons.
    /// </summary>
    public static Trend Beneath(Trend trend) => !TrendSentences.HasInterval(trend) ? trend : trend with
    {
        LowerUnderlying = trend.Lower,
        UpperUnderlying = trend.Upper,
        SeasonSd = 0.12,
        Lower = (trend.Lower + trend.PercentPerSeason) / 2 ?? trend.Lower,
        Upper = (trend.Upper + trend.PercentPerSeason) / 2 ?? trend.Upper,
    };

    private static IEnumerable<Trend> Estimated()
    {
        foreach (var (lower, percent, upper) in Down)
        {
            yield return Of(lower, percent, upper, Direction.Down);
            yield return Of(-upper, -percent, -lower, Direction.Up);
        }
        yield return Of(-1.9, -1.1, -0.3, Direction.Down, slowly: true);
        yield return Of(0.2, 0.9, 1.8, Direction.Up, slowly: true);
        yield return Of(-0.09, -0.03, -0.01, Direction.Down, slowly: true);
        yield return Of(-1.2, 0.3, 1.6, Direction.Steady);
        yield return Of(-1.99, 0.01, 1.99, Direction.Steady);
        yield return Of(-0.04, 0.0, 0.04, Direction.Steady);
        yield return Of(-8.2, -3.1, 2.4, Direction.Unclear);
        yield return Of(-8.2, 0.02, 9.4, Direction.Unclear);
        yield return Of(-1.4, 0.4, 1.7, Direction.Unclear);
        yield return Of(-2.4, 3.1, 1800, Direction.Unclear);
        yield return Of(12, 140, 2300, Direction.Up);
        yield return Of(-6, -3, -2, Direction.Down) with { Interval = IntervalKind.ObservedChangeStations, Clusters = 1, InformativeClusters = 6 };
    }

    private static IEnumerable<Trend> WithoutLimits()
    {
        yield return Of(null, -30, -12, Direction.Down);
        yield return Of(null, -30, 8, Direction.Unclear);
        yield return Of(12, 30, null, Direction.Up);
        yield return Of(-9, 30, null, Direction.Unclear);
        yield return Of(null, 3, null, Direction.Unclear);
        yield return Of(null, null, -35, Direction.Down) with { Status = TrendStatus.OnlyInFirstSeasons };
        yield return Of(null, null, 15, Direction.Unclear) with { Status = TrendStatus.OnlyInFirstSeasons };
        yield return Of(35, null, null, Direction.Up) with { Status = TrendStatus.OnlyInLastSeasons };
        yield return Of(-5, null, null, Direction.Unclear) with { Status = TrendStatus.OnlyInLastSeasons };
    }

    private static IEnumerable<Trend> NoInterval()
    {
        var none = Of(null, -7.7, null, Direction.Unclear);
        IntervalKind[] why = [IntervalKind.FewClusters, IntervalKind.FewSeasons, IntervalKind.LostResamples];
        foreach (var kind in why)
        {
            yield return none with { Interval = kind, Clusters = 3, InformativeClusters = 3, Stations = 3 };
            yield return none with { Interval = kind, Clusters = 1, InformativeClusters = 1, Stations = 1, Surveys = 1, SilentStations = 1, FirstSeason = 2024, LastSeason = 2024 };
            yield return none with { Interval = kind, Clusters = 1, InformativeClusters = 4, Stations = 4, SilentStations = 0 };
            yield return none with { Interval = kind, Clusters = 2, InformativeClusters = 0 };
        }
        var nothing = none with { PercentPerSeason = null, Interval = IntervalKind.NoEstimate };
        yield return nothing with { Status = TrendStatus.OneSeason, FirstSeason = 2024, LastSeason = 2024 };
        yield return nothing with { Status = TrendStatus.OnlyInFirstSeasons };
        yield return nothing with { Status = TrendStatus.OnlyInFirstSeasons, Interval = IntervalKind.FewClusters, InformativeClusters = 2 };
        yield return nothing with { Status = TrendStatus.OnlyInLastSeasons, Interval = IntervalKind.FewSeasons };
        var never = nothing with { Status = TrendStatus.NeverHeard, FirstSeason = null, LastSeason = null, Clusters = 0, InformativeClusters = 0, Stations = 0, Surveys = 0 };
        yield return never;
        yield return never with { SilentStations = 1 };
        yield return never with { SilentStations = 0 };
    }
}
