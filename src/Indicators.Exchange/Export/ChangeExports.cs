using Indicators.Analysis.Results;

namespace Indicators.Exchange.Export;

/// <summary>The tables that set the last season beside earlier ones.</summary>
public static class ChangeExports
{
    /// <summary>One row an area, species and time before: the change of calling and what it is made of.</summary>
    public static ExportTable Change(IEnumerable<CallingChange> changes) => ExportTable.Of("change", changes,
    [
        new("watershed_code", change => change.Area.ToString()),
        new("species_id", change => change.Species.ToString()),
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

    /// <summary>One row an area, time before and line of the score's change.</summary>
    public static ExportTable ScoreChange(IEnumerable<ScoreChange> changes) => ExportTable.Of(
        "score_change",
        changes.SelectMany(change => change.Lines.Select(line => (Change: change, Line: line))),
        [
            new("watershed_code", row => row.Change.Area.ToString()),
            new("since", row => ResultCode.Of(row.Change.Since)),
            new("from_season", row => row.Change.FromSeason),
            new("season", row => row.Change.Season),
            new("step", row => row.Line.Step is { } step ? ResultCode.Of(step) : "heard"),
            new("part", row => ResultCode.Of(row.Line.Part)),
            new("species_id", row => row.Line.Species?.ToString()),
            new("points", row => row.Line.Points),
            new("change", row => row.Change.Points),
            new("change_lower", row => row.Change.Lower),
            new("change_upper", row => row.Change.Upper),
            new("species_split", row => row.Change.SpeciesSplit),
            new("species_compared", row => row.Change.SpeciesCompared),
        ]);

    /// <summary>One row an area and season: what of the listening is missing.</summary>
    public static ExportTable Gaps(IEnumerable<SeasonGap> gaps) => ExportTable.Of("gaps", gaps,
    [
        new("watershed_code", gap => gap.Area.ToString()),
        new("season", gap => gap.Season),
        new("stations_before", gap => gap.StationsBefore),
        new("stations_missed", gap => gap.StationsMissed),
        new("windows", gap => gap.Windows),
        new("windows_without", gap => gap.WindowsWithout),
        new("parts", gap => gap.Parts),
        new("parts_without", gap => gap.PartsWithout),
    ]);
}
