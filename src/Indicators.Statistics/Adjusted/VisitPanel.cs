using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;

namespace Indicators.Statistics.Adjusted;

/// <summary>
/// The single visits behind a panel's cells, with what was different about each: what the adjusted models are fitted to.
/// </summary>
/// <remarks>
/// A cell's count is the sum of its visits' and its exposure their number, so one <see cref="Resample"/> of the panel serves raw and
/// adjusted fits alike. Covariates are put to mean 0 and standard deviation 1 over all visits given, once, and stay so in every
/// resample; a missing one (NaN) becomes the mean and is counted. Squares and products are columns of their own, made by
/// the caller. Visits are held by unit and period; those of units without a count say nothing and are dropped after standardising.
/// </remarks>
public sealed class VisitPanel
{
    /// <summary>Checks, standardises and copies the visits.</summary>
    /// <param name="panel">The panel they add up to.</param>
    /// <param name="units">The unit of each visit.</param>
    /// <param name="periods">The period of each visit, an index into the panel's times.</param>
    /// <param name="counts">The count of each visit.</param>
    /// <param name="covariates">Visit after visit, one value a column; NaN where it is not known.</param>
    /// <param name="columns">How many covariates, 0 or more.</param>
    /// <exception cref="ArgumentException">Lengths disagree, a value is out of range or the sums are not the panel's: a bug of the caller.</exception>
    public VisitPanel(
        PanelCounts panel, ReadOnlySpan<int> units, ReadOnlySpan<int> periods, ReadOnlySpan<double> counts, ReadOnlySpan<double> covariates, int columns)
    {
        int visits = units.Length;
        if (periods.Length != visits || counts.Length != visits || covariates.Length != visits * columns)
            throw new ArgumentException("One unit, period, count and row of covariates a visit.", nameof(covariates));
        Panel = panel;
        CheckSums(panel, units, periods, counts);
        Covariates = Describe(covariates, columns);

        Columns = columns + 1;
        Stride = CrossProducts.StrideOf(Columns);
        double span = panel.Times[^1] - panel.Times[0];
        (Middle, HalfSpan) = ((panel.Times[0] + panel.Times[^1]) / 2, span > 0 ? span / 2 : 1);

        int[] order = Order(panel, units, periods, out int[] first);
        First = first;
        Periods = new int[order.Length];
        Counts = new double[order.Length];
        Rows = new double[order.Length * Stride + PanelCounts.Lanes];
        Observed = new double[panel.Units * Stride + PanelCounts.Lanes];
        for (int v = 0; v < order.Length; v++)
        {
            int from = order[v];
            Periods[v] = periods[from];
            Counts[v] = counts[from];
            Rows[v * Stride] = (panel.Times[periods[from]] - Middle) / HalfSpan;
            for (int j = 0; j < columns; j++)
            {
                double x = covariates[from * columns + j];
                var scale = Covariates[j];
                Rows[v * Stride + j + 1] = double.IsNaN(x) || scale.StandardDeviation == 0 ? 0 : (x - scale.Mean) / scale.StandardDeviation;
            }
            for (int j = 0; j < Columns; j++)
                Observed[units[from] * Stride + j] += Counts[v] * Rows[v * Stride + j];
        }
    }

    /// <summary>The panel the visits add up to, whose resamples are fitted.</summary>
    public PanelCounts Panel { get; }

    /// <summary>How each covariate was standardised, in the order given.</summary>
    public IReadOnlyList<Covariate> Covariates { get; }

    /// <summary>How many visits are at units with counts, and so inform the fit.</summary>
    public int InformativeVisits => Periods.Length;

    /// <summary>The time column and the covariates.</summary>
    internal int Columns { get; }

    internal int Stride { get; }

    /// <summary>What the time column subtracts.</summary>
    internal double Middle { get; }

    /// <summary>What the time column divides by.</summary>
    internal double HalfSpan { get; }

    /// <summary>Where each unit's visits begin; the next entry is where they end.</summary>
    internal int[] First { get; }

    internal int[] Periods { get; }

    internal double[] Counts { get; }

    /// <summary>Visit after visit: time, then the covariates, standardised, padded with zeros.</summary>
    internal double[] Rows { get; }

    /// <summary>Σ_v y_v x_v of each unit, laid out like the rows.</summary>
    internal double[] Observed { get; }

    private static void CheckSums(PanelCounts panel, ReadOnlySpan<int> units, ReadOnlySpan<int> periods, ReadOnlySpan<double> counts)
    {
        double[] sum = new double[panel.Units * panel.Periods], number = new double[sum.Length];
        for (int v = 0; v < units.Length; v++)
        {
            if ((uint)units[v] >= (uint)panel.Units || (uint)periods[v] >= (uint)panel.Periods)
                throw new ArgumentException("A visit is at no unit or in no period of the panel.", nameof(units));
            if (!(counts[v] >= 0))
                throw new ArgumentException("Counts are not negative.", nameof(counts));
            sum[units[v] * panel.Periods + periods[v]] += counts[v];
            number[units[v] * panel.Periods + periods[v]]++;
        }
        for (int i = 0; i < sum.Length; i++)
        {
            int s = i / panel.Periods, t = i % panel.Periods;
            if (number[i] != panel.Exposure(s, t) || Math.Abs(sum[i] - panel.Count(s, t)) > 1e-9 * (1 + sum[i]))
                throw new ArgumentException("The visits do not add up to the panel's cells.", nameof(counts));
        }
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

    /// <summary>The visits of units with counts, by unit, then period, then as given.</summary>
    private static int[] Order(PanelCounts panel, ReadOnlySpan<int> units, ReadOnlySpan<int> periods, out int[] first)
    {
        var place = new int[panel.Units * panel.Periods + 1];
        for (int v = 0; v < units.Length; v++)
            if (panel.Heard[units[v]] != 0)
                place[units[v] * panel.Periods + periods[v] + 1]++;
        for (int i = 1; i < place.Length; i++)
            place[i] += place[i - 1];
        first = new int[panel.Units + 1];
        for (int s = 0; s <= panel.Units; s++)
            first[s] = place[s * panel.Periods];
        var order = new int[place[^1]];
        for (int v = 0; v < units.Length; v++)
            if (panel.Heard[units[v]] != 0)
                order[place[units[v] * panel.Periods + periods[v]]++] = v;
        return order;
    }
}
