using Indicators.Analysis.Results;

namespace Indicators.Web.Reading;

/// <summary>One watershed's change of score: a cell a part of what was heard, a cell a step of the listening, and all together.</summary>
internal sealed record ChangeRow(Area Area, IReadOnlyList<decimal> Heard, IReadOnlyList<decimal?> Listening, decimal Together);

/// <summary>Changes of score since one time, in tenths that add up along every row to the change shown.</summary>
internal sealed record ChangeTable(ChangeSince Since, int From, IReadOnlyList<ChangeRow> Rows)
{
    /// <summary>The steps that were taken in at least one area; how often a station was visited is part of the calling index already.</summary>
    public required IReadOnlyList<ListeningStep> Steps { get; init; }

    /// <summary>The table of the areas that have such a change since the same season; null when none has.</summary>
    public static ChangeTable? Of(IReadOnlyList<Area> areas, IEnumerable<ScoreChange> changes, ChangeSince since)
    {
        var byArea = changes.Where(change => change.Since == since).ToDictionary(change => change.Area);
        var told = areas.Where(area => byArea.ContainsKey(area.Code)).ToList();
        if (told.Count == 0)
            return null;
        int from = told.Select(area => byArea[area.Code].FromSeason).CountBy(season => season).MaxBy(each => each.Value).Key;
        var alike = told.Where(area => byArea[area.Code].FromSeason == from).ToList();
        ListeningStep[] steps = [.. alike.SelectMany(area => byArea[area.Code].Lines).Select(line => line.Step).OfType<ListeningStep>().Distinct().Order()];
        return new ChangeTable(since, from, [.. alike.Select(area => Row(area, byArea[area.Code], steps))]) { Steps = steps };
    }

    /// <summary>Only cells that a line stands in are filled, and all of them add up to what is shown together.</summary>
    private static ChangeRow Row(Area area, ScoreChange change, ListeningStep[] steps)
    {
        ListeningStep[] taken = [.. steps.Where(step => change.Lines.Any(line => line.Step == step))];
        double[] heard = [.. ScoreTable.Parts.Select(part => change.Lines.Where(line => line.Step is null && line.Part == part).Sum(line => line.Points))];
        double[] listening = [.. taken.Select(step => change.Lines.Where(line => line.Step == step).Sum(line => line.Points))];
        var cells = Apportion.Tenths([.. heard, .. listening], Apportion.Tenth(change.Points));
        return new ChangeRow(
            area,
            [.. cells.Take(heard.Length)],
            [.. steps.Select(step => Array.IndexOf(taken, step) is var at and >= 0 ? cells[heard.Length + at] : (decimal?)null)],
            Apportion.Tenth(change.Points));
    }
}

/// <summary>One species' calling set beside an earlier time, in percent of the calling before, in tenths that add up.</summary>
internal sealed record CallingRow(CallingChange Change, decimal? Together, decimal? Heard, decimal? Listening)
{
    /// <summary>Logs become percent by the logarithmic mean, so that they add up; cells are empty where one of the times was silent.</summary>
    public static CallingRow Of(CallingChange change)
    {
        if (change is not { Total: { } total, Heard: { } heard })
            return new CallingRow(change, null, null, null);
        double percent = 100 * (Math.Exp(total) - 1), perLog = Math.Abs(total) < 1e-9 ? 100 : percent / total;
        decimal shown = Apportion.Tenth(percent);
        if (change.StoppedAt == ListeningStep.Stations)
            return new CallingRow(change, shown, null, null);
        var cells = Apportion.Tenths([heard * perLog, (total - heard) * perLog], shown);
        return new CallingRow(change, shown, cells[0], cells[1]);
    }
}
