using Xunit;

namespace Indicators.SeedDemo.Tests;

public sealed class TruthTests
{
    private static readonly double[] NoSeasonEffects = [];

    [Theory]
    [InlineData(-0.08)]
    [InlineData(0)]
    [InlineData(0.05)]
    public void Slope_of_exact_exponential_totals_is_their_exponent(double beta) =>
        Assert.Equal(beta, Truth.LogSlope([.. Enumerable.Range(0, 15).Select(t => 37 * Math.Exp(beta * t))]), 1e-12);

    [Fact]
    public void Slope_solves_the_poisson_likelihood_equations()
    {
        // Score equations of a Poisson log-linear fit: Σ (m − e^(a+βt)) = 0 and Σ t (m − e^(a+βt)) = 0.
        double[] totals = [9, 4, 7, 7, 12, 3, 6, 2, 8];
        double beta = Truth.LogSlope(totals);
        double scale = totals.Sum() / Enumerable.Range(0, totals.Length).Sum(t => Math.Exp(beta * t));

        Assert.Equal(0, Enumerable.Range(0, totals.Length).Sum(t => t * (totals[t] - scale * Math.Exp(beta * t))), 1e-9);
    }

    [Fact]
    public void Levels_drawn_over_many_seeds_have_the_expected_mean()
    {
        const int Seeds = 120;
        var heard = new Dictionary<(string Species, int Season), (double Sum, double Squares, int Wetlands)>();
        for (ulong seed = 1000; seed < 1000 + Seeds; seed++)
        {
            // One figure a seed, watershed without local change, species and season: means over its stations' surveys.
            var surveys = new Scenario(seed).Surveys.All.Where(survey => survey.Station.Wetland.Watershed.LocalSlope == 0).ToList();
            foreach (var species in DemoSpecies.All)
            {
                foreach (int season in new[] { District.FirstSeason, District.LastSeason })
                {
                    var eligible = surveys.Where(survey => survey.Season == season && species.Runs.Contains(survey.Run));
                    double mean = species.Runs.Average(run => eligible.Where(survey => survey.Run == run)
                        .Average(survey => survey.Calls.FirstOrDefault(call => call.Species == species).Level));
                    var old = heard.GetValueOrDefault((species.Id, season));
                    heard[(species.Id, season)] = (old.Sum + mean, old.Squares + mean * mean, old.Wetlands + 1);
                }
            }
        }

        foreach (var ((id, season), (sum, squares, n)) in heard)
        {
            var species = DemoSpecies.All.Single(one => one.Id == id);
            double mean = sum / n;
            double standardError = Math.Sqrt((squares / n - mean * mean) / n);
            double expected = species.Occupancy * Truth.MeanLevel(species, 0, season, 0);

            // 20 comparisons, each within 4 standard errors of the mean over seeds.
            Assert.True(Math.Abs(mean - expected) < 4 * standardError, FormattableString.Invariant($"{id} {season}: drawn {mean}, expected {expected} ± {standardError}"));
        }
    }

    [Fact]
    public void Demo_has_a_falling_a_rising_and_a_steady_species()
    {
        double Percent(string id) => Truth.PercentPerSeason(DemoSpecies.All.Single(species => species.Id == id), District.Code, NoSeasonEffects);

        Assert.True(Percent("northern_leopard_frog") < -4);
        Assert.True(Percent("eastern_gray_treefrog") > 3);
        Assert.InRange(Percent("american_toad"), -0.5, 0.5);
    }

    [Fact]
    public void Readme_states_the_true_slopes()
    {
        string readme = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "demo-README.md"));

        Assert.All(TruthTable.Lines(), line => Assert.Contains(line, readme, StringComparison.Ordinal));
    }
}
