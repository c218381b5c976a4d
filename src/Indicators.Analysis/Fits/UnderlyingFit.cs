using Indicators.Analysis.Options;
using Indicators.Statistics.Resampling;
using Indicators.Statistics.Shocks;

namespace Indicators.Analysis.Fits;

/// <summary>
/// Which way the species of one area go beneath good and bad springs that all its wetlands share, judged after every
/// season from the data up to it, jointly over the species.
/// </summary>
internal sealed class UnderlyingFit
{
    private readonly SpeciesFit[] _species;
    private readonly int[] _seasons;
    private readonly double[]?[][] _draws;
    private readonly double[][] _stretches;
    private readonly double[] _carryOver, _lastSeasonSd;

    private UnderlyingFit(SpeciesFit[] species, int[] seasons, double[]?[][] draws, double[][] stretches, double[] carryOver, double[] lastSeasonSd) =>
        (_species, _seasons, _draws, _stretches, _carryOver, _lastSeasonSd) = (species, seasons, draws, stretches, carryOver, lastSeasonSd);

    /// <summary>The slopes over the whole series, jointly; null when no species has an interval.</summary>
    private UnderlyingSlopes? Whole { get; init; }

    /// <summary>Which species <see cref="Whole"/> holds, ascending.</summary>
    private int[] InWhole { get; init; } = [];

    /// <summary>Stretched draws over the whole series of the mean slope of species that each have draws of their own.</summary>
    /// <param name="species">At least one; each with <see cref="Draws(int)"/>.</param>
    /// <param name="confidence">0 to 1.</param>
    public double[] MeanDraws(IEnumerable<int> species, double confidence) =>
        Whole!.MeanDraws([.. species.Select(k => Array.BinarySearch(InWhole, k))], confidence);

    /// <summary>Stretched draws of each species' slope from the data up to a season; null where no interval is promised.</summary>
    /// <param name="species">Index of the species.</param>
    /// <param name="season">The last season used.</param>
    public double[]? Draws(int species, int season)
    {
        int at = Place(season);
        return at < 0 ? null : _draws[at][species];
    }

    /// <summary>
    /// Draws of one species' slope from the data up to two seasons, for the change between them, resample by resample; null where there are none.
    /// </summary>
    /// <remarks>
    /// Draws of every season take the same normals for the springs, as if no spring had come between; here the earlier season's springs go with those
    /// of the later one as much as the two slopes hang on the same springs, and for the rest with those of another resample.
    /// </remarks>
    /// <param name="species">Index of the species.</param>
    /// <param name="season">The earlier season, the last one used for the first draws.</param>
    /// <param name="later">The later season.</param>
    public (double[]? Before, double[]? Later) ChangeDraws(int species, int season, int later)
    {
        var (before, after) = (Parts(species, season), Parts(species, later));
        if (before is not { } one || after is not { } other)
            return (before?.Draws(1), after?.Draws(1));
        double together = SeasonCarryOver.CorrelationOf(
            one.Series.Residuals.Leverage, one.Series.Periods, other.Series.Residuals.Leverage, other.Series.Periods, _carryOver[Place(later)]);
        return (one.Draws(together), other.Draws(1));
    }

    /// <summary>One species' draws through a season in their two parts, unstretched.</summary>
    private SlopeParts? Parts(int species, int season)
    {
        int at = Place(season);
        if (at < 0 || _draws[at][species] is not { } draws)
            return null;
        var series = Series(_species[species], _seasons, at);
        double stretch = _stretches[at][species];
        double[] units = series.UnitDeviations(), springs = new double[draws.Length];
        for (int b = 0; b < springs.Length; b++)
        {
            double part = (draws[b] - series.Slope) / stretch - units[b];
            springs[b] = double.IsFinite(part) ? part : 0;
        }
        return new SlopeParts(series, units, springs, stretch);
    }

    private int Place(int season)
    {
        int at = Array.BinarySearch(_seasons, season);
        return at < 0 ? ~at - 1 : at;
    }

    /// <summary>ρ over the whole series: how alike springs of one season and the next are taken to be; NaN without draws.</summary>
    public double CarryOver => Whole?.CarryOver ?? double.NaN;

    /// <summary>What the species together, over the whole series, tell of how alike springs of one season and the next are.</summary>
    public IReadOnlyList<double> CarryOverEvidence { get; private init; } = SeasonCarryOver.NoEvidence;

    /// <summary>Stretched draws over the whole series.</summary>
    public double[]? Draws(int species) => _draws.Length == 0 ? null : _draws[^1][species];

    /// <summary>Standard deviation of a species' shared season shocks over the whole series, log scale; NaN without draws.</summary>
    public double SeasonSd(int species) => _lastSeasonSd[species];

    /// <summary>Puts the species' refits together.</summary>
    /// <param name="species">The fits with their resamples done. Other windows and responses are judged each by itself; their draws are put into them.</param>
    /// <param name="normals">Where the shocks come from.</param>
    /// <param name="options">The confidence that draws are stretched for.</param>
    /// <param name="resamples">How many resamples the fits hold.</param>
    /// <param name="parallel">How many threads may work.</param>
    public static UnderlyingFit Of(
        SpeciesFit[] species, NormalDraws normals, TrendOptions options, int resamples, ParallelOptions parallel)
    {
        int[] seasons = [.. species.Where(s => s.Refits.Any(r => r is not null)).SelectMany(s => s.Series.Seasons).Distinct().Order()];
        double[] z = Normals(normals, species.Length, resamples, parallel);
        var draws = new double[]?[seasons.Length][];
        double[][] stretches = [.. seasons.Select(_ => new double[species.Length])];
        double[] seasonSd = [.. Enumerable.Repeat(double.NaN, species.Length)], carryOver = new double[seasons.Length];
        UnderlyingSlopes? whole = null;
        int[] inWhole = [];
        Parallel.For(0, seasons.Length, parallel, at =>
        {
            draws[at] = new double[]?[species.Length];
            int[] joint = [.. Enumerable.Range(0, species.Length).Where(k => species[k].Refits[species[k].Series.SeasonsThrough(seasons[at])] is not null)];
            if (joint.Length == 0)
                return;
            var slopes = new UnderlyingSlopes([.. joint.Select(k => Series(species[k], seasons, at))], z);
            carryOver[at] = slopes.CarryOver;
            for (int i = 0; i < joint.Length; i++)
            {
                draws[at][joint[i]] = slopes.Draws(i, options.Confidence, out stretches[at][joint[i]]);
                if (at == seasons.Length - 1)
                    seasonSd[joint[i]] = slopes.SeasonSd(i);
            }
            if (at == seasons.Length - 1)
                (whole, inWhole) = (slopes, joint);
        });
        WindowFit[] promised = [.. species.SelectMany(s => s.Windows).Where(w => w.Refits is not null)];
        Parallel.For(0, promised.Length, parallel, i =>
        {
            var window = promised[i];
            // A window has few seasons, the whole series of all species tells more of how springs carry over.
            var slopes = new UnderlyingSlopes([Series(window)], z.AsMemory(window.Series.Species * resamples), whole?.CarryOver);
            (window.Underlying, window.SeasonSd, window.CarryOver) = (slopes.Draws(0, options.Confidence), slopes.SeasonSd(0), slopes.CarryOver);
        });
        return new UnderlyingFit(species, seasons, draws, stretches, carryOver, seasonSd)
        {
            Whole = whole, InWhole = inWhole, CarryOverEvidence = whole?.CarryOverEvidence() ?? SeasonCarryOver.NoEvidence,
        };
    }

    private static ShockSeries Series(SpeciesFit species, int[] seasons, int at)
    {
        int p = species.Series.SeasonsThrough(seasons[at]);
        var refits = species.Refits[p]!;
        // What resamples give and what the jackknife gives cannot be paired: a series that has ended stands beside others' past seasons as these do.
        bool ended = p == species.Series.Seasons.Length && at < seasons.Length - 1;
        return new ShockSeries(
            species.Slopes[p].Value,
            refits.SlopeDraws,
            refits.Residuals,
            ended ? refits.Influence(species.Series.Panel!, p, species.Slopes[p].Value) : refits.ResidualDraws,
            species.Series.Seasons[..p],
            species.Clusters[p]);
    }

    private static ShockSeries Series(WindowFit window) => new(
        window.Slope.Value,
        window.Refits!.SlopeDraws,
        window.Refits.Residuals,
        window.Refits.ResidualDraws,
        window.Series.Seasons,
        window.Clusters);

    /// <summary>Normals laid out one value a resample behind each other; each resample's depend on its own number only.</summary>
    internal static double[] Normals(NormalDraws normals, int each, int resamples, ParallelOptions parallel)
    {
        var z = new double[each * resamples];
        Parallel.For(0, resamples, parallel, () => new double[each], (b, _, draws) =>
        {
            normals.Draw(b, draws);
            for (int i = 0; i < each; i++)
                z[i * resamples + b] = draws[i];
            return draws;
        }, _ => { });
        return z;
    }

    private readonly record struct SlopeParts(ShockSeries Series, double[] Units, double[] Springs, double Stretch)
    {
        /// <summary>The draws with springs that go with these to a degree, and for the rest with those of another resample.</summary>
        /// <param name="together">The correlation, −1 to 1.</param>
        public double[] Draws(double together)
        {
            // The same shift for every species keeps their springs joint.
            double apart = Math.Sqrt(1 - together * together);
            int shift = Springs.Length / 2;
            var draws = new double[Units.Length];
            for (int b = 0; b < draws.Length; b++)
                draws[b] = Series.Slope + Stretch * (Units[b] + together * Springs[b] + apart * Springs[(b + shift) % draws.Length]);
            return draws;
        }
    }
}
