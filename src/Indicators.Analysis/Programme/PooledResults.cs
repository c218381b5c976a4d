using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Statistics.Intervals;
using Indicators.Statistics.Pooling;

namespace Indicators.Analysis.Programme;

/// <summary>Slopes pooled over areas beside each other, species by species.</summary>
internal static class PooledResults
{
    /// <summary>In the order of their codes; the last is the one to use.</summary>
    private static readonly BetweenVarianceMethod[] Methods =
    [
        BetweenVarianceMethod.DerSimonianLaird, BetweenVarianceMethod.PauleMandel, BetweenVarianceMethod.RestrictedMaximumLikelihood,
    ];

    /// <summary>Pools every species in every set of areas.</summary>
    public static (IReadOnlyList<PooledTrend> Pooled, IReadOnlyList<ShrunkenTrend> Shrunken) Of(
        IReadOnlyList<AreaResult> results, TrendOptions options, int maxThreads)
    {
        var work = Siblings.Of(results)
            .SelectMany(set => set.Areas
                .SelectMany(area => area.PoolingParts)
                .ToLookup(part => part.Species)
                .OrderBy(parts => parts.Key)
                .Select(parts => (Set: set, Species: parts.Key, Parts: parts.ToArray())))
            .ToArray();
        var raw = results.SelectMany(result => result.Trends).ToDictionary(trend => (trend.Area, trend.Species));
        var done = new (PooledTrend[] Pooled, ShrunkenTrend[] Shrunken)[work.Length];
        Parallel.For(0, work.Length, new ParallelOptions { MaxDegreeOfParallelism = maxThreads }, i =>
            done[i] = One(work[i].Set, work[i].Species, work[i].Parts, raw, options));
        return (
            [.. done.SelectMany(d => d.Pooled)],
            [.. done.SelectMany(d => d.Shrunken).OrderBy(s => s.Parent?.ToString() ?? "", StringComparer.Ordinal).ThenBy(s => s.Area).ThenBy(s => s.Species)]);
    }

    private static (PooledTrend[] Pooled, ShrunkenTrend[] Shrunken) One(
        Siblings set,
        Id<Species> species,
        SlopeForPooling[] parts,
        Dictionary<(WatershedCode, Id<Species>), Trend> raw,
        TrendOptions options)
    {
        if (SlopePooling.Of(Parts(parts)) is not { } pooling)
            return ([], []);
        PooledSlope[] means = [.. Methods.Select(method => pooling.Mean(method, options.Confidence))];
        Interval tau2 = pooling.TauSquared(options.Confidence), oneMore = pooling.Prediction(means[^1].Pooled, options.Confidence);
        PooledTrend[] pooled = [.. means.Select(mean => Pooled(set, species, pooling, mean, tau2, oneMore))];
        var shrunken = pooling.Shrunken(options.Confidence) is { } estimates
            ? parts.Zip(estimates, (part, estimate) => Shrunken(set, raw[(part.Area, species)], part, estimate)).ToArray()
            : [];
        return (pooled, shrunken);
    }

    private static PooledTrend Pooled(Siblings set, Id<Species> species, SlopePooling pooling, PooledSlope mean, Interval tau2, Interval oneMore) =>
        new()
        {
            Parent = set.Parent,
            Level = set.Level,
            Species = species,
            Method = mean.Pooled.Between.Method,
            Areas = mean.Pooled.DegreesOfFreedom + 1,
            PercentPerSeason = LogSlope.Percent(mean.Pooled.Mean),
            Lower = LogSlope.Percent(mean.Interval.Lower),
            Upper = LogSlope.Percent(mean.Interval.Upper),
            PredictionLower = LogSlope.Percent(oneMore.Lower),
            PredictionUpper = LogSlope.Percent(oneMore.Upper),
            Tau = Math.Sqrt(mean.Pooled.Between.Value),
            TauLower = Math.Sqrt(tau2.Lower),
            TauUpper = Math.Sqrt(tau2.Upper),
            ISquared = mean.Pooled.ISquared,
            Q = mean.Pooled.Q,
            SharedSeasonSd = Math.Sqrt(pooling.Shocks.Shared),
            SeasonCorrelation = pooling.Shocks.CarryOver,
        };

    private static ShrunkenTrend Shrunken(Siblings set, Trend raw, SlopeForPooling part, ShrunkenEstimate estimate) => new()
    {
        Parent = set.Parent,
        Area = part.Area,
        Species = part.Species,
        RawPercent = LogSlope.Percent(part.Slope),
        RawLower = raw.LowerUnderlying,
        RawUpper = raw.UpperUnderlying,
        PercentPerSeason = LogSlope.Percent(estimate.Value),
        Lower = LogSlope.Percent(estimate.Interval.Lower),
        Upper = LogSlope.Percent(estimate.Interval.Upper),
        OwnShare = estimate.OwnShare,
    };

    private static SlopePart[] Parts(SlopeForPooling[] parts)
    {
        int first = parts.Min(part => part.Seasons[0].Season);
        return [.. parts.Select(part => new SlopePart
        {
            Slope = part.Slope,
            Information = part.Information,
            OwnVariance = part.OwnVariance,
            Clusters = part.Clusters,
            Periods = [.. part.Seasons.Select(s => s.Season - first)],
            Leverage = [.. part.Seasons.Select(s => s.Leverage)],
            Residuals = [.. part.Seasons.Select(s => s.Residual)],
            ResidualVariance = part.ResidualVariance,
            ResponseByLag = part.ResponseByLag,
            CarryOverEvidence = part.CarryOverEvidence,
        })];
    }

}
