using Indicators.Statistics.Panels;
using Indicators.Statistics.Resampling;

namespace Indicators.Analysis.Power;

/// <summary>Draws what a plan of listening would hear if calling changed at a given rate.</summary>
internal static class SimulatedListening
{
    /// <summary>One simulated species over one plan.</summary>
    /// <param name="plan">The plan; nobody skips a season.</param>
    /// <param name="spread">How calling varies.</param>
    /// <param name="slope">The slope beneath it all, natural log, per season.</param>
    /// <param name="random">The world's own numbers.</param>
    public static PanelCounts Draw(ListeningPlan plan, CallingSpread spread, double slope, UniformStream random)
    {
        double middle = (plan.Seasons - 1) / 2.0;
        double[] shocks = [.. Enumerable.Range(0, plan.Seasons).Select(_ => spread.SeasonSd * random.Normal())];
        double[] counts = new double[plan.Wetlands * plan.Seasons], surveys = new double[counts.Length];
        for (int w = 0; w < plan.Wetlands; w++)
        {
            double level = Math.Log(spread.Mean) + Noise(spread.LevelSd, random), own = slope + spread.SlopeSd * random.Normal();
            for (int t = 0; t < plan.Seasons; t++)
            {
                double mean = Math.Exp(level + own * (t - middle) + shocks[t] + Noise(spread.CellSd, random));
                for (int visit = 0; visit < plan.Visits; visit++)
                    counts[w * plan.Seasons + t] += Survey(mean, spread, random);
                surveys[w * plan.Seasons + t] = plan.Visits;
            }
        }
        return new PanelCounts([.. Enumerable.Range(0, plan.Seasons).Select(t => (double)t)], counts, surveys);
    }

    /// <summary>Log-normal noise that leaves the mean where it is.</summary>
    private static double Noise(double sd, UniformStream random) => sd * random.Normal() - sd * sd / 2;

    /// <summary>Heard with a chance that gives the mean, as far as a chance goes; then at a level as the programme hears them.</summary>
    private static double Survey(double mean, CallingSpread spread, UniformStream random)
    {
        if (random.Next() >= mean / spread.MeanWhenHeard)
            return 0;
        double u = random.Next();
        foreach (var (value, share) in spread.WhenHeard)
        {
            u -= share;
            if (u < 0)
                return value;
        }
        return spread.WhenHeard[^1].Value;
    }
}
