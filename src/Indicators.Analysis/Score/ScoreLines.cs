using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Statistics.Groups;

namespace Indicators.Analysis.Score;

/// <summary>
/// A score taken apart into lines by part and species. The score is made of its lines, so they add up to score − 100 and
/// leave nothing over.
/// </summary>
internal sealed class ScoreLines(ScoreOptions options, IReadOnlyList<Species> expected)
{
    private readonly List<ConditionLine> _lines = [];

    /// <summary>The lines so far.</summary>
    public IReadOnlyList<ConditionLine> Lines => _lines;

    /// <summary>The score, 0 to 100.</summary>
    public double Score => 100 + _lines.Sum(l => l.Points);

    /// <summary>The presence part, 0 to 100.</summary>
    public double Presence => PartOf(ScorePart.Presence, options.PresenceWeight);

    /// <summary>The sensitivity part, 0 to 100.</summary>
    public double Sensitivity => PartOf(ScorePart.Sensitivity, options.SensitivityWeight);

    /// <summary>The calling part, 0 to 100.</summary>
    public double Calling => PartOf(ScorePart.Calling, options.CallingWeight);

    /// <summary>The direction part, 0 to 100.</summary>
    public double Direction => PartOf(ScorePart.Direction, options.DirectionWeight);

    private double PartOf(ScorePart part, double weight) =>
        weight == 0 ? 100 : Math.Clamp(100 + _lines.Where(l => l.Part == part).Sum(l => l.Points) / weight, 0, 100);

    /// <summary>Points that each expected species is worth to presence and sensitivity together.</summary>
    public double[] WorthOfPresence() =>
        [.. Enumerable.Range(0, expected.Count).Select(i => 100 * (options.PresenceWeight / expected.Count + options.SensitivityWeight * SensitivityShare(i)))];

    /// <summary>Σ of the chances that the expected species are present, over their number.</summary>
    public void AddPresence(double[] chances)
    {
        for (int i = 0; i < expected.Count; i++)
            Add(ScorePart.Presence, expected[i].Id, -100 * options.PresenceWeight * (1 - chances[i]) / expected.Count);
    }

    /// <summary>ΣC(present) / ΣC(expected) by the same chances: monotone and additive, unlike the mean coefficient.</summary>
    public void AddSensitivity(double[] chances)
    {
        for (int i = 0; i < expected.Count; i++)
            Add(ScorePart.Sensitivity, expected[i].Id, -100 * options.SensitivityWeight * SensitivityShare(i) * (1 - chances[i]));
    }

    /// <summary>C over ΣC; where every species is found anywhere (all C = 0), each counts alike.</summary>
    public double SensitivityShare(int i)
    {
        double total = expected.Sum(s => s.Conservatism.Value);
        return total > 0 ? expected[i].Conservatism.Value / total : 1.0 / expected.Count;
    }

    /// <summary>
    /// The group index relative to its baseline. Logs become points by the logarithmic mean (Ang 2004); what lies above
    /// 100 is taken off again on a line of its own.
    /// </summary>
    /// <param name="index">The group index over the window, baseline 100.</param>
    /// <param name="species">The species of the group index.</param>
    /// <param name="contributions">Each one's part of ln(index / 100).</param>
    public void AddCalling(double index, IReadOnlyList<Id<Species>> species, double[] contributions)
    {
        double mean = LogarithmicMean.Of(index, 100);
        for (int i = 0; i < species.Count; i++)
            Add(ScorePart.Calling, species[i], options.CallingWeight * mean * contributions[i]);
        Add(ScorePart.Calling, null, options.CallingWeight * Math.Min(0, 100 - index));
    }

    /// <summary>The mean chance that the expected species hold their own.</summary>
    public void AddDirection(double[] probabilities)
    {
        for (int i = 0; i < expected.Count; i++)
            Add(ScorePart.Direction, expected[i].Id, options.DirectionWeight * 100 * (probabilities[i] - 1) / expected.Count);
    }

    private void Add(ScorePart part, Id<Species>? species, double points) => _lines.Add(new ConditionLine(part, species, points, null));

    /// <summary>The same lines with what each moved since the season before; without a score before, nothing moved.</summary>
    public static IReadOnlyList<ConditionLine> WithChanges(IReadOnlyList<ConditionLine> lines, IReadOnlyList<ConditionLine> before)
    {
        if (before.Count == 0)
            return lines;
        var old = before.ToDictionary(l => (l.Part, l.Species), l => l.Points);
        return [.. lines.Select(l => l with { Change = l.Points - old.GetValueOrDefault((l.Part, l.Species)) })];
    }
}
