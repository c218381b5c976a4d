using Indicators.Monitoring;

namespace Indicators.Analysis.Results;

/// <summary>What a line of <em>Needs a look</em> asks for first. A first step only: people who know the place decide.</summary>
public enum NextStep
{
    /// <summary>Go to the stations that have gone quiet, on a fit evening, and listen again.</summary>
    VisitQuietStations,

    /// <summary>Listen at more wetlands, for too few tell anything.</summary>
    AddWetlands,

    /// <summary>Listen again as before: the trend hangs on a few seasons, ears or evenings.</summary>
    RepeatSurveys,

    /// <summary>The decline is beyond doubt and at least partly supported: look at the wetlands themselves.</summary>
    CheckHabitat,
}

/// <summary>One line of <em>Needs a look</em>.</summary>
/// <param name="Area">The watershed.</param>
/// <param name="Trend">The trend that falls; null for stations gone quiet.</param>
/// <param name="Grade">How well the trend is supported; null for stations gone quiet.</param>
/// <param name="Quiet">How many stations and species have gone quiet, and how many chance alone would list; null for a trend.</param>
/// <param name="Value">The expected concern, greater than 0; lines are put in its order.</param>
/// <param name="Step">What to do first.</param>
public sealed record Concern(WatershedCode Area, Trend? Trend, Evidence? Grade, SilenceTally? Quiet, double Value, NextStep Step);

/// <summary>
/// The order of <em>Needs a look</em>: the chance of a decline times its size in percent each season times a weight for how well
/// it is supported. All constants are ours.
/// </summary>
public static class ConcernRule
{
    /// <summary>Below this expected concern nothing is listed: half a percent each season for sure.</summary>
    public const double Smallest = 0.5;

    /// <summary>The weight of a trend that is partly supported; a well supported one weighs 1.</summary>
    public const double PartlySupportedWeight = 0.6;

    /// <summary>The weight of a thin one.</summary>
    public const double ThinWeight = 0.3;

    /// <summary>What each station and species gone quiet beyond chance counts, as percent each season would.</summary>
    public const double EachGoneQuiet = 1;

    private const EvidenceReason TooFewPlaces = EvidenceReason.NoInterval | EvidenceReason.VeryFewWetlands | EvidenceReason.FewWetlands
        | EvidenceReason.OneWetlandDecides | EvidenceReason.OneWetlandMoves | EvidenceReason.SeasonsOnOneStation;

    /// <summary>The weight of a grade.</summary>
    public static double Weight(Evidence grade) => grade switch
    {
        Evidence.WellSupported => 1,
        Evidence.PartlySupported => PartlySupportedWeight,
        _ => ThinWeight,
    };

    /// <summary>The concern of a trend; null when it is too small to list, or its chance of decline is not known.</summary>
    public static Concern? Of(Trend trend, SeriesEvidence? evidence)
    {
        double value = Value(trend, evidence);
        return value < Smallest ? null : new Concern(trend.Area, trend, evidence?.Grade ?? Evidence.Thin, null, value, StepOf(trend, evidence));
    }

    /// <summary>The expected concern of a trend, listed or not; 0 where its chance of decline is not known.</summary>
    public static double Value(Trend trend, SeriesEvidence? evidence) => trend is { ProbabilityOfDecline: { } chance, PercentPerSeason: { } percent }
        ? chance * Math.Max(0, -percent) * Weight(evidence?.Grade ?? Evidence.Thin)
        : 0;

    /// <summary>The concern of a watershed's stations gone quiet; null when chance alone would list about as many.</summary>
    public static Concern? Of(SilenceTally tally)
    {
        double value = EachGoneQuiet * (tally.Listed - tally.ExpectedByChance);
        return tally.Kind != SilenceKind.GoneQuiet || value < Smallest ? null : new Concern(tally.Area, null, null, tally, value, NextStep.VisitQuietStations);
    }

    /// <summary>Every concern of some trends and watersheds, the largest first; equal ones by watershed, then species.</summary>
    public static IReadOnlyList<Concern> Ranked(IEnumerable<Trend> trends, IEnumerable<SeriesEvidence> evidence, IEnumerable<SilenceTally> tallies)
    {
        var graded = evidence.ToDictionary(each => (each.Area, each.Species));
        return [.. trends.Select(trend => Of(trend, graded.GetValueOrDefault((trend.Area, trend.Species)))).Concat(tallies.Select(Of)).OfType<Concern>()
            .OrderByDescending(concern => concern.Value).ThenBy(concern => concern.Area).ThenBy(concern => concern.Trend?.Species)];
    }

    /// <summary>A decline beyond doubt with enough behind it asks for a look at the place; anything else for more listening, wider or longer.</summary>
    private static NextStep StepOf(Trend trend, SeriesEvidence? evidence) =>
        evidence is { Grade: not Evidence.Thin } && trend.Direction == Direction.Down ? NextStep.CheckHabitat
        : evidence is null || (evidence.Reasons & TooFewPlaces) != 0 ? NextStep.AddWetlands
        : NextStep.RepeatSurveys;
}
