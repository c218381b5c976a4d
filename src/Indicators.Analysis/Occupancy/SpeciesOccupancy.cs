using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Statistics.Intervals;
using Indicators.Statistics.Occupancy;

namespace Indicators.Analysis.Occupancy;

/// <summary>
/// One species in one area's wetlands: multi-season occupancy (MacKenzie et al. 2003) with one rate of colonisation, one of
/// extinction and a detection rate for each part of the calling window.
/// </summary>
/// <remarks>
/// Few shared rates on purpose: an area has 10 to 50 wetlands. Detection by part costs nothing where parts are alike and
/// takes the bias away where they are not (docs/occupancy.md).
/// </remarks>
internal sealed class SpeciesOccupancy
{
    /// <summary>Draws of the parameters that a chance of presence is averaged over; ours, Monte Carlo error about 0.01.</summary>
    private const int Draws = 200;

    private readonly WetlandVisits _visits;
    private readonly OccupancyOptions _options;
    private readonly DetectionHistories? _histories;
    private readonly OccupancyFit? _fit;
    private readonly CourseIntervals? _intervals;
    private readonly double _confidence;
    private readonly DrawKey _key;

    private SpeciesOccupancy(
        WetlandVisits visits, OccupancyOptions options, OccupancyBasis basis, DetectionHistories? histories, OccupancyFit? fit, double confidence, DrawKey key)
    {
        (_visits, _options, Basis, _histories, _fit, _confidence, _key) = (visits, options, basis, histories, fit, confidence, key);
        _intervals = histories is null || fit is null ? null : CourseIntervals.Of(histories, fit, confidence);
        histories?.LetGoOfVisits();
    }

    /// <summary>The model, or why there is none.</summary>
    public OccupancyBasis Basis { get; }

    /// <summary>Fits one species.</summary>
    /// <param name="visits">Its eligible visits.</param>
    /// <param name="options">How.</param>
    /// <param name="confidence">Of the intervals.</param>
    /// <param name="key">Keys its parameter draws.</param>
    public static SpeciesOccupancy Of(WetlandVisits visits, OccupancyOptions options, double confidence, DrawKey key)
    {
        SpeciesOccupancy Without(OccupancyBasis basis) => new(visits, options, basis, null, null, confidence, key);
        var (wetlands, heard) = visits.WetlandsIn(0, visits.Seasons - 1);
        if (heard == 0)
            return Without(OccupancyBasis.NeverHeard);
        if (wetlands < options.MinimumWetlands)
            return Without(OccupancyBasis.FewWetlands);
        if (visits.Seasons > 1)
        {
            var histories = visits.Histories();
            var fit = MultiSeasonOccupancy.Fit(histories, TransitionGroups.Constant(visits.Seasons));
            if (fit.HasEstimates)
            {
                var basis = fit.Status == OccupancyStatus.Interior ? OccupancyBasis.ManySeasons : OccupancyBasis.ManySeasonsBoundary;
                return new SpeciesOccupancy(visits, options, basis, histories, fit, confidence, key);
            }
        }
        var apart = SingleSeasonOccupancy.Fit(visits.SeasonsApart());
        return apart.HasEstimates
            ? new SpeciesOccupancy(visits, options, OccupancyBasis.OneOccupancy, null, apart, confidence, key)
            : Without(OccupancyBasis.NotIdentified);
    }

    /// <summary>How many wetlands of the area had an eligible survey in a season that has any.</summary>
    public int WetlandsSurveyed(int season) => _visits.WetlandsIn(season - _visits.FirstSeason, season - _visits.FirstSeason).Visited;

    /// <summary>One point a season with eligible surveys, in order; none for a species never heard.</summary>
    /// <param name="area">The area told of.</param>
    /// <param name="species">The species.</param>
    public IEnumerable<OccupancyPoint> Points(WatershedCode area, Species species)
    {
        for (int t = 0; t < _visits.Seasons && Basis != OccupancyBasis.NeverHeard; t++)
        {
            var (wetlands, heard) = _visits.WetlandsIn(t, t);
            if (wetlands == 0)
                continue;
            var (psi, interval) = PsiIn(t);
            yield return new OccupancyPoint(
                area, species.Id, _visits.FirstSeason + t, wetlands,
                species.Protected ? null : heard, species.Protected ? null : (double)heard / wetlands,
                psi, interval?.Lower, interval?.Upper, Basis);
        }
    }

    private (double? Psi, Interval? Interval) PsiIn(int season)
    {
        if (Basis != OccupancyBasis.OneOccupancy)
            return (_fit?.Occupancy(season, _confidence)?.Value, _intervals?[season]);
        // One occupancy for all seasons has no interval from more than one: the seasons of a wetland are not independent.
        var shared = _fit!.Occupancy(0, _confidence);
        return (shared?.Value, _visits.Seasons > 1 ? null : shared?.Interval);
    }

    /// <summary>What holds over all seasons.</summary>
    public OccupancyRates Rates(WatershedCode area, Species species)
    {
        var (wetlands, heard) = _visits.WetlandsIn(0, _visits.Seasons - 1);
        var colonisation = _intervals is null ? default : Rate(_fit!.Layout.FirstColonisation, _fit.Colonisation(0, _confidence));
        var extinction = _intervals is null ? default : Rate(_fit!.Layout.FirstExtinction, _fit.Extinction(0, _confidence));
        double[] round = [.. PartsVisited().Select(P).Where(p => p is not null).Select(p => p!.Value.Value)];
        return new OccupancyRates
        {
            Area = area,
            Species = species.Id,
            Basis = Basis,
            Wetlands = wetlands,
            WetlandsHeard = species.Protected ? null : heard,
            Visits = _visits.Count,
            Colonisation = colonisation.Value,
            ColonisationLower = colonisation.Interval?.Lower,
            ColonisationUpper = colonisation.Interval?.Upper,
            Extinction = extinction.Value,
            ExtinctionLower = extinction.Interval?.Lower,
            ExtinctionUpper = extinction.Interval?.Upper,
            VisitsForAbsence = round.Length == 0 ? null : Absence.VisitsFor(round, _options.AbsenceChance),
        };
    }

    private (double? Value, Interval? Interval) Rate(int place, ProbabilityEstimate? estimate) =>
        (estimate?.Value, estimate?.Interval ?? _intervals!.AtBoundary(place));

    /// <summary>Detection in each part of the window with a visit.</summary>
    public IEnumerable<DetectionRate> Detection(WatershedCode area, Species species)
    {
        foreach (int part in PartsVisited())
        {
            if (P(part) is not { } p)
                continue;
            var interval = p.Interval ?? AtBoundary(part);
            yield return new DetectionRate(
                area, species.Id, (WindowPart)part, _visits.VisitsByPart[part],
                species.Protected ? null : _visits.DetectionsByPart[part],
                p.Value, p.StandardError, interval?.Lower, interval?.Upper,
                Absence.VisitsFor(p.Value, _options.AbsenceChance)?.Whole,
                interval is { } ends ? Absence.VisitsFor(ends.Lower, _options.AbsenceChance)?.Whole : null);
        }
    }

    /// <summary>
    /// The chance that a species not heard in a window is there all the same, in one wetland of the area at least: that of
    /// the wetland likeliest to have held it without a break since it was last heard anywhere in the area.
    /// </summary>
    /// <remarks>
    /// Wetlands put together as if independent, 1 − Π(1 − chance), would say too much, for their rates are estimated together
    /// and they dry out together. The likeliest wetland alone is the least that any dependence allows (Fréchet bound); in the
    /// study in docs/occupancy.md it errs low rather than high and lies nearer the truth than 0 in every kind of world.
    /// Returns from outside are not counted: nothing here supports a guess at them.
    /// </remarks>
    /// <param name="firstSeason">The window's first season, in none of which it was heard.</param>
    /// <param name="lastSeason">The window's last season; later visits do not count.</param>
    /// <returns>0 for a species never heard before the window, and where no rate is well enough known to say.</returns>
    public double ChanceStillThere(int firstSeason, int lastSeason)
    {
        int until = firstSeason - _visits.FirstSeason, through = lastSeason - _visits.FirstSeason;
        int heard = until - 1;
        while (heard >= 0 && _visits.WetlandsIn(heard, heard).Heard == 0)
            heard--;
        if (heard < 0 || through >= _visits.Seasons || ParametersDrawn() is not { } draws)
            return 0;
        var likelihood = new OccupancyLikelihood(_histories!, _fit!.Groups);
        double[] point = new double[_fit.Layout.Count], one = new double[_visits.Wetlands.Length], mean = new double[one.Length];
        for (int b = 0; b < draws.Count; b++)
        {
            draws.Draw(b, point);
            likelihood.Unbroken(point, heard, until, through, one);
            for (int s = 0; s < one.Length; s++)
                mean[s] += one[s] / draws.Count;
        }
        return Math.Min(1, mean.Max());
    }

    /// <summary>The chance that a wetland held the species in its last season with a visit; null without rates well enough known.</summary>
    public double? ChanceAt(Id<Wetland> wetland)
    {
        int site = Array.BinarySearch(_visits.Wetlands, wetland), last = _visits.LastVisited(site);
        if (last < 0 || ParametersDrawn() is not { } draws)
            return null;
        var likelihood = new OccupancyLikelihood(_histories!, _fit!.Groups);
        double[] point = new double[_fit.Layout.Count], seasons = new double[_visits.Seasons];
        double mean = 0;
        for (int b = 0; b < draws.Count; b++)
        {
            draws.Draw(b, point);
            likelihood.Filter(point, site, seasons);
            mean += seasons[last] / draws.Count;
        }
        return Math.Min(1, mean);
    }

    /// <summary>
    /// Draws of the parameters; null unless extinction and every rate of detection above 0 lie inside their bounds: a rate at
    /// its bound would be drawn without its uncertainty, and the chance come out too sure of itself.
    /// </summary>
    private ParameterDraws? ParametersDrawn()
    {
        if (_histories is null || _fit is null || _fit.Parameters.Any(p => p.Kind switch
        {
            OccupancyParameterKind.Extinction => p.Status != EstimateStatus.Interior,
            OccupancyParameterKind.Detection => p.Status is not (EstimateStatus.Interior or EstimateStatus.AtZero),
            _ => false,
        }))
            return null;
        return ParameterDraws.Of(_fit, Draws, _key.Seed, _key.Stream);
    }

    private IEnumerable<int> PartsVisited() => Enumerable.Range(0, WetlandVisits.Parts).Where(part => _visits.VisitsByPart[part] > 0);

    /// <summary>The likelihood-ratio interval of a part's detection that stands at 0 or 1; null otherwise, and where the seasons were taken apart.</summary>
    private Interval? AtBoundary(int part)
    {
        if (_histories is null || _fit is not { HasEstimates: true } fit)
            return null;
        int place = fit.Layout.FirstDetection + _visits.SlotOfPart[part];
        return fit.Parameters[place].Status is EstimateStatus.AtZero or EstimateStatus.AtOne ? ProfileInterval.Of(_histories, fit, place, _confidence) : null;
    }

    private ProbabilityEstimate? P(int part) => _fit?.Detection(_visits.SlotOfPart[part], default, _confidence);
}
