using Indicators.Analysis.Areas;
using Indicators.Analysis.Cells;
using Indicators.Analysis.Fits;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Analysis.Score;
using Indicators.Monitoring;
using Indicators.Statistics.Groups;
using Indicators.Statistics.Intervals;

namespace Indicators.Analysis.Changes;

/// <summary>
/// The change of one area's published score between two seasons, by part and species, with what the listening changed taken
/// out of the calling part and out of species heard at stations of one time only.
/// </summary>
/// <remarks>
/// Windows of seasons that overlap have the same surveys in common; only the seasons that one of them lacks are compared, pair
/// by pair in their order. The calling part's own index already counts calls a survey, station by station, so its steps are
/// the stations, the parts of the calling window, the observers and the method.
/// </remarks>
internal sealed class ScoreChanges(
    SharedListening listening, AreaNode node, AreaClusters clusters, CellTable cells, AreaFit fit, GroupFit group, int[] expected, ProgrammeSettings settings,
    ParallelOptions parallel)
{
    /// <summary>The changes since the scored season before the last one and since the first scored one; empty where either has no score.</summary>
    /// <param name="score">The scores' draws.</param>
    /// <param name="conditions">The area's conditions in order.</param>
    public IReadOnlyList<ScoreChange> Of(ConditionScore score, IReadOnlyList<Condition> conditions)
    {
        if (conditions is not [.., { Score: not null } last])
            return [];
        var changes = new List<ScoreChange>();
        if (conditions is [.., { Score: not null } previous, _])
            changes.Add(Change(score, ChangeSince.PreviousSeason, previous, last));
        if (conditions.FirstOrDefault(condition => condition.Score is not null) is { } first && first.Season < last.Season)
            changes.Add(Change(score, ChangeSince.Baseline, first, last));
        return changes;
    }

    private ScoreChange Change(ConditionScore score, ChangeSince since, Condition before, Condition now)
    {
        int[] seasonsBefore = Window(before.Season), seasonsNow = Window(now.Season);
        int[] only = [.. seasonsBefore.Except(seasonsNow)], onlyNow = [.. seasonsNow.Except(seasonsBefore)];
        var taken = new Dictionary<(ListeningStep, ScorePart), double>();
        var heard = new Dictionary<(ScorePart Part, Id<Species>? Species), double>();
        foreach (var line in before.Lines)
            heard[(line.Part, line.Species)] = -line.Points;
        foreach (var line in now.Lines)
            heard[(line.Part, line.Species)] = heard.GetValueOrDefault((line.Part, line.Species)) + line.Points;

        TakeStations(only, onlyNow, heard, taken);
        var interval = IntervalOf(score, before, now);
        int split = TakeCalling(only, onlyNow, before, now, heard, taken);
        return new ScoreChange
        {
            Area = now.Area,
            Since = since,
            FromSeason = before.Season,
            Season = now.Season,
            Points = now.Score!.Value - before.Score!.Value,
            Lower = interval?.Lower,
            Upper = interval?.Upper,
            SpeciesSplit = split,
            SpeciesCompared = group.Species.Length,
            Lines =
            [
                .. taken.Where(each => each.Value != 0).OrderBy(each => each.Key).Select(each => new ScoreChangeLine(each.Key.Item1, each.Key.Item2, null, each.Value)),
                .. heard.Where(each => each.Value != 0).Select(each => new ScoreChangeLine(null, each.Key.Part, each.Key.Species, each.Value))
                    .OrderBy(line => line.Part).ThenBy(line => line.Species is null).ThenBy(line => line.Species),
            ],
        };
    }

    /// <summary>The seasons of a score's window in which the area was surveyed, ascending.</summary>
    private int[] Window(int season) =>
        [.. Enumerable.Range(season - settings.Score.WindowSeasons + 1, settings.Score.WindowSeasons)
            .Where(s => s >= cells.FirstYear && s < cells.FirstYear + cells.Years && node.Stations.Any(station => cells.Surveys(station, s - cells.FirstYear) > 0))];

    /// <summary>A species that came or went only at stations surveyed at one of the times came or went by the listening.</summary>
    private void TakeStations(
        int[] before, int[] now, Dictionary<(ScorePart Part, Id<Species>? Species), double> heard, Dictionary<(ListeningStep, ScorePart), double> taken)
    {
        foreach (int k in expected)
        {
            bool was = Heard(k, before), isNow = Heard(k, now);
            if (was == isNow)
                continue;
            var chain = ListeningChain.Of(listening, node, clusters, k, before, now, settings.Trend.MinimumClusters);
            if (isNow ? chain.SharedHeardNow : chain.SharedHeardBefore)
                continue;
            foreach (var part in new[] { ScorePart.Presence, ScorePart.Sensitivity })
                Move(heard, (part, cells.Species[k].Id), taken, (ListeningStep.Stations, part), heard.GetValueOrDefault((part, cells.Species[k].Id)));
        }
    }

    private bool Heard(int species, int[] seasons) =>
        node.Stations.Any(station => seasons.Any(season => cells[species].Heard(station, season - cells.FirstYear) > 0));

    /// <summary>Takes the listening's part out of each species' calling; the number of species it could be told of.</summary>
    private int TakeCalling(
        int[] before,
        int[] now,
        Condition was,
        Condition condition,
        Dictionary<(ScorePart Part, Id<Species>? Species), double> heard,
        Dictionary<(ListeningStep, ScorePart), double> taken)
    {
        // Pairs need as many seasons on either side, each with the window's own weight.
        int[] usedBefore = [.. before.Where(HasIndex)], usedNow = [.. now.Where(HasIndex)];
        int wide = Window(was.Season).Count(HasIndex);
        if (usedBefore.Length != usedNow.Length || usedBefore.Length == 0 || wide != Window(condition.Season).Count(HasIndex))
            return 0;
        double perLog = PointsPerLog(was, condition);
        var species = new (bool Told, double[] Steps)[group.Species.Length];
        Parallel.For(0, species.Length, parallel, i =>
        {
            species[i].Steps = new double[StationShare.Steps];
            for (int pair = 0; pair < usedBefore.Length; pair++)
                species[i].Told |= AddSteps(group.Species[i], usedBefore[pair], usedNow[pair], species[i].Steps);
        });
        for (int i = 0; i < species.Length; i++)
        {
            for (var step = ListeningStep.Stations; step <= ListeningStep.Method; step++)
            {
                Move(heard, (ScorePart.Calling, cells.Species[group.Species[i]].Id), taken, (step, ScorePart.Calling),
                    perLog * species[i].Steps[(int)step] / (wide * species.Length));
            }
        }
        return species.Count(each => each.Told);
    }

    private bool HasIndex(int season) =>
        Array.IndexOf(group.Seasons, season) is var at and >= 0 && !double.IsNaN(group.LogIndex[at]);

    /// <summary>Adds what each step changes of one species' log index between two seasons; false when they cannot be compared.</summary>
    private bool AddSteps(int species, int before, int now, double[] steps)
    {
        var one = fit.Species[species];
        int from = Array.IndexOf(one.Series.Seasons, before), to = Array.IndexOf(one.Series.Seasons, now);
        if (from < 0 || to < 0 || double.IsNaN(one.LogIndex[from]) || double.IsNaN(one.LogIndex[to]))
            return false;
        var chain = ListeningChain.Of(listening, node, clusters, species, [before], [now], settings.Trend.MinimumClusters);
        if (chain.Last is null or ListeningStep.Stations)
            return false;
        double floor = Math.Log(settings.Group.FloorPercent / 100);
        double log = Math.Max(floor, one.LogIndex[to]) - Math.Max(floor, one.LogIndex[from]);
        steps[(int)ListeningStep.Stations] += log - chain.Logs[(int)ListeningStep.Visits];
        for (int step = (int)ListeningStep.Windows; step < chain.Logs.Count; step++)
            steps[step] += chain.Logs[step - 1] - chain.Logs[step];
        return true;
    }

    /// <summary>
    /// Points of the calling part for one unit of the log of the group index: the logarithmic mean of both indices (Ang 2004),
    /// less where the part is held at 100.
    /// </summary>
    private double PointsPerLog(Condition before, Condition now)
    {
        double weight = settings.Score.CallingWeight;
        if (weight == 0)
            return 0;
        double was = IndexOf(before), index = IndexOf(now), log = Math.Log(index / was);
        return Math.Abs(log) < 1e-9
            ? index < 100 ? weight * index : 0
            : weight * (Math.Min(100, index) - Math.Min(100, was)) / log;

        double IndexOf(Condition condition) =>
            100 + condition.Lines.Where(line => line.Part == ScorePart.Calling && line.Species is not null).Sum(line => line.Points) / weight;
    }

    private static void Move(
        Dictionary<(ScorePart Part, Id<Species>? Species), double> heard,
        (ScorePart, Id<Species>?) from,
        Dictionary<(ListeningStep, ScorePart), double> taken,
        (ListeningStep, ScorePart) to,
        double points)
    {
        heard[from] = heard.GetValueOrDefault(from) - points;
        taken[to] = taken.GetValueOrDefault(to) + points;
    }

    private Interval? IntervalOf(ConditionScore score, Condition before, Condition now)
    {
        double[] draws = score.ChangeDraws(before.Season, now.Season);
        int kept = 0;
        foreach (double draw in draws)
            if (!double.IsNaN(draw)) draws[kept++] = draw;
        if (kept == 0 || draws.Length - kept > settings.Trend.MaximumLostShare * draws.Length)
            return null;
        var (lower, upper) = BootstrapInterval.PercentileInPlace(draws.AsSpan(0, kept), settings.Trend.Confidence);
        // What is open above before is open below in the change.
        double points = now.Score!.Value - before.Score!.Value;
        return new Interval(
            -JointSilence.Upper(-points, -lower, score.OpenAbove(before.Season, now.Season)),
            JointSilence.Upper(points, upper, score.OpenAbove(now.Season, before.Season)));
    }
}
