namespace Indicators.SeedDemo;

/// <summary>
/// The slope that the engine is asked to find: the log-linear (Poisson) slope over the seasons of the expected call level,
/// averaged over the wetlands that could have been drawn, the runs in the species' window and the wind. No random numbers:
/// the normal spread between wetlands is integrated on an even grid.
/// </summary>
/// <remarks>
/// With the same effort everywhere the conditional Poisson slope depends on the stations only through the season totals
/// M_t = Σ_s E[level], for every station then has the same p_t ∝ e^(βt); β solves Σ M_t (t − t̄_β) = 0. Gaps in the real
/// visits move the estimand a little; that part is left in the study as it would be in life.
/// </remarks>
public static class Truth
{
    private const int GridHalf = 24;
    private const double GridStep = 0.25;

    /// <summary>Percent per season in an area.</summary>
    /// <param name="species">The species.</param>
    /// <param name="area">A watershed code of any level within the district.</param>
    /// <param name="seasonEffects">What each season did to all wetlands; empty for the slope beneath good and bad springs.</param>
    public static double PercentPerSeason(DemoSpecies species, string area, IReadOnlyList<double> seasonEffects)
    {
        double[] total = new double[District.Seasons];
        foreach (var place in District.Smallest.Where(place => place.Code.StartsWith(area, StringComparison.Ordinal)))
        {
            for (int t = 0; t < District.Seasons; t++)
            {
                double season = seasonEffects.Count > 0 ? seasonEffects[t] : 0;
                total[t] += (place.Wetlands + place.SecondStations) * MeanLevel(species, place.LocalSlope, District.FirstSeason + t, season);
            }
        }

        return 100 * (Math.Exp(LogSlope(total)) - 1);
    }

    /// <summary>The expected level over wetlands, stations, runs and wind, in wetlands that can hold the species.</summary>
    public static double MeanLevel(DemoSpecies species, double localSlope, int season, double seasonEffect)
    {
        double lag = season - CallModel.MiddleSeason;
        double sd = Math.Sqrt(
            species.WetlandSd * species.WetlandSd
            + species.WetlandSlopeSd * species.WetlandSlopeSd * lag * lag
            + DemoSpecies.StationSd * DemoSpecies.StationSd);
        double sum = 0, weights = 0;
        foreach (int run in species.Runs)
        {
            double level = CallModel.Fixed(species, localSlope, season, run) + seasonEffect;
            for (int wind = 0; wind < CallModel.WindShares.Count; wind++)
            {
                for (int i = -GridHalf; i <= GridHalf; i++)
                {
                    double z = i * GridStep;
                    double weight = CallModel.WindShares[wind] * Math.Exp(-z * z / 2);
                    sum += weight * CallModel.Expected(level + CallModel.WindEffect(wind) + sd * z);
                    weights += weight;
                }
            }
        }

        return sum / weights;
    }

    /// <summary>β of log M_t = a + βt by Poisson likelihood, Newton's method.</summary>
    /// <param name="total">Season totals, all greater than 0, one a season without gaps.</param>
    public static double LogSlope(IReadOnlyList<double> total)
    {
        double wanted = total.Select((m, t) => m * t).Sum() / total.Sum();
        double beta = 0;
        for (int step = 0; step < 50; step++)
        {
            double p0 = 0, p1 = 0, p2 = 0;
            for (int t = 0; t < total.Count; t++)
            {
                double p = Math.Exp(beta * t);
                p0 += p;
                p1 += p * t;
                p2 += p * t * t;
            }

            double mean = p1 / p0;
            double change = (wanted - mean) / (p2 / p0 - mean * mean);
            beta += change;
            if (Math.Abs(change) < 1e-14)
                break;
        }

        return beta;
    }
}
