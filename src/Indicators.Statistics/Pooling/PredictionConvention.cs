namespace Indicators.Statistics.Pooling;

/// <summary>Which reference distribution a prediction interval for one more unit uses. Texts differ; the name says which.</summary>
public enum PredictionConvention
{
    /// <summary>
    /// μ̂ ± t(k − 1) √(τ² + SE²) with the Hartung–Knapp standard error: the default, as in the published limits .14 and 1.76
    /// of the thirteen BCG trials.
    /// </summary>
    HartungKnappStudent,

    /// <summary>μ̂ ± t(k − 2) √(τ² + SE²) with the model's standard error (Higgins, Thompson and Spiegelhalter 2009).</summary>
    StudentTwoFewer,

    /// <summary>μ̂ ± z √(τ² + SE²) with the model's standard error.</summary>
    Normal,
}
