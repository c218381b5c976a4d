using Indicators.Statistics.Intervals;
using Xunit;

namespace Indicators.Statistics.Tests.Reference;

/// <summary>Quantiles against R 4.2.2 (qnorm, pnorm, qt, quantile): tests/reference/quantiles/make.R.</summary>
public class QuantileReferenceTests
{
    // Far closer than any interval needs; wide enough for another library's last digits.
    private const double Tolerance = 1e-10;

    [Fact]
    public void Normal_quantiles_agree_with_R() => Assert.All(ReferenceTable.Read("quantiles/normal.csv").Rows, row =>
        Near.Relative(row.Number("quantile"), Quantile.OfNormal(row.Number("p")), Tolerance, row));

    [Fact]
    public void Normal_probabilities_agree_with_R() => Assert.All(ReferenceTable.Read("quantiles/normal_cdf.csv").Rows, row =>
        Assert.Equal(1, Quantile.NormalCdf(row.Number("x")) / row.Number("probability"), Tolerance));

    [Theory]
    [InlineData("quantiles/student.csv")]
    [InlineData("quantiles/student_fractional.csv")]
    public void Student_quantiles_agree_with_R(string table) => Assert.All(ReferenceTable.Read(table).Rows, row =>
        Near.Relative(row.Number("quantile"), Quantile.OfStudentT(row.Number("p"), row.Number("df")), Tolerance, row));

    [Fact]
    public void Sample_quantiles_agree_with_R()
    {
        var samples = ReferenceTable.Read("quantiles/samples.csv").Rows.ToLookup(r => r["sample"], r => r.Number("value"));
        var rows = ReferenceTable.Read("quantiles/quantiles.csv").Rows.ToArray();
        Assert.Equal(samples.Select(s => s.Key).Order(), rows.Select(r => r["sample"]).Distinct().Order());
        foreach (var row in rows)
        {
            double[] sorted = [.. samples[row["sample"]].Order()], shares = [.. sorted.Select(_ => 1.0 / sorted.Length)];
            double actual = row["type"] switch
            {
                "6" => SampleQuantile.Type6(sorted, row.Number("level")),
                "1" => SampleQuantile.InverseCdf(sorted, shares, row.Number("level")),
                var other => throw new InvalidOperationException($"nothing checks type {other}"),
            };
            Near.Relative(row.Number("quantile"), actual, 1e-13, row);
        }
    }
}
