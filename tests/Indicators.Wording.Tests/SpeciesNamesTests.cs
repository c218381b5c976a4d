using System.Globalization;
using Indicators.Monitoring;
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

    [Theory]
    [InlineData("en", "Cope's gray treefrog")]
    [InlineData("es", "rana de Cope")]
    [InlineData("fr", "Cope's gray treefrog")]
    public void Name_is_the_one_of_the_language_where_the_programme_gave_one(string spoken, string inside)
    {
        var species = new Species
        {
            Id = Id<Species>.Parse("copes").Value,
            ScientificName = "Dryophytes chrysoscelis",
            CommonName = "Cope's Gray Treefrog",
            OtherNames = OtherNames.Of([new("es", "rana de Cope")]),
            Window = new CallingWindow(CallingWindow.ParseDay("05-10").Value, CallingWindow.ParseDay("07-15").Value),
            Conservatism = Conservatism.Parse("5").Value,
        };
        var before = CultureInfo.CurrentUICulture;
        try
        {
            CultureInfo.CurrentUICulture = CultureInfo.GetCultureInfo(spoken);
            Assert.Equal(inside, SpeciesNames.Inside(species));
        }
        finally
        {
            CultureInfo.CurrentUICulture = before;
        }
    }
}
