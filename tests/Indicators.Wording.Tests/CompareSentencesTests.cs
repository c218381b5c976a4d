using Xunit;

namespace Indicators.Wording.Tests;

public sealed class CompareSentencesTests
{
    [Theory]
    [InlineData("en", 1, 1, "The one other score differs clearly from that of Marl Creek.")]
    [InlineData("en", 1, 3, "1 of 3 other scores differs clearly from that of Marl Creek.")]
    [InlineData("en", 2, 3, "2 of 3 other scores differ clearly from that of Marl Creek.")]
    [InlineData("en", 0, 1, "The one other score is too close to call.")]
    [InlineData("en", 0, 3, "All 3 other scores are too close to call.")]
    [InlineData("es", 1, 1, "El otro puntaje es claramente distinto del de Marl Creek.")]
    [InlineData("es", 1, 3, "1 de 3 otros puntajes es claramente distinto del de Marl Creek.")]
    [InlineData("es", 2, 3, "2 de 3 otros puntajes son claramente distintos del de Marl Creek.")]
    public void Scores_beside_are_counted_for_every_count(string language, int clear, int others, string said) => Assert.StartsWith(
        said,
        LanguageTests.In(language, () => CompareSentences.Summary("Marl Creek", true, [.. Enumerable.Repeat(Beside.Higher, clear), .. Enumerable.Repeat(Beside.Close, others - clear)])).Replace('\u00A0', ' '),
        StringComparison.Ordinal);
}
