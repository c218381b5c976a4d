using Indicators.Analysis.Results;
using Xunit;

namespace Indicators.Wording.Tests;

public sealed class ShareSentencesTests
{
    private static readonly EditionCounts Before = new(2740, 72, 60, 6, 8, 2012, 2025);

    [Theory]
    [InlineData("en", 2950, 2026, false, "New: the season 2026. It rests on 2,950 surveys now.")]
    [InlineData("en", 2950, 2026, true, "New: the season 2026. It rests on 2,950 surveys now.")]
    [InlineData("en", 3100, 2027, false, "New: 2 seasons, up to 2027. It rests on 3,100 surveys now.")]
    [InlineData("en", 2741, 2025, false, "New: 1 more survey from the same seasons.")]
    [InlineData("en", 2730, 2025, false, "New: 10 surveys were taken out.")]
    [InlineData("en", 2739, 2025, false, "New: 1 survey was taken out.")]
    [InlineData("en", 2740, 2025, false, "New: surveys or places were put right. There are as many surveys as before.")]
    [InlineData("en", 2740, 2025, true, "The same surveys, worked out again in another way.")]
    [InlineData("es", 2950, 2026, false, "Nuevo: la temporada 2026. Ahora se apoya en 2950 muestreos.")]
    [InlineData("es", 2741, 2025, false, "Nuevo: 1 muestreo más de las mismas temporadas.")]
    [InlineData("es", 2739, 2025, false, "Nuevo: se quitó 1 muestreo.")]
    [InlineData("es", 2730, 2025, false, "Nuevo: se quitaron 10 muestreos.")]
    public void Feed_says_what_is_new_in_an_edition(string language, int surveys, int last, bool isSameInput, string expected) =>
        Assert.Equal(expected, LanguageTests.In(language, () => ShareSentences.WhatIsNew(Before with { Surveys = surveys, LastSeason = last }, Before, isSameInput)).Replace('\u00A0', ' '));

    [Fact]
    public void First_edition_is_new_as_a_whole() =>
        Assert.Equal("The first results we publish, from 2,740 surveys.", ShareSentences.WhatIsNew(Before, null, false).Replace('\u00A0', ' '));

    [Fact]
    public void Every_subject_that_left_has_a_sentence_of_its_own()
    {
        var sentences = Enum.GetValues<Subject>().Select(subject => ShareSentences.Left(subject, 12)).ToList();
        Assert.Equal(sentences.Count, sentences.Distinct().Count());
        Assert.All(sentences, sentence => Assert.Contains("Edition 12 ", sentence, StringComparison.Ordinal));
    }
}
