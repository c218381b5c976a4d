using System.Runtime.InteropServices;

namespace Indicators.Statistics.Occupancy;

/// <summary>
/// What repeated visits to sites detected, season by season: what the occupancy models are fitted to.
/// </summary>
/// <remarks>
/// Within a season a site is occupied or not, and an occupied site is detected at a visit with a probability p below 1; an
/// empty site is never detected. Visits of a site and season are independent given that state, and their order does not
/// matter. A site's weight multiplies its whole log-likelihood. Covariates should be centred and of a scale of about 1;
/// a missing value is for the caller to replace.
/// Held compactly: visits with the same slot and covariates share one row, courses are cut where a detection
/// shows the state, pieces that look the same to the likelihood share one pattern, and visits of seasons with a detection, where the state is known, are added up by row.
/// </remarks>
public sealed partial class DetectionHistories
{
    private Visit[] _visits;
    private int[] _rowOfVisit;
    private readonly bool[] _detectedIn;
    private bool _letGo;

    /// <summary>Checks and copies histories.</summary>
    /// <param name="sites">How many sites there are, at least 1; a site without a visit counts for nothing.</param>
    /// <param name="seasons">How many seasons there are, at least 1, seasons without a visit included.</param>
    /// <param name="visits">The visits, in any order.</param>
    /// <param name="slots">How many detection intercepts there are, at least 1.</param>
    /// <param name="visitCovariates">Covariates of detection, visit after visit; empty for none.</param>
    /// <param name="siteCovariates">Covariates of initial occupancy, site after site; empty for none.</param>
    /// <param name="weights">One weight a site, not negative; empty for 1 each.</param>
    /// <exception cref="ArgumentException">Lengths disagree or a value is out of range: a bug of the caller.</exception>
    public DetectionHistories(
        int sites,
        int seasons,
        ReadOnlySpan<Visit> visits,
        int slots = 1,
        ReadOnlySpan<double> visitCovariates = default,
        ReadOnlySpan<double> siteCovariates = default,
        ReadOnlySpan<double> weights = default)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(sites, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(seasons, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(slots, 1);
        VisitCovariates = visitCovariates.Length / Math.Max(1, visits.Length);
        SiteCovariates = siteCovariates.Length / sites;
        if (visitCovariates.Length != VisitCovariates * visits.Length) throw new ArgumentException("As many covariates for every visit.", nameof(visitCovariates));
        if (siteCovariates.Length != SiteCovariates * sites) throw new ArgumentException("As many covariates for every site.", nameof(siteCovariates));
        RequireFinite(visitCovariates, nameof(visitCovariates));
        RequireFinite(siteCovariates, nameof(siteCovariates));
        foreach (var visit in visits)
            if ((uint)visit.Site >= (uint)sites || (uint)visit.Season >= (uint)seasons || (uint)visit.Slot >= (uint)slots)
                throw new ArgumentException("A visit's site, season or slot is out of range.", nameof(visits));

        (Sites, Seasons, Slots) = (sites, seasons, slots);
        _visits = visits.ToArray();
        _detectedIn = new bool[sites * seasons];
        foreach (var visit in visits)
            _detectedIn[visit.Site * seasons + visit.Season] |= visit.Detected;
        Weights = new double[sites];
        _rowOfVisit = new int[visits.Length];
        (RowSlots, RowCovariates) = BuildRows(visitCovariates);
        Pieces = BuildPieces(siteCovariates);
        (PieceWeights, PatternWeights) = (new double[Pieces.Pattern.Length], new double[Patterns]);
        (RowDetections, RowKnownMisses, RowVisits) = (new double[RowSlots.Length], new double[RowSlots.Length], new double[RowSlots.Length]);
        Weigh(weights);
    }

    private DetectionHistories(DetectionHistories other, ReadOnlySpan<double> weights)
    {
        (Sites, Seasons, Slots, VisitCovariates, SiteCovariates) = (other.Sites, other.Seasons, other.Slots, other.VisitCovariates, other.SiteCovariates);
        (_visits, _rowOfVisit, _detectedIn) = (other._visits, other._rowOfVisit, other._detectedIn);
        (RowSlots, RowCovariates) = (other.RowSlots, other.RowCovariates);
        Pieces = other.Pieces;
        Weights = new double[Sites];
        (PieceWeights, PatternWeights) = (new double[Pieces.Pattern.Length], new double[Patterns]);
        (RowDetections, RowKnownMisses, RowVisits) = (new double[RowSlots.Length], new double[RowSlots.Length], new double[RowSlots.Length]);
        Weigh(weights);
    }

    /// <summary>How many sites there are.</summary>
    public int Sites { get; }

    /// <summary>How many seasons there are.</summary>
    public int Seasons { get; }

    /// <summary>How many detection intercepts there are.</summary>
    public int Slots { get; }

    /// <summary>How many covariates of detection there are.</summary>
    public int VisitCovariates { get; }

    /// <summary>How many covariates of initial occupancy there are.</summary>
    public int SiteCovariates { get; }

    /// <summary>How many different patterns the likelihood is worked out for where rates are the same in all seasons.</summary>
    public int Patterns => Pieces.Continues.Length;

    /// <summary>The same histories with other weights, such as how often a bootstrap drew each site.</summary>
    /// <param name="weights">One weight a site, not negative; empty for 1 each.</param>
    /// <exception cref="InvalidOperationException">After <see cref="LetGoOfVisits"/>: a bug of the caller.</exception>
    public DetectionHistories WithWeights(ReadOnlySpan<double> weights) =>
        !_letGo ? new(this, weights) : throw new InvalidOperationException("The visits were let go.");

    /// <summary>Lets go of the single visits, which only <see cref="WithWeights"/> needs: of what is held, they take the most room.</summary>
    public void LetGoOfVisits() => (_visits, _rowOfVisit, _letGo) = ([], [], true);

    /// <summary>One season's histories from a table of visits, one slot for all.</summary>
    /// <param name="sites">How many sites.</param>
    /// <param name="detections">1 detected, 0 not, NaN not visited; site after site, as many columns for each.</param>
    public static DetectionHistories FromTable(int sites, ReadOnlySpan<double> detections)
    {
        int columns = detections.Length / sites;
        if (detections.Length != sites * columns) throw new ArgumentException("As many visits for every site, missing ones as NaN.", nameof(detections));
        var visits = new List<Visit>();
        for (int i = 0; i < detections.Length; i++)
        {
            if (double.IsNaN(detections[i]))
                continue;
            if (detections[i] is not (0 or 1)) throw new ArgumentException("Detections are 0, 1 or NaN.", nameof(detections));
            visits.Add(new Visit(i / columns, 0, detections[i] == 1));
        }
        return new DetectionHistories(sites, 1, CollectionsMarshal.AsSpan(visits));
    }

    /// <summary>Whether a site was detected in a season.</summary>
    public bool DetectedIn(int site, int season) => _detectedIn[site * Seasons + season];

    internal double[] Weights { get; }

    internal HistoryPieces Pieces { get; }

    /// <summary>The weight of each piece.</summary>
    internal double[] PieceWeights { get; }

    /// <summary>The weight of each pattern, wherever it starts.</summary>
    internal double[] PatternWeights { get; }

    /// <summary>Covariates of initial occupancy of a pattern that begins with it.</summary>
    internal ReadOnlySpan<double> CovariatesOf(int pattern) => Pieces.Covariates.AsSpan(Pieces.CovariateStart[pattern], SiteCovariates);

    /// <summary>Weight of the sites whose first piece has this pattern; 0 for a pattern that continues, or of sites without a visit.</summary>
    internal double SitesBeginning(int pattern) =>
        Pieces.Continues[pattern] || Pieces.StepStart[pattern] == Pieces.StepStart[pattern + 1] ? 0 : PatternWeights[pattern];

    internal int[] RowSlots { get; }

    internal double[] RowCovariates { get; }

    /// <summary>Weighted detections of each row.</summary>
    internal double[] RowDetections { get; }

    /// <summary>Weighted visits of each row without a detection, in seasons with one.</summary>
    internal double[] RowKnownMisses { get; }

    /// <summary>Weighted visits of each row.</summary>
    internal double[] RowVisits { get; }

    private static void RequireFinite(ReadOnlySpan<double> values, string name)
    {
        foreach (double value in values)
            if (!double.IsFinite(value)) throw new ArgumentException("Covariates are finite; a missing one is for the caller to replace.", name);
    }
}

/// <summary>What a season of a site tells about its state.</summary>
internal enum StepKind : byte
{
    /// <summary>Not visited.</summary>
    Unvisited,

    /// <summary>Visited, nothing detected.</summary>
    Silent,

    /// <summary>Detected: occupied for certain.</summary>
    Detected,
}
