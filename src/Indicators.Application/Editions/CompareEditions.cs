using System.Globalization;
using Indicators.Analysis.Results;
using Indicators.Exchange.Settings;
using Indicators.Monitoring;
using Indicators.Storage.Editions;

namespace Indicators.Application.Editions;

/// <summary>Sets two published editions side by side: what moved, and what can have moved it.</summary>
public sealed class CompareEditions
{
    private readonly IEditionReader _editions;

    /// <summary>The use case on this reader.</summary>
    public CompareEditions(IEditionReader editions) => _editions = editions;

    /// <summary>Compares two editions, the earlier first whichever way they are asked for; null when one of them is unknown or both are the same.</summary>
    /// <param name="one">A number.</param>
    /// <param name="other">Another.</param>
    public EditionComparison? Run(long one, long other)
    {
        if (one == other || _editions.ByNumber(Math.Min(one, other)) is not { } before || _editions.ByNumber(Math.Max(one, other)) is not { } after)
            return null;
        var settings = SettingsKeys.Differences(before.Manifest.Settings, after.Manifest.Settings);
        var run = RunChanges(before.Manifest, after.Manifest);
        var engine = EngineChanges(before.Manifest, after.Manifest);
        bool sameInputs = before.Manifest.InputsSha256 == after.Manifest.InputsSha256;
        // The copies hold what the run looked at: another last season adds and takes away surveys with the same inputs.
        List<OtherSurvey> others = sameInputs && before.Manifest.Run.ThroughSeason == after.Manifest.Run.ThroughSeason
            ? [] : Others(_editions.Surveys(before.Number), _editions.Surveys(after.Number));
        var surveys = Count(others);
        int species = sameInputs ? 0 : OtherSpecies(_editions.Species(before.Number), _editions.Species(after.Number));
        int expected = sameInputs ? 0 : OtherExpected(_editions.Areas(before.Number), _editions.Areas(after.Number));
        var steps = _editions.Steps(before.Number, after.Number);
        var trends = Trends(before.Number, after.Number);
        return new EditionComparison(
            before, after,
            CausesOf(sameInputs, surveys, species, expected, settings.Count, run.Count, engine.Count),
            surveys, species, expected, settings, run, engine,
            Conditions(before.Number, after.Number, others, steps),
            [.. ByCause(
                trends.Where(move => move.Moved)
                    .OrderByDescending(move => move.NewWord).ThenByDescending(move => move.HasRanges).ThenByDescending(move => Math.Abs(move.Percent ?? 0)).ThenBy(move => move.After.Area).ThenBy(move => move.After.Species),
                steps)],
            trends.Count,
            [.. _editions.All().Select(header => header.Number).Where(number => number > before.Number && number < after.Number).Order()],
            [.. steps.Select(step => step.Causes)]);
    }

    /// <summary>The edition published before one, by number; null when there is none.</summary>
    public long? Before(long number) => _editions.All().Where(header => header.Number < number).Max(header => (long?)header.Number);

    /// <summary>Whether more than one of surveys, settings, run and engine differ, by the records alone.</summary>
    internal static bool HaveSeveralCauses(EditionManifest before, EditionManifest after) =>
        new[]
        {
            before.InputsSha256 != after.InputsSha256,
            SettingsKeys.Differences(before.Settings, after.Settings).Count > 0,
            RunChanges(before, after).Count > 0,
            EngineChanges(before, after).Count > 0,
        }.Count(differs => differs) > 1;

    private static EditionCauses CausesOf(bool sameInputs, SurveyDifference surveys, int species, int expected, int settings, int run, int engine)
    {
        var causes = EditionCauses.None;
        if (!sameInputs)
        {
            if (surveys.Added > 0) causes |= EditionCauses.NewData;
            if (surveys.Removed > 0 || surveys.Changed > 0 || species > 0 || expected > 0) causes |= EditionCauses.CorrectedData;
            if (causes == EditionCauses.None) causes |= EditionCauses.WithheldData;
        }
        if (settings > 0) causes |= EditionCauses.NewSettings;
        if (run > 0) causes |= EditionCauses.NewRun;
        if (engine > 0) causes |= EditionCauses.NewEngine;
        return causes;
    }

    /// <summary>A survey that only one copy has, or both with another content.</summary>
    /// <param name="Watershed">Where it was made, by the later copy that has it.</param>
    /// <param name="Year">When.</param>
    /// <param name="InBefore">Whether the earlier copy has it.</param>
    /// <param name="InAfter">Whether the later one has.</param>
    internal readonly record struct OtherSurvey(WatershedCode Watershed, int Year, bool InBefore, bool InAfter);

    /// <summary>
    /// Goes through both copies at once, for they come in the same order, by date, then survey; what stands on one side only is
    /// kept until the end, where a survey on both sides has another date or content.
    /// </summary>
    internal static List<OtherSurvey> Others(IEnumerable<PublishedSurvey> before, IEnumerable<PublishedSurvey> after)
    {
        var old = new Dictionary<Id<Survey>, PublishedSurvey>();
        var added = new Dictionary<Id<Survey>, PublishedSurvey>();
        using var left = before.GetEnumerator();
        using var right = after.GetEnumerator();
        bool hasLeft = left.MoveNext(), hasRight = right.MoveNext();
        while (hasLeft || hasRight)
        {
            int order = !hasLeft ? 1 : !hasRight ? -1
                : left.Current.Date != right.Current.Date ? left.Current.Date.CompareTo(right.Current.Date) : left.Current.Id.CompareTo(right.Current.Id);
            if (order < 0 || (order == 0 && !Alike(left.Current, right.Current)))
                old.Add(left.Current.Id, left.Current);
            if (order > 0 || (order == 0 && !Alike(left.Current, right.Current)))
                added.Add(right.Current.Id, right.Current);
            hasLeft = order <= 0 ? left.MoveNext() : hasLeft;
            hasRight = order >= 0 ? right.MoveNext() : hasRight;
        }
        return
        [
            .. added.Select(each => new OtherSurvey(each.Value.Watershed, each.Value.Date.Year, old.ContainsKey(each.Key), true)),
            .. old.Where(each => !added.ContainsKey(each.Key)).Select(each => new OtherSurvey(each.Value.Watershed, each.Value.Date.Year, true, false)),
        ];
    }

    private static SurveyDifference Count(IReadOnlyCollection<OtherSurvey> others)
    {
        var years = others.Where(other => !other.InBefore).Select(other => other.Year).ToList();
        return new SurveyDifference(
            years.Count, others.Count(other => !other.InAfter), others.Count(other => other is { InBefore: true, InAfter: true }),
            years.Count == 0 ? null : years.Min(), years.Count == 0 ? null : years.Max());
    }

    private static bool Alike(PublishedSurvey one, PublishedSurvey other) =>
        one with { Calls = other.Calls } == other && one.Calls.SequenceEqual(other.Calls);

    private static int OtherSpecies(IReadOnlyList<Species> before, IReadOnlyList<Species> after)
    {
        var known = before.ToDictionary(species => species.Id);
        int alike = after.Count(species => known.TryGetValue(species.Id, out var old) && old == species);
        return before.Count + after.Count - after.Count(species => known.ContainsKey(species.Id)) - alike;
    }

    private static int OtherExpected(IReadOnlyList<Area> before, IReadOnlyList<Area> after)
    {
        var known = before.ToDictionary(area => area.Code);
        return after.Count(area => known.TryGetValue(area.Code, out var old) && !old.Expected.SequenceEqual(area.Expected));
    }

    private List<ConditionMove> Conditions(long before, long after, List<OtherSurvey> others, IReadOnlyList<EditionStep> steps)
    {
        var (old, now) = (Latest(before), Latest(after));
        var surveys = others.SelectMany(other => other.Watershed.SelfAndAncestors().Select(area => (area, other))).ToLookup(pair => pair.area, pair => pair.other);
        var between = steps.SkipLast(1).Select(step => step.Conditions.ToDictionary(condition => condition.Area)).ToList();
        return [.. old.Keys.Union(now.Keys).Select(area => new ConditionMove(area, old.GetValueOrDefault(area), now.GetValueOrDefault(area)))
            .Where(move => move.Moved)
            .OrderByDescending(move => Math.Abs(move.Points ?? double.MaxValue)).ThenBy(move => move.Area)
            .Select(move => move with
            {
                ByCause = Way(move.Before, between.Select(each => each.GetValueOrDefault(move.Area)), move.After, steps),
                Surveys = Count([.. surveys[move.Area]]),
            })];
    }

    private static IEnumerable<TrendMove> ByCause(IEnumerable<TrendMove> moves, IReadOnlyList<EditionStep> steps)
    {
        var between = steps.SkipLast(1).Select(step => step.Trends.ToDictionary(trend => (trend.Area, trend.Species))).ToList();
        return moves.Select(move => move with
        {
            ByCause = Way(move.Before, between.Select(each => each.GetValueOrDefault((move.After.Area, move.After.Species))), move.After, steps),
        });
    }

    /// <summary>From one result to the other, step by step.</summary>
    private static List<CauseMove<T>> Way<T>(T? before, IEnumerable<T?> between, T? after, IReadOnlyList<EditionStep> steps)
        where T : class
    {
        T?[] all = [before, .. between, after];
        return [.. steps.Select((step, place) => new CauseMove<T>(step.Causes, all[place], all[place + 1]))];
    }

    /// <summary>Each area's condition in its last season.</summary>
    private Dictionary<WatershedCode, Condition> Latest(long edition)
    {
        var last = _editions.Areas(edition).ToDictionary(area => area.Code, area => area.LastSeason);
        return last.Values.Distinct().SelectMany(season => _editions.Conditions(edition, season: season))
            .Where(condition => last[condition.Area] == condition.Season).ToDictionary(condition => condition.Area);
    }

    private List<TrendMove> Trends(long before, long after)
    {
        var known = _editions.Trends(before).ToDictionary(trend => (trend.Area, trend.Species));
        return [.. _editions.Trends(after).Where(trend => known.ContainsKey((trend.Area, trend.Species))).Select(trend => new TrendMove(known[(trend.Area, trend.Species)], trend))];
    }

    private static List<ManifestChange> RunChanges(EditionManifest before, EditionManifest after) => Different(
        ("seed", before.Run.Seed, after.Run.Seed),
        ("resamples", before.Run.Resamples, after.Run.Resamples),
        ("through_season", before.Run.ThroughSeason, after.Run.ThroughSeason),
        ("window_from", before.Run.WindowFrom, after.Run.WindowFrom),
        ("window_to", before.Run.WindowTo, after.Run.WindowTo));

    private static List<ManifestChange> EngineChanges(EditionManifest before, EditionManifest after) => Different(
        ("engine_version", before.EngineVersion, after.EngineVersion),
        ("runtime", before.Runtime, after.Runtime),
        ("processor", before.Processor, after.Processor),
        ("schema_version", before.SchemaVersion, after.SchemaVersion));

    private static List<ManifestChange> Different(params (string What, object? Before, object? After)[] all) =>
        [.. all.Select(each => new ManifestChange(each.What, Text(each.Before), Text(each.After))).Where(change => change.Before != change.After)];

    private static string Text(object? value) => Convert.ToString(value, CultureInfo.InvariantCulture) ?? "";
}
