using Indicators.Analysis.Results;

namespace Indicators.Web.Reading;

/// <summary>Trends in a table, one a species or one an area.</summary>
internal sealed record TrendTable(string Caption, string Of, IReadOnlyList<TrendRow> Rows)
{
    /// <summary>Whether the edition says how well its trends are supported.</summary>
    public bool HasEvidence => Rows.Any(row => row.Evidence is not null);

    /// <summary>What needs a look first: going down, going up, holding steady, can't tell, not heard.</summary>
    public static int Urgency(Trend trend) => (trend.Status, trend.Direction) switch
    {
        (TrendStatus.NeverHeard, _) => 4,
        (_, Direction.Down) => 0,
        (_, Direction.Up) => 1,
        (_, Direction.Steady) => 2,
        _ => 3,
    };
}

/// <summary>One row: whose trend, where more of it is, and what stands behind it.</summary>
internal sealed record TrendRow(string Name, string Href, Trend Trend, SeriesEvidence? Evidence = null);
