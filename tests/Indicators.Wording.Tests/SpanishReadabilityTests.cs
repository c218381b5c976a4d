using Xunit;

namespace Indicators.Wording.Tests;

public sealed class SpanishReadabilityTests
{
    // Syllables as Spanish grammar parts them (Real Academia Española, Ortografía 2010, diphthongs and hiatus; from memory).
    [Theory]
    [InlineData("rana", 2)]
    [InlineData("canto", 2)]
    [InlineData("temporada", 4)]
    [InlineData("condición", 3)]
    [InlineData("todavía", 4)]
    [InlineData("cuenca", 2)]
    [InlineData("aún", 2)]
    [InlineData("oído", 3)]
    [InlineData("oír", 2)]
    [InlineData("especie", 3)]
    [InlineData("quiere", 2)]
    [InlineData("según", 2)]
    [InlineData("guía", 2)]
    [InlineData("muy", 1)]
    [InlineData("y", 1)]
    [InlineData("yo", 1)]
    [InlineData("ciudad", 2)]
    [InlineData("leer", 2)]
    [InlineData("poeta", 3)]
    [InlineData("línea", 3)]
    [InlineData("bueyes", 2)]
    [InlineData("estaciones", 4)]
    [InlineData("95", 1)]
    public void Syllables_are_those_of_Spanish_spelling(string word, int syllables) => Assert.Equal(syllables, SpanishReadability.Syllables(word));

    // Counted by hand: 10 words, 1+2+2+1+2 and 1+2+2+2+1 syllables, 2 sentences.
    [Fact]
    public void Ease_is_that_of_the_formula()
    {
        const string Text = "Las ranas cantan de noche. Los sapos cantan también hoy.";
        Assert.Equal(10, Readability.Sentences(Text).SelectMany(SpanishReadability.Words).Count());
        Assert.Equal(16, Readability.Sentences(Text).SelectMany(SpanishReadability.Words).Sum(SpanishReadability.Syllables));
        Assert.Equal(206.84 - 60 * 1.6 - 1.02 * 5, SpanishReadability.Ease(Text), 1e-9);
    }
}
