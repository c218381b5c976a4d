using System.Buffers;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Statistics.Intervals;
using Indicators.Statistics.Smooth;

namespace Indicators.Analysis.Fits;

/// <summary>From a species' smooth fit to the course an edition tells.</summary>
internal static class SmoothResult
{
    /// <summary>The course, season by season, and its fastest changes; both empty where there is none.</summary>
    public static (IReadOnlyList<SmoothPoint> Points, IReadOnlyList<SmoothChange> Changes) Of(
        SmoothArea fit, SpeciesSeries series, WatershedCode area, Id<Species> id, TrendOptions options)
    {
        if (fit.Species[series.Species] is not { } one)
            return ([], []);
        int seasons = series.Seasons.Length;
        double factor = BootstrapInterval.Stretch(one.Clusters, options.Confidence);
        double[] curve = [.. one.Curve.Effects];
        var (moves, kept) = Kept(one, seasons);
        bool promised = kept > 0 && 1 - (double)kept / one.Resamples <= options.MaximumLostShare;

        CurveChanges? changes = null;
        Interval[]? band = null;
        if (promised)
        {
            int all = seasons * kept;
            double[] room = ArrayPool<double>.Shared.Rent(2 * all);
            Span<double> refits = room.AsSpan(0, all), draws = room.AsSpan(all, all);
            Stretch(curve, moves, kept, factor, refits);
            refits.CopyTo(draws);
            // Without it a course that is smoothed to a straight line would seem to be known to be straight.
            one.Refits.AddFlattened(fit.Normals, fit.Resamples, kept, draws, kept);
            changes = CurveChanges.Of(one.Curve.Penalty!.Spline, curve, refits, draws, options.Confidence);
            band = Band(series.Baseline, draws, seasons, kept, options.Confidence);
            ArrayPool<double>.Shared.Return(room);
        }
        double middle = Math.Log(Enumerable.Range(0, seasons).Where(t => series.Baseline[t]).Average(t => Math.Exp(curve[t])));
        var points = new SmoothPoint[seasons];
        for (int t = 0; t < seasons; t++)
            points[t] = new SmoothPoint
            {
                Area = area,
                Species = id,
                Season = series.Seasons[t],
                Value = 100 * Math.Exp(curve[t] - middle),
                Lower = band is null ? null : 100 * Math.Exp(band[t].Lower),
                Upper = band is null ? null : 100 * Math.Exp(band[t].Upper),
                Bend = changes is null || t == 0 || t == seasons - 1 ? SmoothBend.None : Told(changes.Turns[t - 1].Bend),
                FallShare = changes?.Fall.Shares[t] ?? 0,
                RiseShare = changes?.Rise.Shares[t] ?? 0,
            };
        return (points, changes is null ? [] :
        [
            Change(changes.Fall, SmoothChangeKind.FastestFall),
            Change(changes.Rise, SmoothChangeKind.FastestRise),
        ]);

        SmoothChange Change(FastestChange change, SmoothChangeKind kind) => new()
        {
            Area = area,
            Species = id,
            Kind = kind,
            Season = change.Time,
            SeasonLower = change.TimeInterval?.Lower,
            SeasonUpper = change.TimeInterval?.Upper,
            PercentPerSeason = LogSlope.Percent(change.Slope),
            Lower = LogSlope.Percent(change.SlopeInterval.Lower),
            Upper = LogSlope.Percent(change.SlopeInterval.Upper),
            Freedom = one.Curve.EffectiveDegreesOfFreedom,
        };
    }

    /// <summary>The resampled courses at [season × kept + resample], stretched about the sample's.</summary>
    private static void Stretch(double[] curve, double[] moves, int kept, double factor, Span<double> refits)
    {
        for (int t = 0; t < curve.Length; t++)
            for (int i = t * kept; i < (t + 1) * kept; i++)
                refits[i] = curve[t] + factor * moves[i];
    }

    /// <summary>The pointwise band on the log scale, relative to the baseline; the draws are used up.</summary>
    private static Interval[] Band(bool[] baseline, Span<double> draws, int seasons, int kept, double confidence)
    {
        int[] first = [.. Enumerable.Range(0, seasons).Where(t => baseline[t])];
        var middle = new double[kept];
        for (int b = 0; b < kept; b++)
        {
            foreach (int t in first)
                middle[b] += Math.Exp(draws[t * kept + b]);
            middle[b] = Math.Log(middle[b] / first.Length);
        }
        var band = new Interval[seasons];
        for (int t = 0; t < seasons; t++)
        {
            var season = draws.Slice(t * kept, kept);
            for (int b = 0; b < kept; b++)
                season[b] -= middle[b];
            band[t] = BootstrapInterval.PercentileInPlace(season, confidence);
        }
        return band;
    }

    /// <summary>The moves of the resamples that were not lost.</summary>
    private static (double[] Moves, int Kept) Kept(SmoothSpecies one, int seasons)
    {
        int[] kept = [.. Enumerable.Range(0, one.Resamples).Where(b => !double.IsNaN(one.Moves[b]))];
        if (kept.Length == one.Resamples)
            return (one.Moves, kept.Length);
        var moves = new double[seasons * kept.Length];
        for (int t = 0; t < seasons; t++)
            for (int i = 0; i < kept.Length; i++)
                moves[t * kept.Length + i] = one.Moves[t * one.Resamples + kept[i]];
        return (moves, kept.Length);
    }

    private static SmoothBend Told(Bend bend) => bend switch
    {
        Bend.Upward => SmoothBend.Upward,
        Bend.Downward => SmoothBend.Downward,
        _ => SmoothBend.None,
    };
}
