using Indicators.Analysis.Cells;
using Indicators.Analysis.Options;
using Indicators.Statistics.Adjusted;
using Indicators.Statistics.Expansions;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Resampling;
using Indicators.Statistics.Shocks;

namespace Indicators.Analysis.Fits;

/// <summary>The adjusted trend of one species in one area: the fit of the sample itself, and what every resample gives.</summary>
internal sealed class AdjustedSpecies
{
    /// <summary>
    /// Fewer visits with calls an effect than this: no adjusted trend. Peduzzi, Concato, Kemper, Holford and Feinstein (1996) found no major
    /// problems from ten events a variable on; the season counts as one.
    /// </summary>
    public const int HeardVisitsAnEffect = 10;

    /// <summary>
    /// A resample whose Newton step changes expected calling by more than this, root mean square on the log scale, is fitted in full;
    /// docs/expansion.md says how near interval ends then are to those of full refits throughout.
    /// </summary>
    public const double LongestStep = 0.7;

    /// <summary>
    /// How many resamples at most estimate the covariance of season residuals: whole blocks, enough for a variance to within 7 %.
    /// </summary>
    private const int ResidualResamples = 16 * ClusterSums.Block;

    /// <summary>The last step of the sample's own fit, log scale: what is left after it is a twentieth of it at most.</summary>
    private const double SampleTolerance = 1e-9;

    /// <summary>The last step of a full refit, log scale: what is left after it is of the order of its square.</summary>
    private const double RefitTolerance = 5e-3;

    /// <summary>A full refit starts from steps shorter than this, otherwise from the sample's own fit.</summary>
    private const double LongestStart = 2;

    private readonly AdjustedStart? _start;
    private readonly double[] _estimate = [];
    private int _refittedInFull;

    private AdjustedRefits? _refits;
    private VisitPanel? _visits;

    private AdjustedSpecies(AdjustedSeries? series) => Seasons = series?.Seasons ?? [];

    private AdjustedSpecies(AdjustedSeries series, VisitPanel visits, AdjustedFit fit, int resamples)
    {
        Seasons = series.Seasons;
        _visits = visits;
        Listening = new AdjustedListening(visits);
        _refits = AdjustedRefits.Of(visits, fit);
        Residuals = _refits.Residuals;
        _start = fit.ToStart();
        Slope = fit.Slope;
        Effects = fit.Coefficients.ToArray();
        Estimable = [.. Enumerable.Range(0, Effects.Length).Select(fit.IsEstimable)];
        _estimate = [0, .. _refits.Covariates.Select(c => Effects[c])];
        SlopeDraws = new double[resamples];
        EffectDraws = [.. _refits.Covariates.Select(_ => new double[resamples])];
        ResidualCount = Math.Min(resamples, ResidualResamples);
        ResidualDraws = new double[series.Seasons.Length * ResidualCount];
    }

    /// <summary>The seasons with effort; none when the species was never heard.</summary>
    public int[] Seasons { get; }

    /// <summary>What the fit rests on; null without one.</summary>
    public AdjustedListening? Listening { get; }

    /// <summary>Whether there is a fit.</summary>
    public AdjustedStatus Status { get; private init; } = AdjustedStatus.None;

    /// <summary>K.</summary>
    public int Clusters { get; private init; }

    /// <summary>Fewer seasons tell something than a trend needs.</summary>
    public bool TooFewSeasons { get; private init; }

    /// <summary>Too few wetlands, seasons or visits with calls to try.</summary>
    public bool TooLittle { get; private init; }

    /// <summary>The sample's own season residuals; null without a fit.</summary>
    public SeasonResiduals? Residuals { get; }

    /// <summary>β, natural log scale, per season.</summary>
    public double Slope { get; } = double.NaN;

    /// <summary>θ of every covariate, log scale, per standard deviation.</summary>
    public double[] Effects { get; } = [];

    /// <summary>Which could be estimated.</summary>
    public bool[] Estimable { get; } = [];

    /// <summary>β of each resample; NaN where lost.</summary>
    public double[] SlopeDraws { get; } = [];

    /// <summary>θ of each resample, one array an estimable covariate.</summary>
    public double[][] EffectDraws { get; } = [];

    /// <summary>How many resamples have season residuals.</summary>
    public int ResidualCount { get; }

    /// <summary>Their season residuals at [season × count + resample].</summary>
    public double[] ResidualDraws { get; } = [];

    /// <summary>How many resamples were fitted in full.</summary>
    public int RefittedInFull => _refittedInFull;

    /// <summary>Fits the sample itself.</summary>
    public static AdjustedSpecies Of(AdjustedSeries? series, TrendOptions options, int resamples)
    {
        if (series is null)
            return new AdjustedSpecies(series);
        int clusters = series.Panel.InformativeClusters(series.Seasons.Length), seasons = series.Panel.InformativePeriods(series.Seasons.Length);
        if (clusters < options.MinimumClusters || seasons < options.MinimumSeasons)
            return new AdjustedSpecies(series) { Clusters = clusters, TooFewSeasons = seasons < options.MinimumSeasons, TooLittle = true };
        var visits = series.ToVisits();
        int effects = 1 + visits.Covariates.Count(c => c.StandardDeviation > 0 && c.Missing < visits.Visits);
        if (series.HeardVisits < HeardVisitsAnEffect * effects)
            return new AdjustedSpecies(series) { Clusters = clusters, TooLittle = true };
        var fit = new AdjustedFit(visits, AdjustedModel.Trend);
        fit.Fit(new Resample(series.Panel), default, null, SampleTolerance);
        return fit.Status == AdjustedStatus.Finite
            ? new AdjustedSpecies(series, visits, fit, resamples) { Status = fit.Status, Clusters = clusters }
            : new AdjustedSpecies(series) { Status = fit.Status, Clusters = clusters };
    }

    /// <summary>Fits a block of resamples and keeps what they give. Called from several threads, each for blocks of its own.</summary>
    /// <param name="block">The block.</param>
    /// <param name="work">This thread's workspace.</param>
    public void Refit(ResampleBlock block, Workspace work)
    {
        int first = block.First, count = block.Count;
        _refits!.Expansion.Refit(block.Weights, work.Expansion, work.Steps, work.Lengths);
        int residuals = Math.Min(count, ResidualCount - first);
        if (residuals > 0)
            _refits.FillResiduals(block.Weights, residuals, work.Steps, work.SeasonSums, ResidualDraws.AsSpan(first), ResidualCount);
        for (int b = 0; b < count; b++)
        {
            if (!(work.Lengths[b] <= LongestStep))
                FitInFull(b, block, work);
            SlopeDraws[first + b] = double.IsFinite(work.Steps[b]) ? Slope + _refits.SlopeOf(work.Steps[b]) : work.Steps[b];
            for (int c = 0; c < EffectDraws.Length; c++)
                EffectDraws[c][first + b] = _estimate[1 + c] + work.Steps[(1 + c) * ClusterSums.Block + b];
        }
    }

    /// <summary>Lets go of what only the resamples needed.</summary>
    public void LetGo() => (_refits, _visits) = (null, null);

    /// <summary>What this series brings to the shocks shared by wetlands.</summary>
    public ShockSeries ToShockSeries() => new(Slope, SlopeDraws, Residuals!, ResidualDraws, Seasons, Clusters);

    /// <summary>Fits one resample to its end and writes its steps: infinite where its trend is, NaN where it is lost.</summary>
    private void FitInFull(int b, ResampleBlock block, Workspace work)
    {
        int resample = block.First + b;
        Interlocked.Increment(ref _refittedInFull);
        work.Sample.Fill(block.Of(b));
        var start = work.Lengths[b] < LongestStart ? _refits!.StartOf(_start!, work.Steps, b) : _start;
        var status = work.Full.Fit(work.Sample, default, start, RefitTolerance);
        work.Steps[b] = status switch
        {
            AdjustedStatus.Finite => (work.Full.Slope - Slope) / _refits!.SlopeOf(1),
            AdjustedStatus.MinusInfinity => double.NegativeInfinity,
            AdjustedStatus.PlusInfinity => double.PositiveInfinity,
            _ => double.NaN,
        };
        if (resample < ResidualCount && status == AdjustedStatus.Finite)
            work.Full.FillResiduals(work.Sample, ResidualDraws.AsSpan(resample), ResidualCount);
        else if (resample < ResidualCount)
            for (int t = 0; t < Seasons.Length; t++)
                ResidualDraws[t * ResidualCount + resample] = double.NaN;
        for (int c = 0; c < EffectDraws.Length; c++)
        {
            int covariate = _refits!.Covariates[c];
            work.Steps[(1 + c) * ClusterSums.Block + b] =
                status == AdjustedStatus.Finite && work.Full.IsEstimable(covariate) ? work.Full.Coefficients[covariate] - Effects[covariate] : double.NaN;
        }
    }

    /// <summary>What one thread needs for the refits of one species.</summary>
    internal sealed class Workspace(AdjustedSpecies species)
    {
        private AdjustedFit? _full;
        private Resample? _sample;

        public ClusterExpansion.Workspace Expansion { get; } = new(species._refits!.Expansion);

        public double[] Steps { get; } = new double[species._refits!.Expansion.Parameters * ClusterSums.Block];

        public double[] Lengths { get; } = new double[ClusterSums.Block];

        public double[] SeasonSums { get; } = new double[species._refits!.SeasonSumsLength];

        /// <summary>Made when the first long step asks for it.</summary>
        public AdjustedFit Full => _full ??= new AdjustedFit(species._visits!, AdjustedModel.Trend);

        public Resample Sample => _sample ??= new Resample(species._visits!.Panel);
    }
}
