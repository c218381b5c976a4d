using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Web.Reading;
using Xunit;

namespace Indicators.Web.Tests;

public sealed class PlaceSearchTests
{
    private static readonly PlaceSearch Search = new(new[]
    {
        Entry("Marl Pond", GazetteerKind.Wetland), Entry("Lower Marl Creek"), Entry("Marl Creek"), Entry("Marl", GazetteerKind.Station), Entry("Étang du Héron", GazetteerKind.Wetland),
        Entry("Upper Smarley"), Entry("Creek of the Marl"), Entry("Østre Ål"), Entry("Bell's Pond", GazetteerKind.Station),
    });

    private static GazetteerEntry Entry(string name, GazetteerKind kind = GazetteerKind.Watershed) => new(name, kind, WatershedCode.Parse("99").Value, null);

    private static IEnumerable<string> Names(string query, int most = 20) => Search.Find(query, most).Select(entry => entry.Name);

    [Fact]
    public void Best_fit_comes_first_and_larger_kinds_before_smaller() => Assert.Equal(
        // The whole name; names that begin with it, watersheds first; words that do; names that hold it.
        ["Marl", "Marl Creek", "Marl Pond", "Creek of the Marl", "Lower Marl Creek", "Upper Smarley"], Names("marl"));

    [Theory]
    [InlineData("ETANG DU HERON", "Étang du Héron")]
    [InlineData("étang", "Étang du Héron")]
    [InlineData("e\u0301tang", "Étang du Héron")]
    [InlineData("ostre al", "Østre Ål")]
    [InlineData("bells pond", "Bell's Pond")]
    [InlineData("Bell\u2019s  pond ", "Bell's Pond")]
    [InlineData("heron etang", "Étang du Héron")]
    [InlineData("upper-smarley", "Upper Smarley")]
    public void Case_accents_signs_and_order_of_words_do_not_count(string typed, string found) => Assert.Equal(found, Assert.Single(Names(typed)));

    [Theory]
    [InlineData("")]
    [InlineData("  ")]
    [InlineData("\u0301")]
    [InlineData("?!")]
    [InlineData("nowhere")]
    [InlineData("%")]
    public void Nothing_is_found_where_nothing_fits(string typed) => Assert.Empty(Names(typed));

    [Fact]
    public void List_is_cut_and_long_input_does_no_harm()
    {
        Assert.Equal(2, Names("marl", 2).Count());
        Assert.Empty(Names(new string('x', 1_000_000)));
    }
}
