using System.Collections.Immutable;

namespace Indicators.Statistics.Occupancy;

/// <summary>
/// A fitted occupancy model: estimates, their covariance on the logit scale, and what follows from them.
/// </summary>
/// <remarks>
/// Variation in detection that no covariate explains makes occupancy come out too low. Standard errors and intervals trust
/// the model and independent sites.
/// </remarks>
public sealed class OccupancyFit
{
    private readonly double[] _point;
    private readonly double[]? _covariance;
    private readonly double[] _initialGradient;
    private readonly double _meanInitial;

    internal OccupancyFit(
        OccupancyStatus status, OccupancyLayout layout, TransitionGroups groups, double logLikelihood, double[] point,
        ImmutableArray<OccupancyParameter> parameters, double[]? covariance, double meanInitial, double[] initialGradient,
        int iterations, int starts, int startsAtMaximum)
    {
        (Status, Layout, Groups, LogLikelihood, _point, Parameters, _covariance) = (status, layout, groups, logLikelihood, point, parameters, covariance);
        (_meanInitial, _initialGradient) = (meanInitial, initialGradient);
        (Iterations, Starts, StartsAtMaximum) = (iterations, starts, startsAtMaximum);
    }

    /// <summary>How the fit came out.</summary>
    public OccupancyStatus Status { get; }

    /// <summary>Whether there are estimates to use: an interior maximum, or one with some probability at 0 or 1.</summary>
    public bool HasEstimates => Status is OccupancyStatus.Interior or OccupancyStatus.Boundary;

    /// <summary>The order of the parameters.</summary>
    public OccupancyLayout Layout { get; }

    /// <summary>Which intervals share rates.</summary>
    public TransitionGroups Groups { get; }

    /// <summary>The maximum of the log-likelihood; 0 where nothing was detected.</summary>
    public double LogLikelihood { get; }

    /// <summary>The parameters, in the order of <see cref="Layout"/>.</summary>
    public ImmutableArray<OccupancyParameter> Parameters { get; }

    /// <summary>Newton steps taken, over all starts.</summary>
    public int Iterations { get; }

    /// <summary>How many starting points were tried.</summary>
    public int Starts { get; }

    /// <summary>How many of them came to the best log-likelihood within 0.01.</summary>
    public int StartsAtMaximum { get; }

    /// <summary>The parameters' values, ±∞ at the boundary; a parameter that is not estimable has a value without meaning.</summary>
    public ReadOnlySpan<double> Point => _point;

    /// <summary>Whether there is a covariance.</summary>
    public bool HasCovariance => _covariance is not null;

    /// <summary>The covariance of two parameters on the logit scale, those at the boundary held there with zeros.</summary>
    /// <exception cref="InvalidOperationException">The fit has none; see <see cref="HasCovariance"/>.</exception>
    public double Covariance(int i, int j) =>
        (_covariance ?? throw new InvalidOperationException("This fit has no covariance."))[i * Layout.Count + j];

    /// <summary>
    /// ψ_t, the chance that a site is occupied in a season: ψ_{t+1} = ψ_t (1 − ε_t) + (1 − ψ_t) γ_t, the weighted mean over
    /// sites where ψ_1 has covariates. The interval is Wald on the logit, by the delta method over the full covariance.
    /// </summary>
    /// <param name="season">The season, from 0.</param>
    /// <param name="confidence">0 to 1.</param>
    /// <returns>Null when a parameter it needs is not estimable; without an interval when one is at the boundary.</returns>
    public ProbabilityEstimate? Occupancy(int season, double confidence = 0.95)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual((uint)season, (uint)Groups.Seasons);
        if (!HasEstimates)
            return null;
        var (psi, gradient, needed) = Course(season);
        return Derived(psi, gradient, needed, confidence);
    }

    /// <summary>ψ of a season at the estimates, its gradient on the logit scale of the parameters, and the parameters it needs.</summary>
    internal (double Psi, double[] Gradient, bool[] Needed) Course(int season)
    {
        var needed = new bool[Layout.Count];
        needed.AsSpan(0, Layout.FirstColonisation).Fill(true);
        double[] gradient = [.. _initialGradient];
        double psi = _meanInitial;
        for (int t = 0; t < season; t++)
        {
            int g = Layout.FirstColonisation + Groups.Colonisation[t], e = Layout.FirstExtinction + Groups.Extinction[t];
            needed[g] = needed[e] = true;
            double colonise = Logistic.Of(_point[g]), vanish = Logistic.Of(_point[e]);
            for (int k = 0; k < gradient.Length; k++)
                gradient[k] *= 1 - colonise - vanish;
            gradient[g] += (1 - psi) * colonise * Logistic.Of(-_point[g]);
            gradient[e] -= psi * vanish * Logistic.Of(-_point[e]);
            psi = psi * (1 - vanish) + (1 - psi) * colonise;
        }
        for (int slot = 0; slot < Layout.Slots; slot++)
            needed[Layout.FirstDetection + slot] = Parameters[Layout.FirstDetection + slot].Status == EstimateStatus.AtOne;
        return (psi, gradient, needed);
    }

    /// <summary>The rate at which empty sites become occupied, of a group; null when not estimable.</summary>
    public ProbabilityEstimate? Colonisation(int group, double confidence = 0.95) => Single(Layout.FirstColonisation + group, confidence);

    /// <summary>The rate at which occupied sites become empty, of a group; null when not estimable.</summary>
    public ProbabilityEstimate? Extinction(int group, double confidence = 0.95) => Single(Layout.FirstExtinction + group, confidence);

    /// <summary>The chance that a visit detects at an occupied site; null when not estimable.</summary>
    /// <param name="slot">The visit's slot.</param>
    /// <param name="covariates">The visit's covariates, as many as the model has; empty for all 0.</param>
    /// <param name="confidence">0 to 1.</param>
    public ProbabilityEstimate? Detection(int slot, ReadOnlySpan<double> covariates = default, double confidence = 0.95)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual((uint)slot, (uint)Layout.Slots);
        if (!covariates.IsEmpty && covariates.Length != Layout.VisitCovariates) throw new ArgumentException("One value a covariate.", nameof(covariates));
        if (!HasEstimates)
            return null;
        var (needed, gradient) = (new bool[Layout.Count], new double[Layout.Count]);
        int place = Layout.FirstDetection + slot;
        (needed[place], gradient[place]) = (true, 1);
        double eta = _point[place];
        for (int k = 0; k < covariates.Length; k++)
        {
            place = Layout.FirstDetectionEffect + k;
            (needed[place], gradient[place]) = (covariates[k] != 0, covariates[k]);
            if (covariates[k] != 0)
                eta += covariates[k] * _point[place];
        }
        double p = Logistic.Of(eta), slope = p * Logistic.Of(-eta);
        for (int k = 0; k < gradient.Length; k++)
            gradient[k] *= slope;
        return Derived(p, gradient, needed, confidence);
    }

    private ProbabilityEstimate? Single(int place, double confidence)
    {
        if (!HasEstimates)
            return null;
        var (needed, gradient) = (new bool[Layout.Count], new double[Layout.Count]);
        (needed[place], gradient[place]) = (true, Logistic.Of(_point[place]) * Logistic.Of(-_point[place]));
        return Derived(Logistic.Of(_point[place]), gradient, needed, confidence);
    }

    private ProbabilityEstimate? Derived(double value, double[] gradient, bool[] needed, double confidence)
    {
        bool boundary = false;
        for (int k = 0; k < needed.Length; k++)
        {
            if (!needed[k])
                continue;
            if (Parameters[k].Status == EstimateStatus.NotEstimable)
                return null;
            boundary |= Parameters[k].Status != EstimateStatus.Interior;
        }
        return boundary || !HasCovariance
            ? new ProbabilityEstimate(value, null, null)
            : ProbabilityEstimate.FromStandardError(value, Math.Sqrt(Variance(gradient)), confidence);
    }

    /// <summary>The variance of what has a gradient, parameters at the boundary held there.</summary>
    internal double Variance(double[] gradient)
    {
        double variance = 0;
        for (int i = 0; i < gradient.Length && HasCovariance; i++)
            for (int j = 0; j < gradient.Length; j++)
                if (gradient[i] != 0 && gradient[j] != 0)
                    variance += gradient[i] * gradient[j] * Covariance(i, j);
        return variance;
    }
}
