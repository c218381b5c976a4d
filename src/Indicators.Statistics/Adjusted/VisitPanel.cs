using Indicators.Statistics.Panels;

namespace Indicators.Statistics.Adjusted;

/// <summary>
/// The single visits behind a panel's cells, with what was different about each: what the adjusted models are fitted to.
/// </summary>
/// <remarks>
/// A cell's count is the sum of its visits' and its exposure their number, so one <see cref="Resample"/> of the panel serves raw and
/// adjusted fits alike. What was different stands in <see cref="VisitRows"/>, on one scale for all panels made of them. Visits are held by
/// unit and period; those of units without a count say nothing and are dropped.
/// </remarks>
public sealed class VisitPanel
{
    /// <summary>Checks and copies visits that have a scale of their own.</summary>
    /// <param name="panel">The panel they add up to.</param>
    /// <param name="units">The unit of each visit.</param>
    /// <param name="periods">The period of each visit, an index into the panel's times.</param>
    /// <param name="counts">The count of each visit.</param>
    /// <param name="covariates">Visit after visit, one value a column; NaN where it is not known.</param>
    /// <param name="columns">How many covariates, 0 or more.</param>
    /// <exception cref="ArgumentException">Lengths disagree, a value is out of range or the sums are not the panel's: a bug of the caller.</exception>
    public VisitPanel(
        PanelCounts panel, ReadOnlySpan<int> units, ReadOnlySpan<int> periods, ReadOnlySpan<double> counts, ReadOnlySpan<double> covariates, int columns)
        : this(panel, new VisitRows(TimesOf(panel, periods), covariates, columns), units, periods, counts, InOrder(units.Length))
    {
    }

    /// <summary>Checks and copies visits that share their rows with other panels.</summary>
    /// <param name="panel">The panel they add up to.</param>
    /// <param name="rows">The rows; their times are in the panel's unit.</param>
    /// <param name="units">The unit of each visit.</param>
    /// <param name="periods">The period of each visit, an index into the panel's times.</param>
    /// <param name="counts">The count of each visit.</param>
    /// <param name="rowOf">The row of each visit.</param>
    /// <exception cref="ArgumentException">Lengths disagree, a value is out of range or the sums are not the panel's: a bug of the caller.</exception>
    public VisitPanel(
        PanelCounts panel, VisitRows rows, ReadOnlySpan<int> units, ReadOnlySpan<int> periods, ReadOnlySpan<double> counts, ReadOnlySpan<int> rowOf)
    {
        if (periods.Length != units.Length || counts.Length != units.Length || rowOf.Length != units.Length)
            throw new ArgumentException("One unit, period, count and row a visit.", nameof(rowOf));
        (Panel, Rows) = (panel, rows);
        CheckSums(panel, units, periods, counts);
        int[] missing = new int[Columns];
        foreach (int row in rowOf)
            rows.CountMissing(row, missing);
        Covariates = [.. rows.Covariates.Select((c, j) => c with { Missing = missing[j] })];
        Visits = units.Length;

        int[] order = Order(panel, units, periods, out int[] first);
        First = first;
        Periods = new int[order.Length];
        Counts = new double[order.Length];
        RowOf = new int[order.Length];
        Observed = new double[panel.Units * Stride + PanelCounts.Lanes];
        for (int v = 0; v < order.Length; v++)
        {
            int from = order[v];
            (Periods[v], Counts[v], RowOf[v]) = (periods[from], counts[from], rowOf[from]);
            if (Counts[v] == 0)
                continue;
            for (int j = 0; j < Columns; j++)
                Observed[units[from] * Stride + j] += Counts[v] * rows.Values[RowOf[v] * Stride + j];
        }
    }

    /// <summary>The panel the visits add up to, whose resamples are fitted.</summary>
    public PanelCounts Panel { get; }

    /// <summary>How each covariate was standardised, in the order given, and how many of these visits lack it.</summary>
    public IReadOnlyList<Covariate> Covariates { get; }

    /// <summary>How many visits were given.</summary>
    public int Visits { get; }

    /// <summary>How many visits are at units with counts, and so inform the fit.</summary>
    public int InformativeVisits => Periods.Length;

    /// <summary>Whether a covariate differs between the visits that inform the fit, a missing one taken as the mean.</summary>
    public bool Varies(int covariate)
    {
        foreach (int row in RowOf)
            if (Rows.Values[row * Stride + covariate + 1] != Rows.Values[RowOf[0] * Stride + covariate + 1])
                return true;
        return false;
    }

    /// <summary>The rows of all visits.</summary>
    internal VisitRows Rows { get; }

    /// <summary>The time column and the covariates.</summary>
    internal int Columns => Rows.Columns;

    internal int Stride => Rows.Stride;

    /// <summary>What the time column divides by.</summary>
    internal double HalfSpan => Rows.HalfSpan;

    /// <summary>Where each unit's visits begin; the next entry is where they end.</summary>
    internal int[] First { get; }

    internal int[] Periods { get; }

    internal double[] Counts { get; }

    /// <summary>The row of each visit.</summary>
    internal int[] RowOf { get; }

    /// <summary>Σ_v y_v x_v of each unit, laid out like the rows.</summary>
    internal double[] Observed { get; }

    private static double[] TimesOf(PanelCounts panel, ReadOnlySpan<int> periods)
    {
        var times = new double[periods.Length];
        for (int v = 0; v < times.Length; v++)
            times[v] = (uint)periods[v] < (uint)panel.Periods
                ? panel.Times[periods[v]]
                : throw new ArgumentException("A visit is in no period of the panel.", nameof(periods));
        return times;
    }

    private static int[] InOrder(int count) => [.. Enumerable.Range(0, count)];

    private static void CheckSums(PanelCounts panel, ReadOnlySpan<int> units, ReadOnlySpan<int> periods, ReadOnlySpan<double> counts)
    {
        double[] sum = new double[panel.Units * panel.Periods], number = new double[sum.Length];
        for (int v = 0; v < units.Length; v++)
        {
            if ((uint)units[v] >= (uint)panel.Units || (uint)periods[v] >= (uint)panel.Periods)
                throw new ArgumentException("A visit is at no unit or in no period of the panel.", nameof(units));
            if (!(counts[v] >= 0))
                throw new ArgumentException("Counts are not negative.", nameof(counts));
            int cell = units[v] * panel.Periods + periods[v];
            sum[cell] += counts[v];
            number[cell]++;
        }
        for (int s = 0, i = 0; s < panel.Units; s++)
            for (int t = 0; t < panel.Periods; t++, i++)
                if (number[i] != panel.Exposure(s, t) || Math.Abs(sum[i] - panel.Count(s, t)) > 1e-9 * (1 + sum[i]))
                    throw new ArgumentException("The visits do not add up to the panel's cells.", nameof(counts));
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
