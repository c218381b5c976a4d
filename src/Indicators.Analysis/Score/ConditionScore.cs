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

    /// <summary>
    /// Draws of the change of the score between two scored seasons, resample after resample; NaN for lost ones. Springs between the two count as they
    /// come (<see cref="UnderlyingFit.ChangeDraws"/>), and of the spread of the calling part's change what is
    /// linear in the wetlands drawn (<see cref="LinearPart"/>).
    /// </summary>
    /// <param name="before">The earlier season.</param>
    /// <param name="now">The later season.</param>
    public double[] ChangeDraws(int before, int now)
    {
        int[] from = CallingSeasons(before), to = CallingSeasons(now);
        var weights = new double[_group.Seasons.Length];
        foreach (int t in from)
            weights[t] -= 1.0 / from.Length;
        foreach (int t in to)
            weights[t] += 1.0 / to.Length;
        double share = _group.Linear!.Share(weights);

        DirectionChance[] earlier = DirectionsThrough(before), later = DirectionsThrough(now);
        var slopes = _expected.Select(k => _fit.Underlying.ChangeDraws(k, before, now)).ToArray();
        double[] was = ScoreDraws(PresentDraws(Chances(before, Heard(before))), CallingOver(before, share)!, DirectionDraws(earlier, [.. slopes.Select(s => s.Before)]));
        double[] draws = ScoreDraws(PresentDraws(Chances(now, Heard(now))), CallingOver(now, share)!, DirectionDraws(later, [.. slopes.Select(s => s.Later)]));
        for (int b = 0; b < draws.Length; b++)
            draws[b] -= was[b];
        return draws;
    }

    /// <summary>
    /// By how many points a season's score could be higher, were the silent species of its window as high as their silence leaves open
    /// (<see cref="GroupFit.OpenAbove"/>). No draw knows of that.
    /// </summary>
    /// <param name="season">The season.</param>
    /// <param name="other">Seasons that also belong to this season's window are passed over, for in a change they cancel.</param>
    public double OpenAbove(int season, int? other = null)
    {
        int[] at = CallingSeasons(season), shared = other is { } one ? CallingSeasons(one) : [];
        double log = at.Average(t => _group.LogIndex[t]), open = at.Except(shared).Sum(t => _group.OpenAbove(t, _trend.Confidence)) / at.Length;
        return _score.CallingWeight * 100 * (Math.Min(1, Math.Exp(log + open)) - Math.Min(1, Math.Exp(log)));
    }

    private Condition Season(WatershedCode area, int at)
    {
        int season = _listening.Seasons[at], from = FirstOfWindow(season);
        bool[] heard = Heard(season);
        var calling = CallingOver(season, 1);
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
        return Scored(condition, heard, Chances(season, heard), calling!, directions);
    }

    private int FirstOfWindow(int season) => season - _score.WindowSeasons + 1;

    private bool[] Heard(int season) => [.. _expected.Select(k => _listening.Heard(k, FirstOfWindow(season), season))];

    /// <summary>How likely each expected species is there in a season's window; 1 for one that was heard.</summary>
    private double[] Chances(int season, bool[] heard) =>
        [.. _expected.Select((k, i) => heard[i] ? 1 : _fit.Occupancy[k].ChanceStillThere(FirstOfWindow(season), season))];

    private ScoreLines NoLines() => new(_score, [.. _expected.Select(k => _species[k])]);

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
        var lines = NoLines();
        lines.AddPresence(chances);
        lines.AddSensitivity(chances);
        lines.AddCalling(calling.Index, [.. _group.Species.Select(k => _species[k].Id)], calling.Contributions);
        lines.AddDirection([.. directions.Select(d => d.Probability)]);

        double[] draws = ScoreDraws(PresentDraws(chances), calling, DirectionDraws(directions, [.. directions.Select(d => d.Draws)]));
        int kept = 0;
        foreach (double draw in draws)
            if (!double.IsNaN(draw)) draws[kept++] = draw;
        Array.Resize(ref draws, kept);
        var interval = BootstrapInterval.PercentileInPlace(draws, _trend.Confidence);
        double score = lines.Score;
        return condition with
        {
            Score = score,
            Lower = Math.Clamp(interval.Lower, 0, 100),
            Upper = Math.Clamp(JointSilence.Upper(score, interval.Upper, OpenAbove(condition.Season)), 0, 100),
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

    /// <summary>
    /// Points of the presence and sensitivity parts, draw by draw: a species heard is there in every draw, one that is not is there in as many of them as
    /// its chance says.
    /// </summary>
    private double[] PresentDraws(double[] chances)
    {
        double[] worth = NoLines().WorthOfPresence();
        int[] open = [.. Enumerable.Range(0, chances.Length).Where(i => chances[i] is > 0 and < 1)];
        double certain = Enumerable.Range(0, chances.Length).Sum(i => chances[i] == 1 ? worth[i] : 0);
        var draws = new double[_resamples];
        for (int b = 0; b < draws.Length; b++)
        {
            draws[b] = certain;
            foreach (int i in open)
                draws[b] += _fit.Draws.IsPresent(_expected[i], b, chances[i]) ? worth[i] : 0;
        }
        return draws;
    }

    /// <summary>The score in every draw; NaN where the calling part is lost.</summary>
    private double[] ScoreDraws(double[] present, Calling calling, double[] direction)
    {
        // One factor holds the calling part at 100, for the estimate and for every draw: holding each draw by itself would
        // pull the score down wherever calling is about as it was.
        double hold = Math.Min(1, 100 / calling.Index);
        var draws = new double[_resamples];
        for (int b = 0; b < draws.Length; b++)
            draws[b] = present[b] + _score.CallingWeight * hold * calling.Draws[b] + _score.DirectionWeight * 100 * direction[b];
        return draws;
    }

    private ConditionClass ClassOf(double score) =>
        score >= _score.GoodFrom ? ConditionClass.Good : score >= _score.FairFrom ? ConditionClass.Fair : ConditionClass.Poor;

    private double? ConservatismIndex(bool[] heard)
    {
        double[] coefficients = [.. _expected.Where((_, i) => heard[i]).Select(k => _species[k].Conservatism.Value)];
        return coefficients.Length == 0 ? null : coefficients.Average() * Math.Sqrt(coefficients.Length);
    }

    /// <summary>The places of a window's seasons with a group index.</summary>
    private int[] CallingSeasons(int season) =>
        [.. Enumerable.Range(0, _group.Seasons.Length)
            .Where(t => _group.Seasons[t] >= FirstOfWindow(season) && _group.Seasons[t] <= season && !double.IsNaN(_group.LogIndex[t]))];

    /// <summary>The group index over a window: the geometric mean of its seasons; null when it has none or too many draws are lost.</summary>
    /// <param name="season">The window's last season.</param>
    /// <param name="share">How much of their spread the draws keep, 0 to 1.</param>
    private Calling? CallingOver(int season, double share)
    {
        int[] at = CallingSeasons(season);
        if (at.Length == 0 || _group.Clusters < 2)
            return null;
        double log = at.Average(t => _group.LogIndex[t]);
        double factor = share * BootstrapInterval.Stretch(_group.Clusters, _trend.Confidence);
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
    /// <param name="directions">The chances.</param>
    /// <param name="slopes">Draws of each species' slope.</param>
    private double[] DirectionDraws(DirectionChance[] directions, double[]?[] slopes)
    {
        var sum = new double[_resamples];
        for (int i = 0; i < directions.Length; i++)
            directions[i].AddTo(sum, slopes[i]);
        for (int b = 0; b < sum.Length; b++)
            sum[b] /= directions.Length;
        DrawMoments.Centre(sum, directions.Average(d => d.Probability));
        return sum;
    }

    private sealed record Calling(double Index, double[] Contributions, double[] Draws);
}
