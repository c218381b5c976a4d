using Indicators.Statistics.Pooling;
using Indicators.Statistics.Tests.Reference;
using Xunit;

namespace Indicators.Statistics.Tests.Pooling;

/// <summary>
/// Against tests/reference/pooling: the thirteen BCG trials (Colditz et al. 1994), the values published for them, and dense
/// matrix algebra in R; and eight estimates whose errors go together.
/// </summary>
public class PoolingReferenceTests
{
    private const double Confidence = 0.95;

    /// <summary>The R side integrates adaptively and searches a root of that integral, to about 1e-9 of a standard error.</summary>
    private const double Integrated = 1e-7;

    internal static JointEstimates Data(string name)
    {
        if (name == "shared")
        {
            var rows = ReferenceTable.Read("pooling/shared.csv").Rows.ToArray();
            var covariance = new double[rows.Length, rows.Length];
            for (int i = 0; i < rows.Length; i++)
                for (int j = 0; j < rows.Length; j++)
                    covariance[i, j] = rows[i].Number($"v{j + 1}");
            return JointEstimates.Correlated([.. rows.Select(r => r.Number("estimate"))], covariance);
        }
        var trials = ReferenceTable.Read("pooling/bcg.csv").Rows.Select(r => (
            A: r.Number("vaccinated_cases"), N1: r.Number("vaccinated"), C: r.Number("control_cases"), N2: r.Number("control"))).ToArray();
        return name == "log_risk_ratio"
            ? JointEstimates.Independent(
                [.. trials.Select(t => Math.Log(t.A / t.N1) - Math.Log(t.C / t.N2))],
                [.. trials.Select(t => 1 / t.A - 1 / t.N1 + 1 / t.C - 1 / t.N2)])
            : JointEstimates.Independent(
                [.. trials.Select(t => Math.Log(t.A * (t.N2 - t.C) / ((t.N1 - t.A) * t.C)))],
                [.. trials.Select(t => 1 / t.A + 1 / (t.N1 - t.A) + 1 / t.C + 1 / (t.N2 - t.C))]);
    }

    [Theory]
    [InlineData("log_risk_ratio", 259)]
    [InlineData("log_odds_ratio", 193)]
    [InlineData("shared", 185)]
    public void Every_pooled_value_agrees_with_the_outside_one(string name, int rows)
    {
        var data = Data(name);
        var shrunken = Shrinkage.Of(data, Confidence)!;
        double reml = PooledMean.Of(data)!.Between.Value;
        var predictors = Shrinkage.At(data, reml);
        int checkedRows = 0;
        foreach (var row in ReferenceTable.Read("pooling/expected.csv").Rows.Where(r => r["data"] == name))
        {
            int unit = row["unit"].Length == 0 ? -1 : (int)row.Number("unit") - 1;
            double expected = row.Number("value");
            double actual = (row["method"], row["quantity"]) switch
            {
                ("profile", "tau2_lower") => BetweenVarianceEstimator.QProfile(data, Confidence).Lower,
                ("profile", "tau2_upper") => BetweenVarianceEstimator.QProfile(data, Confidence).Upper,
                ("predictor", "value") => predictors[unit].Value,
                ("predictor", "standard_error") => predictors[unit].StandardError,
                ("predictor", "own_share") => predictors[unit].OwnShare,
                ("shrunken", "value") => shrunken[unit].Value,
                ("shrunken", "standard_error") => shrunken[unit].StandardError,
                ("shrunken", "lower") => shrunken[unit].Interval.Lower,
                ("shrunken", "upper") => shrunken[unit].Interval.Upper,
                ("fixed", var quantity) => FixedEffect(data, quantity),
                (var method, var quantity) => Quantity(PooledMean.Of(data, Enum.Parse<BetweenVarianceMethod>(method))!, quantity, unit),
            };
            checkedRows++;
            if (row["source"].StartsWith("SEEN", StringComparison.Ordinal))
            {
                // Printed digits: half a unit of the last one, and a rounding error of the comparison.
                int digits = int.Parse(row["source"].Split(' ')[2], System.Globalization.CultureInfo.InvariantCulture);
                Assert.True(Math.Abs(expected - actual) <= 0.5 * Math.Pow(10, -digits) + 1e-12, $"{row}: was {actual}");
            }
            else
                Near.Relative(expected, actual, row["method"] == "shrunken" ? Integrated : Near.Estimate, $"{name}: {row}");
        }
        Assert.Equal(rows, checkedRows);
    }

    private static double FixedEffect(JointEstimates data, string quantity)
    {
        var pooled = PooledMean.Of(data)!;
        // With τ² = 0 every predictor is the fixed-effect mean itself.
        var common = Shrinkage.At(data, 0)[0];
        return quantity switch
        {
            "mean" => common.Value,
            "standard_error" => common.StandardError,
            "Q" => pooled.Q,
            "degrees_of_freedom" => pooled.DegreesOfFreedom,
            "typical_variance" => pooled.TypicalVariance,
            _ => throw new InvalidOperationException($"nothing checks {quantity}"),
        };
    }

    private static double Quantity(PooledMean pooled, string quantity, int unit) => quantity switch
    {
        "tau2" => pooled.Between.Value,
        "tau2_standard_error" => pooled.Between.StandardError!.Value,
        "mean" => pooled.Mean,
        "standard_error" => pooled.StandardError,
        "lower" => pooled.NormalInterval(Confidence).Lower,
        "upper" => pooled.NormalInterval(Confidence).Upper,
        "i_squared" => pooled.ISquared,
        "h_squared" => pooled.HSquared,
        "hartung_knapp_standard_error" => pooled.HartungKnappStandardError,
        "hartung_knapp_lower" => pooled.HartungKnappInterval(Confidence).Lower,
        "hartung_knapp_upper" => pooled.HartungKnappInterval(Confidence).Upper,
        "exp_prediction_lower" => Math.Exp(pooled.PredictionInterval(Confidence)!.Value.Lower),
        "exp_prediction_upper" => Math.Exp(pooled.PredictionInterval(Confidence)!.Value.Upper),
        "weight" => pooled.Weights[unit],
        _ when quantity.StartsWith("prediction_", StringComparison.Ordinal) => Prediction(pooled, quantity.Split('_')),
        _ => throw new InvalidOperationException($"nothing checks {quantity}"),
    };

    private static double Prediction(PooledMean pooled, string[] name)
    {
        var interval = pooled.PredictionInterval(Confidence, Enum.Parse<PredictionConvention>(name[2]))!.Value;
        return name[1] == "lower" ? interval.Lower : interval.Upper;
    }
}
