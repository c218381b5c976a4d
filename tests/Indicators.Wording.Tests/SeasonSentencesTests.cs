using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Xunit;

namespace Indicators.Wording.Tests;

/// <summary>The season's opening sentences, in every combination of counts.</summary>
public sealed class SeasonSentencesTests
{
    private static ScoreChange Change(double lower, double upper) => new()
    {
        Area = WatershedCode.Parse("9900").Value, Since = ChangeSince.PreviousSeason, FromSeason = 2025, Season = 2026,
        Points = (lower + upper) / 2, Lower = lower, Upper = upper, SpeciesSplit = 0, SpeciesCompared = 0, Lines = [],
    };

    private static string Moves(string language, int down, int up, int open) => LanguageTests.In(language, () => SeasonSentences.Moves(
        [.. Enumerable.Repeat(Change(-5, -1), down), .. Enumerable.Repeat(Change(1, 5), up), .. Enumerable.Repeat(Change(-2, 2), open)], 2025));

    [Theory]
    [InlineData(0, 0, 0, "No score can be set beside 2025 yet.")]
    [InlineData(0, 0, 1, "Since 2025 the one score that we can compare has not clearly moved. We can't tell yet whether it rose or fell.")]
    [InlineData(0, 0, 9, "Since 2025 none of the 9 scores that we can compare has clearly moved. We can't tell yet whether they rose or fell.")]
    [InlineData(1, 0, 0, "Since 2025 the score clearly fell in 1 watershed.")]
    [InlineData(2, 0, 1, "Since 2025 the score clearly fell in 2 watersheds. For one more we can't tell yet.")]
    [InlineData(1, 0, 3, "Since 2025 the score clearly fell in 1 watershed. For 3 more we can't tell yet.")]
    [InlineData(0, 1, 0, "Since 2025 the score clearly rose in 1 watershed.")]
    [InlineData(0, 4, 2, "Since 2025 the score clearly rose in 4 watersheds. For 2 more we can't tell yet.")]
    [InlineData(1, 1, 0, "Since 2025 the score clearly fell in 1 watershed and clearly rose in 1 other.")]
    [InlineData(3, 2, 1, "Since 2025 the score clearly fell in 3 watersheds and clearly rose in 2 others. For one more we can't tell yet.")]
    public void Moves_are_told_for_every_count(int down, int up, int open, string said) => Assert.Equal(said, Moves("en", down, up, open));

    [Theory]
    [InlineData(0, 0, 0, "Ningún puntaje puede compararse todavía con 2025.")]
    [InlineData(0, 0, 1, "Desde 2025, el único puntaje que se puede comparar no cambió con claridad. Aún no se sabe si subió o bajó.")]
    [InlineData(0, 0, 9, "Desde 2025, ninguno de los 9 puntajes que se pueden comparar cambió con claridad. Aún no se sabe si subieron o bajaron.")]
    [InlineData(1, 0, 0, "Desde 2025 el puntaje bajó con claridad en 1 cuenca.")]
    [InlineData(2, 0, 1, "Desde 2025 el puntaje bajó con claridad en 2 cuencas. De una más aún no se sabe.")]
    [InlineData(0, 4, 2, "Desde 2025 el puntaje subió con claridad en 4 cuencas. De 2 más aún no se sabe.")]
    [InlineData(1, 1, 0, "Desde 2025 el puntaje bajó con claridad en 1 cuenca y subió con claridad en otra.")]
    [InlineData(3, 2, 1, "Desde 2025 el puntaje bajó con claridad en 3 cuencas y subió con claridad en otras 2. De una más aún no se sabe.")]
    public void Moves_are_told_in_Spanish_for_every_count(int down, int up, int open, string said) => Assert.Equal(said, Moves("es", down, up, open));

    [Fact]
    public void A_range_that_ends_at_no_change_or_is_not_there_is_no_clear_move()
    {
        Assert.StartsWith("Since 2025 none of the 3 scores", SeasonSentences.Moves([Change(-5, 0), Change(0, 5), Change(-5, -1) with { Lower = null, Upper = null }], 2025), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("en", 9, 10, "Of the 10 watersheds shown here, 9 have a score.")]
    [InlineData("en", 1, 10, "Of the 10 watersheds shown here, 1 has a score.")]
    [InlineData("en", 0, 10, "Of the 10 watersheds shown here, none has a score.")]
    [InlineData("en", 10, 10, "All 10 watersheds shown here have a score.")]
    [InlineData("en", 1, 1, "The one watershed shown here has a score.")]
    [InlineData("en", 0, 1, "The one watershed shown here has no score.")]
    [InlineData("es", 9, 10, "De las 10 cuencas que se muestran aquí, 9 tienen puntaje.")]
    [InlineData("es", 1, 10, "De las 10 cuencas que se muestran aquí, 1 tiene puntaje.")]
    [InlineData("es", 0, 10, "De las 10 cuencas que se muestran aquí, ninguna tiene puntaje.")]
    [InlineData("es", 10, 10, "Las 10 cuencas que se muestran aquí tienen puntaje.")]
    [InlineData("es", 1, 1, "La única cuenca que se muestra aquí tiene puntaje.")]
    [InlineData("es", 0, 1, "La única cuenca que se muestra aquí no tiene puntaje.")]
    public void Scores_are_counted_for_every_count(string language, int scored, int shown, string said) => Assert.EndsWith(
        said, LanguageTests.In(language, () => SeasonSentences.Answer(new SeasonEffort(WatershedCode.Parse("9900").Value, 2026, 61, 54, 173), scored, shown)).Replace('\u00A0', ' '), StringComparison.Ordinal);
}
