using Indicators.Analysis.Options;

namespace Indicators.Benchmarks.Coverage;

/// <summary>How a survey's call level comes about.</summary>
internal enum CallScale
{
    /// <summary>The sum of three coin throws whose chance is log-linear: no ceiling in play.</summary>
    Coins,

    /// <summary>A Poisson number of callers, cut off at 3: a ceiling.</summary>
    Ceiling,
}

/// <summary>
/// What the worlds of one cell of the study are like: wetlands with levels and slopes of their own, and good and bad springs
/// that all wetlands share. Spreads are standard deviations on the log scale.
/// </summary>
internal sealed record WorldShape
{
    /// <summary>One station each.</summary>
    public int Wetlands { get; init; } = 12;

    public int Seasons { get; init; } = 8;

    /// <summary>Of each species' shared springs.</summary>
    public double ShockSd { get; init; }

    /// <summary>Correlation of a spring with the one before.</summary>
    public double Serial { get; init; }

    /// <summary>Correlation of springs between species.</summary>
    public double SpeciesShare { get; init; } = 0.5;

    public int Species { get; init; } = 4;

    /// <summary>Change a season on the log scale, before wetlands' own slopes.</summary>
    public double Slope { get; init; } = Math.Log(0.98);

    /// <summary>How far apart the species' slopes are, one from the next; <see cref="Slope"/> is their mean.</summary>
    public double SlopeStep { get; init; }

    /// <summary>Median over wetlands of the expected call level (or number of callers) in the middle season.</summary>
    public double Level { get; init; } = 0.6;

    /// <summary>Between wetlands.</summary>
    public double LevelSd { get; init; } = 0.5;

    /// <summary>Of slopes between wetlands, per season.</summary>
    public double SlopeSd { get; init; } = 0.03;

    /// <summary>Of a wetland's season about its own course: over-dispersion.</summary>
    public double CellSd { get; init; }

    public int Visits { get; init; } = 3;

    /// <summary>Share of surveys not made.</summary>
    public double Missing { get; init; } = 0.2;

    /// <summary>Share of wetlands that join half-way.</summary>
    public double Late { get; init; }

    public CallScale Scale { get; init; }

    /// <summary>Of the night's temperature on calling: log scale, for one standard deviation of 4 °C; 0 for worlds without temperatures.</summary>
    public double TemperatureEffect { get; init; }

    /// <summary>How much warmer surveys become, standard deviations a season.</summary>
    public double Warming { get; init; }

    public double SlopeOf(int species) => Slope + SlopeStep * (species - (Species - 1) / 2.0);

    public double Middle => (Seasons - 1) / 2.0;

    /// <summary>The first season of wetlands that join late.</summary>
    public int LateStart => Seasons / 2;

    public bool IsLate(int wetland) => wetland < (int)Math.Round(Late * Wetlands);

    /// <summary>The expected call level of a survey at one log intensity, or the chance that it hears the species, or a full chorus.</summary>
    public double Expected(double logIntensity, ResponseKind response = ResponseKind.CallLevel)
    {
        double m = Math.Exp(logIntensity);
        // Three coins, or N Poisson cut off at 3: E min(3, N) = 3 − 3 P(0) − 2 P(1) − P(2).
        double coin = Math.Min(1, m / 3);
        return (response, Scale) switch
        {
            (ResponseKind.CallLevel, CallScale.Coins) => 3 * coin,
            (ResponseKind.Heard, CallScale.Coins) => 1 - Math.Pow(1 - coin, 3),
            (ResponseKind.FullChorus, CallScale.Coins) => coin * coin * coin,
            (ResponseKind.CallLevel, CallScale.Ceiling) => 3 - Math.Exp(-m) * (3 + m * (2 + m / 2)),
            (ResponseKind.Heard, CallScale.Ceiling) => 1 - Math.Exp(-m),
            (ResponseKind.FullChorus, CallScale.Ceiling) => 1 - Math.Exp(-m) * (1 + m * (1 + m / 2)),
            _ => throw new ArgumentOutOfRangeException(nameof(response), response, null),
        };
    }
}
