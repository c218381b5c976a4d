using Indicators.Analysis.Results;
using Indicators.Storage.Editions.Tables;
using Microsoft.Data.Sqlite;

namespace Indicators.Storage.Editions;

/// <summary>Writes and reads whole area results.</summary>
internal static class EditionResults
{
    /// <summary>Writes areas, in place of what an interrupted run may have left of them.</summary>
    internal static void Write(SqliteConnection connection, long edition, IReadOnlyList<AreaResult> results)
    {
        foreach (var result in results)
            Clear(connection, edition, result.Area.Code.ToString());
        AreaTables.Areas.Write(connection, edition, results.Select(result => result.Area));
        AreaTables.Expected.Write(connection, edition, results.SelectMany(result =>
            result.Area.Expected.Select(species => (result.Area.Code, species))));
        AreaTables.Effort.Write(connection, edition, results.SelectMany(result => result.Effort));
        TrendTable.Trends.Write(connection, edition, results.SelectMany(result => result.Trends));
        IndexTables.Indices.Write(connection, edition, results.SelectMany(result => result.Indices));
        IndexTables.Group.Write(connection, edition, results.SelectMany(result => result.Group));
        TrendVariantTable.Variants.Write(connection, edition, results.SelectMany(result => result.Variants));
        GroupTrendTable.GroupTrends.Write(connection, edition, results.SelectMany(result => result.GroupTrends));
        PoolingTables.Parts.Write(connection, edition, results.SelectMany(result => result.PoolingParts));
        AdjustedTables.Effects.Write(connection, edition, results.SelectMany(result => result.Effects));
        SmoothTables.Points.Write(connection, edition, results.SelectMany(result => result.Smooth));
        SmoothTables.Changes.Write(connection, edition, results.SelectMany(result => result.Changes));
        EvidenceTable.Evidence.Write(connection, edition, results.SelectMany(result => result.Evidence));
        OccupancyTables.Points.Write(connection, edition, results.SelectMany(result => result.Occupancy));
        OccupancyTables.Rates.Write(connection, edition, results.SelectMany(result => result.OccupancyRates));
        OccupancyTables.Detection.Write(connection, edition, results.SelectMany(result => result.Detection));
        SilenceTables.Silences.Write(connection, edition, results.SelectMany(result => result.Silences));
        SilenceTables.Tallies.Write(connection, edition, results.SelectMany(result => result.SilenceTallies));
        CallingTimeTable.Times.Write(connection, edition, results.SelectMany(result => result.CallingTimes));
        ChangeTables.Calling.Write(connection, edition, results.SelectMany(result => result.CallingChanges));
        ChangeTables.WriteScores(connection, edition, [.. results.SelectMany(result => result.ScoreChanges)]);
        ChangeTables.Gaps.Write(connection, edition, results.SelectMany(result => result.Gaps));
        ConditionTables.Write(connection, edition, [.. results.SelectMany(result => result.Conditions)]);
    }

    /// <summary>All areas written so far, ordered by code, with what the results of all areas together rest on.</summary>
    internal static List<AreaResult> ForTogether(SqliteConnection connection, long edition)
    {
        var trends = TrendTable.Trends.Read(connection, edition).ToLookup(row => row.Area);
        var indices = IndexTables.Indices.Read(connection, edition).ToLookup(row => row.Area);
        var poolingParts = PoolingTables.Parts.Read(connection, edition).ToLookup(row => row.Area);
        return [.. Areas(connection, edition, null).Select(area => new AreaResult
        {
            Area = area,
            Effort = [],
            Trends = [.. trends[area.Code]],
            Indices = [.. indices[area.Code]],
            Group = [],
            Conditions = [],
            PoolingParts = [.. poolingParts[area.Code]],
        })];
    }

    /// <summary>Areas with their expected lists.</summary>
    internal static List<Area> Areas(SqliteConnection connection, long edition, string? code)
    {
        var expected = AreaTables.Expected.Read(connection, edition, ("area", code)).ToLookup(pair => pair.Area, pair => pair.Species);
        return [.. AreaTables.Areas.Read(connection, edition, ("area", code))
            .Select(area => area with { Expected = [.. expected[area.Code].Order()] })];
    }

    private static void Clear(SqliteConnection connection, long edition, string area)
    {
        AreaTables.Areas.Clear(connection, edition, area);
        AreaTables.Expected.Clear(connection, edition, area);
        AreaTables.Effort.Clear(connection, edition, area);
        TrendTable.Trends.Clear(connection, edition, area);
        IndexTables.Indices.Clear(connection, edition, area);
        TrendVariantTable.Variants.Clear(connection, edition, area);
        AdjustedTables.Effects.Clear(connection, edition, area);
        SmoothTables.Points.Clear(connection, edition, area);
        SmoothTables.Changes.Clear(connection, edition, area);
        CallingTimeTable.Times.Clear(connection, edition, area);
        IndexTables.Group.Clear(connection, edition, area);
        GroupTrendTable.GroupTrends.Clear(connection, edition, area);
        PoolingTables.Parts.Clear(connection, edition, area);
        EvidenceTable.Evidence.Clear(connection, edition, area);
        OccupancyTables.Points.Clear(connection, edition, area);
        OccupancyTables.Rates.Clear(connection, edition, area);
        OccupancyTables.Detection.Clear(connection, edition, area);
        SilenceTables.Silences.Clear(connection, edition, area);
        SilenceTables.Tallies.Clear(connection, edition, area);
        ChangeTables.Clear(connection, edition, area);
        ConditionTables.Clear(connection, edition, area);
    }
}
