using Indicators.Statistics.Occupancy;
using Indicators.Statistics.Resampling;

namespace Indicators.Statistics.Tests.Occupancy;

/// <summary>An invented world whose truth is known: sites that are occupied, colonised and abandoned, and visits that miss.</summary>
internal sealed record World(int Sites, int Seasons, int Visits, double Psi, double Colonise, double Vanish, double[] P)
{
    /// <summary>The effect of the visit covariate, which is between −1 and 1; 0 for no covariate.</summary>
    public double Effect { get; init; }

    /// <summary>The effect of the site covariate, which is between −1 and 1; 0 for no covariate.</summary>
    public double SiteEffect { get; init; }

    /// <summary>The share of visits that are made.</summary>
    public double Made { get; init; } = 1;

    /// <summary>The visits drawn, with their covariates, before they are folded into histories.</summary>
    public (Visit[] Visits, double[] X, double[] W) Draw(uint key)
    {
        var visits = new List<Visit>();
        List<double> x = [], w = [];
        for (int s = 0; s < Sites; s++)
        {
            double site = 2 * Uniform(key, 0, s, 0) - 1;
            if (SiteEffect != 0)
                w.Add(site);
            bool present = Uniform(key, 1, s, 0) < Logistic(Math.Log(Psi / (1 - Psi)) + SiteEffect * site);
            for (int t = 0; t < Seasons; t++)
            {
                if (t > 0)
                    present = Uniform(key, 1, s, t) < (present ? 1 - Vanish : Colonise);
                for (int v = 0; v < Visits; v++)
                {
                    int slot = v % P.Length, number = t * Visits + v;
                    double covariate = Math.Round(2 * Uniform(key, 2, s, number) - 1, 1);
                    if (Uniform(key, 3, s, number) >= Made)
                        continue;
                    double p = Logistic(Math.Log(P[slot] / (1 - P[slot])) + Effect * covariate);
                    visits.Add(new Visit(s, t, present && Uniform(key, 4, s, number) < p, slot));
                    if (Effect != 0)
                        x.Add(covariate);
                }
            }
        }
        return ([.. visits], [.. x], [.. w]);
    }

    public DetectionHistories Histories(uint key)
    {
        var (visits, x, w) = Draw(key);
        return new DetectionHistories(Sites, Seasons, visits, P.Length, x, w);
    }

    private static double Logistic(double x) => 1 / (1 + Math.Exp(-x));

    private static double Uniform(uint key, uint what, int site, int number) =>
        (Philox.Block((uint)site, (uint)number, what, 0, key, 20260405).W0 + 0.5) / 4294967296.0;
}
