using Xunit;

namespace Indicators.Wording.Tests;

public sealed class ReadabilityTests
{
    // Published worked example: 13 words, 24 syllables, grade 11.3 (read at wikisum.wiki; 11.2646153846 by the formula).
    private const string Published = "The Australian platypus is seemingly a hybrid of a mammal and reptilian creature.";

    [Fact]
    public void Grade_of_the_published_example_is_the_published_grade()
    {
        Assert.Equal(13, Readability.Words(Published).Count);
        Assert.Equal(24, Readability.Words(Published).Sum(Readability.Syllables));
        Assert.Equal(11.2646153846, Readability.Grade(Published), 1e-9);
    }

    // The formula's published minimum: one-word sentences of one syllable.
    [Fact]
    public void Grade_of_one_syllable_sentences_is_the_published_minimum() =>
        Assert.Equal(-3.40, Readability.Grade("Stop. Look. Go."), 1e-9);

    [Theory]
    [InlineData("calling", 2)]
    [InlineData("heard", 1)]
    [InlineData("season", 2)]
    [InlineData("less", 1)]
    [InlineData("range", 1)]
    [InlineData("compared", 2)]
    [InlineData("expected", 3)]
    [InlineData("surveys", 2)]
    [InlineData("little", 2)]
    [InlineData("species", 2)]
    [InlineData("direction", 3)]
    [InlineData("watershed", 3)]
    [InlineData("2026", 1)]
    public void Syllables_of_common_words_are_counted_right(string word, int syllables) =>
        Assert.Equal(syllables, Readability.Syllables(word));

    [Fact]
    public void Sentences_are_not_cut_at_decimal_points() =>
        Assert.Equal(2, Readability.Sentences("It fell by 1.5\u00A0% each season. We are sure.").Count);
}
