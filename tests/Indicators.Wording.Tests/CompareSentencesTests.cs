using Indicators.Analysis.Results;
using Indicators.Monitoring;
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

    [Theory]
    [InlineData(53, 68.1, 68.3, 100, Beside.Close)]
    [InlineData(53, 68.4, 68.6, 100, Beside.Higher)]
    [InlineData(70.2, 90, 10, 69.4, Beside.Lower)]
    [InlineData(70.2, 90, 10, 69.6, Beside.Close)]
    public void Ranges_that_meet_as_they_are_shown_are_not_told_apart(double lower, double upper, double otherLower, double otherUpper, Beside said)
    {
        var here = new Condition { Area = WatershedCode.Parse("9901").Value, Season = 2026, Lacks = ScoreLack.None, Score = 60, Lower = lower, Upper = upper };
        Assert.Equal(said, CompareSentences.Of(here, here with { Lower = otherLower, Upper = otherUpper }));
        Assert.Equal(Beside.NoScore, CompareSentences.Of(here, here with { Lower = null }));
    }
}
