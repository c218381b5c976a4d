using System.Numerics;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;

namespace Indicators.Statistics.Adjusted;

/// <summary>
/// What was different about every visit, on a common scale: one row a visit, shared by all panels that are made of some of them.
/// </summary>
/// <remarks>
/// Covariates are put to mean 0 and standard deviation 1 over all visits given, once, so that effects mean the same in every panel and
/// resample; a missing one (NaN) becomes the mean and is counted. Squares and products are columns of their own, made by the caller.
/// The first column is time, from −1 at the first visit's to 1 at the last's.
/// </remarks>
public sealed class VisitRows
{
    private readonly uint[] _missing;

    /// <summary>Checks and standardises.</summary>
    /// <param name="times">The time of each visit, in periods.</param>
    /// <param name="covariates">Visit after visit, one value a column; NaN where it is not known.</param>
    /// <param name="columns">How many covariates, 0 to 32.</param>
    /// <exception cref="ArgumentException">Lengths disagree or a value is infinite: a bug of the caller.</exception>
    public VisitRows(ReadOnlySpan<double> times, ReadOnlySpan<double> covariates, int columns)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThan(columns, 32);
        int visits = times.Length;
        if (covariates.Length != visits * columns)
            throw new ArgumentException("One row of covariates a visit.", nameof(covariates));
        Columns = columns + 1;
        Stride = CrossProducts.StrideOf(Columns);
        Values = new double[visits * Stride + PanelCounts.Lanes];
        _missing = new uint[visits];
        Covariates = Describe(covariates, columns);
        double first = double.PositiveInfinity, last = double.NegativeInfinity;
        foreach (double t in times)
            (first, last) = (Math.Min(first, t), Math.Max(last, t));
        double middle = (first + last) / 2;
        HalfSpan = last > first ? (last - first) / 2 : 1;
        double[] scale = [.. Covariates.Select(c => c.StandardDeviation > 0 ? 1 / c.StandardDeviation : 0)];
        for (int v = 0; v < visits; v++)
        {
            Values[v * Stride] = (times[v] - middle) / HalfSpan;
            for (int j = 0; j < columns; j++)
            {
                double x = covariates[v * columns + j];
                if (double.IsNaN(x))
                    _missing[v] |= 1u << j;
                else
                    Values[v * Stride + j + 1] = (x - Covariates[j].Mean) * scale[j];
            }
        }
    }

    /// <summary>How each covariate was standardised, in the order given; missing ones are counted over all visits.</summary>
    public IReadOnlyList<Covariate> Covariates { get; }

    /// <summary>Time and the covariates.</summary>
    internal int Columns { get; }

    internal int Stride { get; }

    /// <summary>What the time column divides by.</summary>
    internal double HalfSpan { get; }

    /// <summary>Visit after visit: time, then the covariates, standardised, padded with zeros.</summary>
    internal double[] Values { get; }

    /// <summary>Adds to each covariate's count whether one visit lacks it.</summary>
    internal void CountMissing(int visit, Span<int> missing)
    {
        for (uint left = _missing[visit]; left != 0; left &= left - 1)
            missing[BitOperations.TrailingZeroCount(left)]++;
    }

    private static Covariate[] Describe(ReadOnlySpan<double> covariates, int columns)
    {
        var described = new Covariate[columns];
        for (int j = 0; j < columns; j++)
        {
            int known = 0, missing = 0;
            double mean = 0, squares = 0;
            for (int i = j; i < covariates.Length; i += columns)
            {
                double x = covariates[i];
                if (double.IsInfinity(x))
                    throw new ArgumentException("Covariates are finite or NaN.", nameof(covariates));
                if (double.IsNaN(x))
                {
                    missing++;
                    continue;
                }
                // Welford's running sums: a large mean does not eat the spread.
                known++;
                double before = x - mean;
                mean += before / known;
                squares += before * (x - mean);
            }
            double deviation = known == 0 ? 0 : Math.Sqrt(squares / known);
            // A spread of rounding size is none.
            described[j] = new Covariate(mean, deviation > 1e-12 * Math.Abs(mean) ? deviation : 0, missing);
        }
        return described;
    }
}
