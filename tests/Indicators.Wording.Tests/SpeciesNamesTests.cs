using Xunit;

namespace Indicators.Wording.Tests;

public sealed class SpeciesNamesTests
{
    [Theory]
    [InlineData("Wood frog", "wood frog")]
    [InlineData("Boreal Chorus Frog", "boreal chorus frog")]
    [InlineData("American toad", "American toad")]
    [InlineData("Cope's Gray Treefrog", "Cope's gray treefrog")]
    [InlineData("Great Plains Toad", "Great Plains toad")]
    [InlineData("spring peeper", "spring peeper")]
    [InlineData("", "")]
    public void Name_inside_a_sentence_keeps_only_proper_capitals(string written, string inside) =>
        Assert.Equal(inside, SpeciesNames.Inside(written));
}
