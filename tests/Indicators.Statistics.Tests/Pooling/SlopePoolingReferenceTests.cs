using Indicators.Statistics.Pooling;
using Indicators.Statistics.Tests.Reference;
using Xunit;

namespace Indicators.Statistics.Tests.Pooling;

/// <summary>
/// Slopes pooled under shared shocks against the same definition written out with dense matrices in R
/// (tests/reference/pooled_slopes/make.R), and what must not change them.
/// </summary>
public class SlopePoolingReferenceTests
{
    private const double Confidence = 0.95;

    /// <summary>The averages over τ² and their quantiles come from a grid in R, good to this.</summary>
    private const double Integrated = 1e-5;

    /// <summary>R's root finder stops on the function's value: τ² and what hangs on it agree to this.</summary>
    private const double Rooted = 1e-6;

    private static SlopePart[] Parts()
    {
        var seasons = ReferenceTable.Read("pooled_slopes/seasons.csv").Rows.ToLookup(row => row["area"]);
        var response = ReferenceTable.Read("pooled_slopes/response.csv").Rows.ToLookup(row => row["area"]);
        var evidence = ReferenceTable.Read("pooled_slopes/evidence.csv").Rows.ToLookup(row => row["area"]);
        return [.. ReferenceTable.Read("pooled_slopes/parts.csv").Rows.Select(row => new SlopePart
        {
            Slope = row.Number("slope"),
            Information = row.Number("information"),
            OwnVariance = row.Number("own_variance") is > 0 and var own ? own : null,
            Clusters = (int)row.Number("clusters"),
            Periods = [.. seasons[row["area"]].Select(s => (int)s.Number("season") - 1)],
            Leverage = [.. seasons[row["area"]].Select(s => s.Number("leverage"))],
            Residuals = [.. seasons[row["area"]].Select(s => s.Number("residual"))],
            ResidualVariance = row.Number("residual_variance") is > 0 and var accounted ? accounted : null,
            ResponseByLag = ByPlace(response[row["area"]], "lag"),
            CarryOverEvidence = [.. evidence[row["area"]].OrderBy(e => e.Number("point")).Select(e => e.Number("value"))],
        })];
    }

    private static double[] ByPlace(IEnumerable<ReferenceRow> rows, string place)
    {
        var values = new double[(int)rows.Max(row => row.Number(place)) + 1];
        foreach (var row in rows)
            values[(int)row.Number(place)] = row.Number("value");
        return values;
    }

    [Theory]
    [InlineData(SlopePooling.ManyUnits)]
    [InlineData(0)]
    public void Shocks_means_intervals_and_shrunken_slopes_agree_with_matrices_in_R(int manyUnits)
    {
        var pooling = SlopePooling.Of(Parts(), manyUnits)!;
        var shrunken = pooling.Shrunken(Confidence)!;
        var oneMore = pooling.Prediction(pooling.Mean(BetweenVarianceMethod.RestrictedMaximumLikelihood, Confidence).Pooled, Confidence);
        foreach (var row in ReferenceTable.Read("pooled_slopes/expected.csv").Rows)
        {
            var (actual, tolerance) = row["method"] switch
            {
                "" => (Of(pooling.Shocks, row["quantity"]), Near.Estimate),
                "prediction" => (row["quantity"] == "lower" ? oneMore.Lower : oneMore.Upper, Rooted),
                "shrunken" => (Of(shrunken[(int)row.Number("area") - 1], row["quantity"]), Integrated),
                var method => (Of(pooling.Mean(Method(method), Confidence), row["quantity"]), Rooted),
            };
            Near.Relative(row.Number("value"), actual, tolerance, row);
        }
    }

    [Fact]
    public void Kept_by_its_factors_a_covariance_of_many_units_gives_what_its_axes_give()
    {
        var parts = Many(60);
        SlopePooling axes = SlopePooling.Of(parts, int.MaxValue)!, factors = SlopePooling.Of(parts, 0)!;
        foreach (var method in Enum.GetValues<BetweenVarianceMethod>())
        {
            PooledSlope one = axes.Mean(method, Confidence), other = factors.Mean(method, Confidence);
            Assert.True(one.Pooled.Between.Value > 0, "Units that do not differ would test little.");
            Assert.Equal(one.Pooled.Between.Value, other.Pooled.Between.Value, 1e-9 * one.Pooled.Between.Value);
            Assert.Equal(one.Pooled.Between.StandardError ?? 0, other.Pooled.Between.StandardError ?? 0, 1e-9);
            Assert.Equal(one.Interval.Lower, other.Interval.Lower, 1e-9);
            Assert.Equal(one.Interval.Upper, other.Interval.Upper, 1e-9);
            Assert.Equal(one.Pooled.ISquared, other.Pooled.ISquared, 1e-9);
            Assert.Equal(1, other.Pooled.Weights.Sum(), 1e-9);
        }
        Assert.Equal(axes.TauSquared(Confidence).Upper, factors.TauSquared(Confidence).Upper, 1e-9);
        foreach (var (one, other) in axes.Shrunken(Confidence)!.Zip(factors.Shrunken(Confidence)!))
        {
            Assert.Equal(one.Value, other.Value, 1e-7);
            Assert.Equal(one.OwnShare, other.OwnShare, 1e-6);
            Assert.Equal(one.Interval.Lower, other.Interval.Lower, 1e-7);
            Assert.Equal(one.Interval.Upper, other.Interval.Upper, 1e-7);
        }
    }

    /// <summary>The areas of the table again and again, each time with other slopes and variances.</summary>
    private static SlopePart[] Many(int count)
    {
        var parts = Parts();
        return [.. Enumerable.Range(0, count).Select(i => parts[i % parts.Length] with
        {
            Slope = parts[i % parts.Length].Slope + 0.03 * Math.Sin(7 * i),
            OwnVariance = (parts[i % parts.Length].OwnVariance ?? 1e-4) * (1 + i % 5 / 4.0),
        })];
    }

    private static BetweenVarianceMethod Method(string code) => code switch
    {
        "restricted_maximum_likelihood" => BetweenVarianceMethod.RestrictedMaximumLikelihood,
        "der_simonian_laird" => BetweenVarianceMethod.DerSimonianLaird,
        "paule_mandel" => BetweenVarianceMethod.PauleMandel,
        _ => throw new InvalidOperationException($"Nothing checks {code}."),
    };

    private static double Of(SharedShocks shocks, string quantity) => quantity switch
    {
        "carry_over" => shocks.CarryOver,
        "shared" => shocks.Shared,
        "own" => shocks.Own,
        _ => throw new InvalidOperationException($"Nothing checks {quantity}."),
    };

    private static double Of(PooledSlope slope, string quantity) => quantity switch
    {
        "tau2" => slope.Pooled.Between.Value,
        "mean" => slope.Pooled.Mean,
        "standard_error" => slope.Pooled.StandardError,
        "freedom" => slope.DegreesOfFreedom,
        "lower" => slope.Interval.Lower,
        "upper" => slope.Interval.Upper,
        _ => throw new InvalidOperationException($"Nothing checks {quantity}."),
    };

    private static double Of(ShrunkenEstimate estimate, string quantity) => quantity switch
    {
        "value" => estimate.Value,
        "standard_error" => estimate.StandardError,
        "lower" => estimate.Interval.Lower,
        "upper" => estimate.Interval.Upper,
        _ => throw new InvalidOperationException($"Nothing checks {quantity}."),
    };

    [Fact]
    public void Order_of_units_changes_nothing()
    {
        var parts = Parts();
        var one = SlopePooling.Of(parts)!;
        var other = SlopePooling.Of([.. parts.Reverse()])!;
        var (first, second) = (one.Mean(BetweenVarianceMethod.RestrictedMaximumLikelihood, Confidence), other.Mean(BetweenVarianceMethod.RestrictedMaximumLikelihood, Confidence));
        Near.Relative(first.Interval.Lower, second.Interval.Lower, 1e-9, "lower end");
        Near.Relative(one.Shrunken(Confidence)![2].Value, other.Shrunken(Confidence)![^3].Value, 1e-9, "third unit");
    }

    [Fact]
    public void Without_shared_shocks_it_is_the_usual_random_effects_mean()
    {
        // Residuals of 0 have nothing in common, and what little there is the units' own clusters account for.
        SlopePart[] parts = [.. Parts().Select((part, i) => part with { Residuals = [.. part.Residuals.Select(_ => 0.0)], OwnVariance = 0.01 + 0.001 * i, ResidualVariance = 1 })];
        var pooled = SlopePooling.Of(parts)!.Mean(BetweenVarianceMethod.PauleMandel, Confidence).Pooled;
        var usual = PooledMean.Of(
            JointEstimates.Independent([.. parts.Select(p => p.Slope)], [.. parts.Select(p => p.OwnVariance!.Value)]), BetweenVarianceMethod.PauleMandel)!;
        Near.Relative(usual.Mean, pooled.Mean, 1e-9, "mean");
        Near.Relative(usual.HartungKnappStandardError, pooled.HartungKnappStandardError, 1e-9, "standard error");
    }

    /// <summary>Three alike units: Hartung and Knapp's scale would be next to 0. 1.959964 is the normal quantile (R: qnorm(.975)), 4.302653 that of t on 2 degrees of freedom.</summary>
    [Fact]
    public void Units_that_agree_by_chance_make_no_shorter_range_than_their_own_variances_allow()
    {
        SlopePart[] parts = [.. Parts()[..3].Select((part, i) => part with
        {
            Slope = 0.01 + 1e-5 * i, Residuals = [.. part.Residuals.Select(_ => 0.0)], OwnVariance = 0.0012, ResidualVariance = 1,
        })];
        var alike = SlopePooling.Of(parts)!.Mean(BetweenVarianceMethod.RestrictedMaximumLikelihood, Confidence);
        Near.Relative(0.01001 - 1.959964 * 0.02, alike.Interval.Lower, 1e-6, "lower end");
        Near.Relative(0.01001 + 1.959964 * 0.02, alike.Interval.Upper, 1e-6, "upper end");
        parts[2] = parts[2] with { Slope = 0.21 };
        var apart = SlopePooling.Of(parts)!.Mean(BetweenVarianceMethod.RestrictedMaximumLikelihood, Confidence);
        Near.Relative(4.302653 * apart.Pooled.HartungKnappStandardError, apart.Interval.Upper - apart.Pooled.Mean, 1e-6, "half of the range");
    }

    [Fact]
    public void A_unit_of_few_clusters_borrows_more_than_the_same_slope_of_many()
    {
        var parts = Parts();
        var shrunken = SlopePooling.Of(parts)!.Shrunken(Confidence)!;
        Assert.True(shrunken[7].OwnShare < shrunken[4].OwnShare, $"{shrunken[7].OwnShare} of two clusters, {shrunken[4].OwnShare} of twenty");
    }

    [Fact]
    public void Too_little_to_pool_is_an_answer()
    {
        var parts = Parts();
        Assert.Null(SlopePooling.Of(parts[..1]));
        Assert.Null(SlopePooling.Of([parts[3], parts[7]]));
        Assert.Null(SlopePooling.Of(parts[..3])!.Shrunken(Confidence));
        Assert.NotNull(SlopePooling.Of(parts[..4])!.Shrunken(Confidence));
    }
}
