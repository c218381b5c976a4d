using System.Globalization;
using Indicators.Statistics.Resampling;
using Xunit;

namespace Indicators.Statistics.Tests.Reference;

/// <summary>
/// The generator against the vectors published with it (Salmon, Moraes, Dror and Shaw 2011; the authors' library,
/// tests/kat_vectors) and against an independent implementation in Python: tests/reference/random/make.py.
/// </summary>
public class RandomReferenceTests
{
    [Theory]
    [InlineData("random/known_answers.csv", 3)]
    [InlineData("random/further.csv", 62)]
    public void Philox_gives_the_words_of_the_table(string table, int rows)
    {
        int seen = 0;
        foreach (var row in ReferenceTable.Read(table).Rows)
        {
            seen++;
            Assert.Equal(
                (row.Hex("r0"), row.Hex("r1"), row.Hex("r2"), row.Hex("r3")),
                Philox.Block(row.Hex("c0"), row.Hex("c1"), row.Hex("c2"), row.Hex("c3"), row.Hex("k0"), row.Hex("k1")));
        }
        Assert.Equal(rows, seen);
    }

    [Fact]
    public void Resampling_plan_draws_what_the_published_methods_draw()
    {
        foreach (var row in ReferenceTable.Read("random/plan.csv").Rows)
        {
            int clusters = int.Parse(row["clusters"], CultureInfo.InvariantCulture);
            var plan = new ResamplingPlan(
                ulong.Parse(row["seed"], CultureInfo.InvariantCulture), ulong.Parse(row["stream"], CultureInfo.InvariantCulture), clusters);
            var drawn = new int[clusters];
            plan.Draw(int.Parse(row["resample"], CultureInfo.InvariantCulture), drawn);
            Assert.Equal(row["multiplicities"], string.Join(' ', drawn));
        }
    }
}
