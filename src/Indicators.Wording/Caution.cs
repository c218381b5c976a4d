using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>One caution for people who go out to listen.</summary>
/// <param name="Topic">What it is about, as a heading; cautions of one topic stand together.</param>
/// <param name="Advice">What to do, in plain sentences.</param>
/// <param name="Source">Where it comes from; null for common practice without a source.</param>
public sealed record Caution(string Topic, string Advice, string? Source)
{
    /// <summary>The source as a line of its own, or that there is none.</summary>
    public string SourceLine => Source is null ? Say("caution.commonPractice") : Say("caution.sourceLine", ("source", Source));
}
