namespace Indicators.Wording;

/// <summary>One caution for people who go out to listen.</summary>
/// <param name="Topic">What it is about, as a heading; cautions of one topic stand together.</param>
/// <param name="Advice">What to do, in plain sentences.</param>
/// <param name="Source">Where it comes from, or that it is common practice without a source.</param>
public sealed record Caution(string Topic, string Advice, string Source)
{
    /// <summary>What stands in place of a source where there is none.</summary>
    public const string CommonPractice = "Common practice, no source.";

    /// <summary>The source as a line of its own.</summary>
    public string SourceLine => Source == CommonPractice ? Source : $"Source: {Source}";
}
