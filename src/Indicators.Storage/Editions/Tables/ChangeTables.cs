using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Microsoft.Data.Sqlite;

namespace Indicators.Storage.Editions.Tables;

/// <summary>The last season set beside earlier ones: calling, scores with their lines, and what of the listening is missing.</summary>
internal static class ChangeTables
{
    internal static readonly ResultTable<CallingChange> Calling = new(
        "edition_calling_change",
        "area, species_id, place",
        row => new CallingChange
        {
            Area = row.Area(),
            Species = row.Species(),
            Since = row.Coded<ChangeSince>("since"),
            FromFirst = row.Whole("from_first"),
            FromLast = row.Whole("from_last"),
            Season = row.Whole("season"),
            SurveysBefore = row.Whole("surveys_before"),
            SurveysNow = row.Whole("surveys_now"),
            MeanBefore = row.Real("mean_before"),
            MeanNow = row.Real("mean_now"),
            Total = row.RealOrNull("total"),
            TotalLower = row.RealOrNull("total_lower"),
            TotalUpper = row.RealOrNull("total_upper"),
            Stations = row.RealOrNull("stations"),
            Visits = row.RealOrNull("visits"),
            Windows = row.RealOrNull("windows"),
            Observers = row.RealOrNull("observers"),
            Method = row.RealOrNull("method"),
            Heard = row.RealOrNull("heard"),
            HeardLower = row.RealOrNull("heard_lower"),
            HeardUpper = row.RealOrNull("heard_upper"),
            Stop = row.Coded<ChangeStop>("stop"),
            StoppedAt = row.TextOrNull("stopped_at") is { } step ? ResultCode.Read<ListeningStep>(step) : null,
            SharedWetlands = row.Whole("shared_wetlands"),
            SharedSurveys = row.Whole("shared_surveys"),
        },
        [
            new("area", change => change.Area.ToString()),
            new("species_id", change => change.Species.ToString()),
            new("place", change => (int)change.Since),
            new("since", change => ResultCode.Of(change.Since)),
            new("from_first", change => change.FromFirst),
            new("from_last", change => change.FromLast),
            new("season", change => change.Season),
            new("surveys_before", change => change.SurveysBefore),
            new("surveys_now", change => change.SurveysNow),
            new("mean_before", change => change.MeanBefore),
            new("mean_now", change => change.MeanNow),
            new("total", change => change.Total),
            new("total_lower", change => change.TotalLower),
            new("total_upper", change => change.TotalUpper),
            new("stations", change => change.Stations),
            new("visits", change => change.Visits),
            new("windows", change => change.Windows),
            new("observers", change => change.Observers),
            new("method", change => change.Method),
            new("heard", change => change.Heard),
            new("heard_lower", change => change.HeardLower),
            new("heard_upper", change => change.HeardUpper),
            new("stop", change => ResultCode.Of(change.Stop)),
            new("stopped_at", change => change.StoppedAt is { } step ? ResultCode.Of(step) : null),
            new("shared_wetlands", change => change.SharedWetlands),
            new("shared_surveys", change => change.SharedSurveys),
        ]);

    private static readonly ResultTable<ScoreChange> Scores = new(
        "edition_score_change",
        "area, place",
        row => new ScoreChange
        {
            Area = row.Area(),
            Since = row.Coded<ChangeSince>("since"),
            FromSeason = row.Whole("from_season"),
            Season = row.Whole("season"),
            Points = row.Real("points"),
            Lower = row.RealOrNull("lower"),
            Upper = row.RealOrNull("upper"),
            SpeciesSplit = row.Whole("species_split"),
            SpeciesCompared = row.Whole("species_compared"),
            Lines = [],
        },
        [
            new("area", change => change.Area.ToString()),
            new("place", change => (int)change.Since),
            new("since", change => ResultCode.Of(change.Since)),
            new("from_season", change => change.FromSeason),
            new("season", change => change.Season),
            new("points", change => change.Points),
            new("lower", change => change.Lower),
            new("upper", change => change.Upper),
            new("species_split", change => change.SpeciesSplit),
            new("species_compared", change => change.SpeciesCompared),
        ]);

    private static readonly ResultTable<(WatershedCode Area, int Place, int Number, ScoreChangeLine Line)> Lines = new(
        "edition_score_change_line",
        "area, place, line",
        row => (row.Area(), row.Whole("place"), row.Whole("line"), new ScoreChangeLine(
            row.TextOrNull("step") is { } step ? ResultCode.Read<ListeningStep>(step) : null,
            row.Coded<ScorePart>("part"),
            row.TextOrNull("species_id") is { } id ? StoredText.Id<Species>(id) : null,
            row.Real("points"))),
        [
            new("area", placed => placed.Area.ToString()),
            new("place", placed => placed.Place),
            new("line", placed => placed.Number),
            new("step", placed => placed.Line.Step is { } step ? ResultCode.Of(step) : null),
            new("part", placed => ResultCode.Of(placed.Line.Part)),
            new("species_id", placed => placed.Line.Species?.ToString()),
            new("points", placed => placed.Line.Points),
        ]);

    internal static readonly ResultTable<SeasonGap> Gaps = new(
        "edition_gap",
        "area, season",
        row => new SeasonGap(
            row.Area(), row.Whole("season"), row.Whole("stations_before"), row.Whole("stations_missed"),
            row.Whole("windows"), row.Whole("windows_without"), row.Whole("parts"), row.Whole("parts_without")),
        [
            new("area", gap => gap.Area.ToString()),
            new("season", gap => gap.Season),
            new("stations_before", gap => gap.StationsBefore),
            new("stations_missed", gap => gap.StationsMissed),
            new("windows", gap => gap.Windows),
            new("windows_without", gap => gap.WindowsWithout),
            new("parts", gap => gap.Parts),
            new("parts_without", gap => gap.PartsWithout),
        ]);

    internal static void WriteScores(SqliteConnection connection, long edition, IReadOnlyList<ScoreChange> changes)
    {
        Scores.Write(connection, edition, changes);
        Lines.Write(connection, edition, changes.SelectMany(change =>
            change.Lines.Select((line, number) => (change.Area, (int)change.Since, number, line))));
    }

    internal static List<ScoreChange> ReadScores(SqliteConnection connection, long edition, string? area)
    {
        var lines = Lines.Read(connection, edition, ("area", area)).ToLookup(placed => (placed.Area, placed.Place), placed => placed.Line);
        return [.. Scores.Read(connection, edition, ("area", area)).Select(change => change with { Lines = [.. lines[(change.Area, (int)change.Since)]] })];
    }

    internal static void Clear(SqliteConnection connection, long edition, string area)
    {
        Calling.Clear(connection, edition, area);
        Scores.Clear(connection, edition, area);
        Lines.Clear(connection, edition, area);
        Gaps.Clear(connection, edition, area);
    }
}
