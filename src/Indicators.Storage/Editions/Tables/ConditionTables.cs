using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Microsoft.Data.Sqlite;

namespace Indicators.Storage.Editions.Tables;

/// <summary>One line of a score's explanation with the place it belongs to.</summary>
internal sealed record PlacedLine(WatershedCode Area, int Season, int Number, ConditionLine Line);

/// <summary>Conditions and the lines that explain them.</summary>
internal static class ConditionTables
{
    internal static readonly ResultTable<Condition> Heads = new(
        "edition_condition",
        "area, season",
        row => new Condition
        {
            Area = row.Area(),
            Season = row.Whole("season"),
            Lacks = (ScoreLack)row.Whole("lacks"),
            Score = row.RealOrNull("score"),
            Lower = row.RealOrNull("lower"),
            Upper = row.RealOrNull("upper"),
            Class = row.TextOrNull("class") is { } code ? ResultCode.Read<ConditionClass>(code) : null,
            ProbabilityGood = row.RealOrNull("probability_good"),
            ProbabilityFair = row.RealOrNull("probability_fair"),
            ProbabilityPoor = row.RealOrNull("probability_poor"),
            PresencePart = row.RealOrNull("presence_part"),
            SensitivityPart = row.RealOrNull("sensitivity_part"),
            CallingPart = row.RealOrNull("calling_part"),
            DirectionPart = row.RealOrNull("direction_part"),
            Expected = row.Whole("expected"),
            Heard = row.Whole("heard"),
            SeasonsInWindow = row.Whole("seasons_in_window"),
            Wetlands = row.Whole("wetlands"),
            Surveys = row.Whole("surveys"),
            ConservatismIndex = row.RealOrNull("conservatism_index"),
            PresenceRawPart = row.RealOrNull("presence_raw_part"),
            SensitivityRawPart = row.RealOrNull("sensitivity_raw_part"),
        },
        [
            new("area", condition => condition.Area.ToString()),
            new("season", condition => condition.Season),
            new("lacks", condition => (int)condition.Lacks),
            new("score", condition => condition.Score),
            new("lower", condition => condition.Lower),
            new("upper", condition => condition.Upper),
            new("class", condition => condition.Class is { } value ? ResultCode.Of(value) : null),
            new("probability_good", condition => condition.ProbabilityGood),
            new("probability_fair", condition => condition.ProbabilityFair),
            new("probability_poor", condition => condition.ProbabilityPoor),
            new("presence_part", condition => condition.PresencePart),
            new("sensitivity_part", condition => condition.SensitivityPart),
            new("calling_part", condition => condition.CallingPart),
            new("direction_part", condition => condition.DirectionPart),
            new("expected", condition => condition.Expected),
            new("heard", condition => condition.Heard),
            new("seasons_in_window", condition => condition.SeasonsInWindow),
            new("wetlands", condition => condition.Wetlands),
            new("surveys", condition => condition.Surveys),
            new("conservatism_index", condition => condition.ConservatismIndex),
            new("presence_raw_part", condition => condition.PresenceRawPart),
            new("sensitivity_raw_part", condition => condition.SensitivityRawPart),
        ]);

    private static readonly ResultTable<PlacedLine> Lines = new(
        "edition_condition_line",
        "area, season, line",
        row => new PlacedLine(
            row.Area(),
            row.Whole("season"),
            row.Whole("line"),
            new ConditionLine(
                row.Coded<ScorePart>("part"),
                row.TextOrNull("species_id") is { } id ? StoredText.Id<Species>(id) : null,
                row.Real("points"),
                row.RealOrNull("change"))),
        [
            new("area", placed => placed.Area.ToString()),
            new("season", placed => placed.Season),
            new("line", placed => placed.Number),
            new("part", placed => ResultCode.Of(placed.Line.Part)),
            new("species_id", placed => placed.Line.Species?.ToString()),
            new("points", placed => placed.Line.Points),
            new("change", placed => placed.Line.Change),
        ]);

    internal static void Write(SqliteConnection connection, long edition, IReadOnlyList<Condition> conditions)
    {
        Heads.Write(connection, edition, conditions);
        Lines.Write(connection, edition, conditions.SelectMany(condition =>
            condition.Lines.Select((line, number) => new PlacedLine(condition.Area, condition.Season, number, line))));
    }

    internal static List<Condition> Read(SqliteConnection connection, long edition, string? area, int? season)
    {
        var lines = Lines.Read(connection, edition, ("area", area), ("season", season)).ToLookup(
            placed => (placed.Area, placed.Season),
            placed => placed.Line);
        return [.. Heads.Read(connection, edition, ("area", area), ("season", season))
            .Select(condition => condition with { Lines = [.. lines[(condition.Area, condition.Season)]] })];
    }

    internal static void Clear(SqliteConnection connection, long edition, string area)
    {
        Heads.Clear(connection, edition, area);
        Lines.Clear(connection, edition, area);
    }
}
