using System.Collections.Concurrent;
using Indicators.Analysis.Fits;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Statistics.Groups;
using Indicators.Statistics.Intervals;

namespace Indicators.Analysis.Score;

/// <summary>
/// The condition score of one area, season by season: a multimetric index in the sense of EPA 822-R-02-016 over a moving
/// window, with an interval and class probabilities from the area's own resamples, explained line by line.
/// </summary>
internal sealed class ConditionScore
{
    private readonly AreaFit _fit;
    private readonly GroupFit _group;
    private readonly AreaListening _listening;
    private readonly IReadOnlyList<Species> _species;
    private readonly int[] _expected;
    private readonly ScoreOptions _score;
    private readonly TrendOptions _trend;
    private readonly int _resamples;
    private readonly ConcurrentDictionary<int, double[]> _draws = new();

    /// <summary>Prepares an area's scores.</summary>
    /// <param name="fit">The area's fits.</param>
    /// <param name="group">The group index of the expected species.</param>
    /// <param name="listening">The area's listening.</param>
    /// <param name="species">All species, in the cell table's order.</param>
    /// <param name="expected">The expected species as indices, ascending.</param>
    /// <param name="settings">Weights, limits, window.</param>
    /// <param name="resamples">How many resamples the fits hold.</param>
    public ConditionScore(
        AreaFit fit, GroupFit group, AreaListening listening, IReadOnlyList<Species> species, int[] expected, ProgrammeSettings settings, int resamples)
    {
        (_fit, _group, _listening, _species, _expected) = (fit, group, listening, species, expected);
        (_score, _trend, _resamples) = (settings.Score, settings.Trend, resamples);
    }

    /// <summary>One condition a season with surveys, in order, each with what moved since the one before.</summary>
    /// <param name="area">The area the conditions are told of.</param>
    /// <param name="parallel">How many threads may work.</param>
    public IReadOnlyList<Condition> Seasons(WatershedCode area, ParallelOptions parallel)
    {
        var conditions = new Condition[_listening.Seasons.Length];
        Parallel.For(0, conditions.Length, parallel, i => conditions[i] = Season(area, i));
        return [.. conditions.Select((condition, i) => condition with
        {
            Lines = ScoreLines.WithChanges(condition.Lines, i == 0 ? [] : conditions[i - 1].Lines),
        })];
    }

    /// <summary>The draws of a scored season's score, resample after resample; NaN for lost ones.</summary>
    public double[] Draws(int season) => _draws[season];

    /// <summary>The draws of a scored season to be set beside those of a later one: springs between the two count as they come.</summary>
    public double[] DrawsBeside(int season, int later)
    {
        var chances = DirectionsThrough(season);
        DirectionChance[] beside = [.. chances.Select((chance, i) => chance.Draws is null ? chance : chance with { Draws = _fit.Underlying.DrawsBeside(_expected[i], season, later) })];
        double[] drawn = DirectionDraws(chances), moved = DirectionDraws(beside);
        return [.. _draws[season].Select((score, b) => score + _score.DirectionWeight * 100 * (moved[b] - drawn[b]))];
    }

    private Condition Season(WatershedCode area, int at)
    {
        int season = _listening.Seasons[at], from = season - _score.WindowSeasons + 1;
        bool[] heard = [.. _expected.Select(k => _listening.Heard(k, from, season))];
        var calling = CallingOver(from, season);
        var directions = DirectionsThrough(season);
        var condition = new Condition
        {
            Area = area,
            Season = season,
            Lacks = ScoreLack.None,
            Expected = _expected.Length,
            Heard = heard.Count(h => h),
            SeasonsInWindow = _listening.Seasons.Count(s => s >= from && s <= season),
            Wetlands = _listening.WetlandsIn(from, season),
            Surveys = _listening.SurveysIn(from, season),
            ConservatismIndex = ConservatismIndex(heard),
        };
        condition = condition with { Lacks = LacksOf(condition, at, calling, directions) };
        if (condition.Lacks != ScoreLack.None)
            return condition;
        double[] chances = [.. _expected.Select((k, i) => heard[i] ? 1 : _fit.Occupancy[k].ChanceStillThere(from, season))];
        return Scored(condition, heard, chances, calling!, directions);
    }

    private ScoreLack LacksOf(Condition condition, int at, Calling? calling, DirectionChance[] directions)
    {
        var lacks = ScoreLack.None;
        if (at < _score.WindowSeasons - 1) lacks |= ScoreLack.EarlySeason;
        if (condition.SeasonsInWindow < _score.MinimumSeasons) lacks |= ScoreLack.FewSeasons;
        if (condition.Wetlands < _score.MinimumWetlands || _group.Clusters < _trend.MinimumClusters) lacks |= ScoreLack.FewWetlands;
        if (_expected.Length < _score.MinimumExpectedSpecies) lacks |= ScoreLack.FewExpectedSpecies;
        if (calling is null) lacks |= ScoreLack.NoCallingIndex;
        if (!directions.Any(d => d.Draws is not null)) lacks |= ScoreLack.NoSlopes;
        if (_group.LittleHeard) lacks |= ScoreLack.LittleHeard;
        return lacks;
    }

    private Condition Scored(Condition condition, bool[] heard, double[] chances, Calling calling, DirectionChance[] directions)
    {
        var lines = new ScoreLines(_score, [.. _expected.Select(k => _species[k])]);
        lines.AddPresence(chances);
        lines.AddSensitivity(chances);
        lines.AddCalling(calling.Index, [.. _group.Species.Select(k => _species[k].Id)], calling.Contributions);
        lines.AddDirection([.. directions.Select(d => d.Probability)]);

        // A species heard is there in every draw; one that is not is there in as many of them as its chance says.
        double[] worth = lines.WorthOfPresence();
        int[] open = [.. Enumerable.Range(0, chances.Length).Where(i => chances[i] is > 0 and < 1)];
        double certain = Enumerable.Range(0, chances.Length).Sum(i => chances[i] == 1 ? worth[i] : 0);
        // One factor holds the calling part at 100, for the estimate and for every draw: holding each draw by itself would
        // pull the score down wherever calling is about as it was.
        double hold = Math.Min(1, 100 / calling.Index);
        double[] direction = DirectionDraws(directions);
        var draws = new double[_resamples];
        var all = _draws[condition.Season] = new double[_resamples];
        int kept = 0;
        for (int b = 0; b < _resamples; b++)
        {
            all[b] = double.NaN;
            if (double.IsNaN(calling.Draws[b]))
                continue;
            double present = certain;
            foreach (int i in open)
                present += _fit.Draws.IsPresent(_expected[i], b, chances[i]) ? worth[i] : 0;
            draws[kept++] = all[b] = present
                + _score.CallingWeight * hold * calling.Draws[b]
                + _score.DirectionWeight * 100 * direction[b];
        }
        Array.Resize(ref draws, kept);
        var interval = BootstrapInterval.PercentileInPlace(draws, _trend.Confidence);
        double score = lines.Score;
        return condition with
        {
            Score = score,
            Lower = Math.Clamp(interval.Lower, 0, 100),
            Upper = Math.Clamp(interval.Upper, 0, 100),
            Class = ClassOf(score),
            ProbabilityGood = draws.Count(d => ClassOf(d) == ConditionClass.Good) / (double)kept,
            ProbabilityFair = draws.Count(d => ClassOf(d) == ConditionClass.Fair) / (double)kept,
            ProbabilityPoor = draws.Count(d => ClassOf(d) == ConditionClass.Poor) / (double)kept,
            PresencePart = lines.Presence,
            SensitivityPart = lines.Sensitivity,
            PresenceRawPart = 100.0 * condition.Heard / _expected.Length,
            SensitivityRawPart = 100 * Enumerable.Range(0, heard.Length).Sum(i => heard[i] ? lines.SensitivityShare(i) : 0),
            CallingPart = lines.Calling,
            DirectionPart = lines.Direction,
            Lines = lines.Lines,
        };
    }

    private ConditionClass ClassOf(double score) =>
        score >= _score.GoodFrom ? ConditionClass.Good : score >= _score.FairFrom ? ConditionClass.Fair : ConditionClass.Poor;

    private double? ConservatismIndex(bool[] heard)
    {
        double[] coefficients = [.. _expected.Where((_, i) => heard[i]).Select(k => _species[k].Conservatism.Value)];
        return coefficients.Length == 0 ? null : coefficients.Average() * Math.Sqrt(coefficients.Length);
    }

    /// <summary>The group index over a window: the geometric mean of its seasons; null when it has none or too many draws are lost.</summary>
    private Calling? CallingOver(int from, int to)
    {
        int[] at = [.. Enumerable.Range(0, _group.Seasons.Length)
            .Where(t => _group.Seasons[t] >= from && _group.Seasons[t] <= to && !double.IsNaN(_group.LogIndex[t]))];
        if (at.Length == 0 || _group.Clusters < 2)
            return null;
        double log = at.Average(t => _group.LogIndex[t]);
        double factor = BootstrapInterval.Stretch(_group.Clusters, _trend.Confidence);
        var draws = new double[_resamples];
        int lost = 0;
        for (int b = 0; b < _resamples; b++)
        {
            double sum = 0;
            foreach (int t in at)
                sum += _group.Draws[b * _group.Seasons.Length + t];
            draws[b] = BootstrapInterval.Stretched(log, sum / at.Length, factor);
            lost += double.IsNaN(draws[b]) ? 1 : 0;
        }
        if (lost > _trend.MaximumLostShare * _resamples)
            return null;
        DrawMoments.Centre(draws, log);
        for (int b = 0; b < _resamples; b++)
            draws[b] = 100 * Math.Exp(draws[b]);
        return new Calling(100 * Math.Exp(log), [.. _group.Contributions.Select(c => at.Average(t => c[t]))], draws);
    }

    /// <summary>How likely each expected species is to hold its own, from the data up to a season.</summary>
    private DirectionChance[] DirectionsThrough(int season)
    {
        double threshold = Math.Log(1 - _trend.PracticalChangePercent / 100);
        return [.. _expected.Select(k => DirectionChance.Of(_fit.Underlying.Draws(k, season), threshold, _trend))];
    }

    /// <summary>
    /// The direction part over 100, worked out anew from each resample's slopes as it was from the estimates: with the spread that
    /// slopes are known with, how likely would each species be to hold its own, were its slope the resample's?
    /// </summary>
    private double[] DirectionDraws(DirectionChance[] directions)
    {
        var sum = new double[_resamples];
        foreach (var holding in directions)
            holding.AddTo(sum);
        for (int b = 0; b < sum.Length; b++)
            sum[b] /= directions.Length;
        DrawMoments.Centre(sum, directions.Average(d => d.Probability));
        return sum;
    }

    private sealed record Calling(double Index, double[] Contributions, double[] Draws);
}
