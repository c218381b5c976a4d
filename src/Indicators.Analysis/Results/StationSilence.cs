using Indicators.Monitoring;

namespace Indicators.Analysis.Results;

/// <summary>Which end of a station's visits is silent.</summary>
public enum SilenceKind
{
    /// <summary>Heard before, and silent since.</summary>
    GoneQuiet,

    /// <summary>Silent before, and heard of late.</summary>
    NewlyHeard,
}

/// <summary>
/// A station at which a species has gone quiet or is newly heard, and how often chance alone would do that. Never of a
/// protected species.
/// </summary>
public sealed record StationSilence
{
    /// <summary>The station's own, smallest watershed.</summary>
    public required WatershedCode Area { get; init; }

    /// <summary>Gone quiet or newly heard.</summary>
    public required SilenceKind Kind { get; init; }

    /// <summary>Its place in the area's list of this kind, the least likely to be chance first, from 1.</summary>
    public required int Rank { get; init; }

    /// <summary>The station.</summary>
    public required Id<Station> Station { get; init; }

    /// <summary>The species.</summary>
    public required Id<Species> Species { get; init; }

    /// <summary>The last season it was heard in; for a newly heard species the first.</summary>
    public required int HeardSeason { get; init; }

    /// <summary>Eligible visits of the silent end.</summary>
    public required int SilentVisits { get; init; }

    /// <summary>Whole seasons with eligible visits of the silent end.</summary>
    public required int SilentSeasons { get; init; }

    /// <summary>Eligible visits in all.</summary>
    public required int Visits { get; init; }

    /// <summary>Visits that heard it.</summary>
    public required int VisitsHeard { get; init; }

    /// <summary>
    /// How often chance alone would leave so many visits and seasons silent, 0 to 1: the larger of two exact probabilities,
    /// counting visits and counting seasons.
    /// </summary>
    public required double Chance { get; init; }

    /// <summary>
    /// For a station gone quiet, the chance that its wetland held the species in its last season of listening, 0 to 1, given
    /// everything heard at all stations of the wetland; null without a model of the area, and for newly heard species.
    /// </summary>
    public double? ChancePresent { get; init; }
}
