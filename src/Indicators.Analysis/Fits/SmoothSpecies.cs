using Indicators.Analysis.Options;
using Indicators.Statistics.Expansions;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Resampling;
using Indicators.Statistics.Smooth;

namespace Indicators.Analysis.Fits;

/// <summary>The smooth course of one species in one area, and what every resample gives at the λ that was chosen.</summary>
internal sealed class SmoothSpecies
{
    /// <summary>
    /// Fewer seasons than this: no smooth course. The interval of the underlying direction is promised from 8 as well; a curve through
    /// fewer points is hardly told from a line or from the points themselves. Ours.
    /// </summary>
    public const int MinimumSeasons = 8;

    /// <summary>A resample whose step is longer than this, root mean square on the log scale, is fitted in full, as with the adjusted trend.</summary>
    private const double LongestStep = 0.7;

    private const double RefitTolerance = 1e-4;

    /// <summary>λ is chosen to within so much of its logarithm: a few hundredths of an effective degree of freedom.</summary>
    private const double SmoothingTolerance = 0.1;

    private PanelCounts? _panel;
    private int _refittedInFull;

    private SmoothSpecies(PanelCounts panel, SmoothSelection curve, double dispersion, int clusters, int resamples)
    {
        (_panel, Curve, Clusters) = (panel, curve, clusters);
        Refits = SmoothRefits.Of(panel, curve, dispersion);
        Moves = new double[panel.Periods * resamples];
        Resamples = resamples;
    }

    /// <summary>The curve itself.</summary>
    public SmoothSelection Curve { get; }

    /// <summary>K.</summary>
    public int Clusters { get; }

    /// <summary>The layout of the resamples.</summary>
    public SmoothRefits Refits { get; }

    /// <summary>How many resamples there are.</summary>
    public int Resamples { get; }

    /// <summary>f* − f at [season × resamples + resample]; NaN where lost.</summary>
    public double[] Moves { get; }

    /// <summary>How many resamples were fitted in full.</summary>
    public int RefittedInFull => _refittedInFull;

    /// <summary>Fits the sample itself; null where no course is promised or none exists.</summary>
    public static SmoothSpecies? Of(SpeciesFit raw, Splines splines, TrendOptions options, int resamples)
    {
        if (raw.Series.Panel is not { } panel || raw.Slope.Status != SlopeStatus.Finite || panel.Periods < Math.Max(MinimumSeasons, options.MinimumSeasons)
            || !raw.HasBaseline || raw.Clusters[^1] < options.MinimumClusters)
            return null;
        var spline = splines.Over(panel.Times);
        double dispersion = SmoothSelection.DispersionOf(panel, spline);
        var curve = SmoothSelection.Choose(panel, SmoothingCriterion.RestrictedMaximumLikelihood, dispersion, SmoothingTolerance, spline);
        return curve.Status == SlopeStatus.Finite ? new SmoothSpecies(panel, curve, dispersion, raw.Clusters[^1], resamples) : null;
    }

    /// <summary>Lets go of what only the resamples needed.</summary>
    public void LetGo()
    {
        _panel = null;
        Refits.LetGo();
    }

    /// <summary>Fits a block of resamples and keeps what they give.</summary>
    public void Refit(ResampleBlock block, Workspace work)
    {
        Refits.Expansion!.Refit(block.Weights, work.Expansion, work.Steps, work.Lengths);
        Refits.AddMoved(work.Steps, block.Count, Moves.AsSpan(block.First), Resamples);
        for (int b = 0; b < block.Count; b++)
            if (!(work.Lengths[b] <= LongestStep))
                FitInFull(b, block, work);
    }

    private void FitInFull(int b, ResampleBlock block, Workspace work)
    {
        Interlocked.Increment(ref _refittedInFull);
        work.Sample.Fill(block.Of(b));
        var status = work.Full.Fit(work.Sample, Curve.Penalty!, work.Start, RefitTolerance);
        for (int t = 0; t < _panel!.Periods; t++)
            Moves[t * Resamples + block.First + b] = status == SlopeStatus.Finite ? work.Full.Effects[t] - Curve.Effects[t] : double.NaN;
    }

    /// <summary>What one thread needs for the refits of one species.</summary>
    internal sealed class Workspace(SmoothSpecies species)
    {
        private SmoothFit? _full;
        private Resample? _sample;

        public ClusterExpansion.Workspace Expansion { get; } = new(species.Refits.Expansion!);

        public double[] Steps { get; } = new double[species.Refits.Expansion!.Parameters * ClusterSums.Block];

        public double[] Lengths { get; } = new double[ClusterSums.Block];

        public double[] Start { get; } = [.. species.Curve.Effects];

        /// <summary>Made when the first long step asks for it.</summary>
        public SmoothFit Full => _full ??= new SmoothFit(species._panel!);

        public Resample Sample => _sample ??= new Resample(species._panel!);
    }
}
