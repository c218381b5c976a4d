using AngleSharp.Html.Dom;
using Indicators.Application.Editions;
using Indicators.Monitoring;
using Xunit;

namespace Indicators.Web.Tests;

/// <summary>Every public page and file of the demo keeps the places of its protected species back.</summary>
public sealed class DemoDisclosureTests(DemoApp demo) : IClassFixture<DemoApp>
{
    private const string Protected = "blanchards_cricket_frog", ProtectedName = "cricket frog", Scientific = "Acris blanchardi";
    private const int Least = 5;

    private static readonly string Seed = Path.Combine(AppContext.BaseDirectory, "seed-demo");

    [Fact]
    public async Task No_page_or_file_holds_a_place_of_a_protected_species()
    {
        var pages = await demo.Crawl("/");
        var files = new Dictionary<string, string>();
        foreach (var what in Enum.GetValues<ExportWhat>())
            files[ExportEdition.Name(what)] = await demo.Read($"/downloads/{ExportEdition.Name(what)}.csv");
        string shapes = await demo.Read("/shapes.json");
        Assert.True(pages.Count > 150, $"{pages.Count} pages: there must be one and a sign for each of 61 wetlands.");

        // No exact coordinate of any station, in a page or in a file.
        var stations = (await File.ReadAllLinesAsync(Path.Combine(Seed, "stations.csv"), TestContext.Current.CancellationToken)).Skip(1).Select(line => line.Split(',')).ToList();
        var coordinates = stations.SelectMany(cells => cells[^2..]).ToList();
        Assert.True(coordinates.Count > 140 && coordinates.TrueForAll(each => each.Length >= 7), string.Join(' ', coordinates.Take(4)));
        foreach (var (name, text) in pages.Select(page => (page.Key, page.Value.DocumentElement.OuterHtml)).Concat(files.Select(file => (file.Key, file.Value))))
            Assert.True(!coordinates.Exists(each => text.Contains(each, StringComparison.Ordinal)), $"{name} holds a coordinate.");
        // Corners of shapes may share one number with a station by chance, never both.
        Assert.Contains("[[-87.", shapes, StringComparison.Ordinal);
        Assert.DoesNotContain(stations, cells => shapes.Contains($"[{cells[^1].Trim()},{cells[^2]}]", StringComparison.Ordinal));

        // No page or file that is about a wetland or a station names the protected species.
        foreach (var (address, page) in pages.Where(page => page.Key.StartsWith("/w/", StringComparison.Ordinal)))
            Assert.False(Names(page.DocumentElement.OuterHtml), $"{address} names it.");
        foreach (string file in new[] { "gazetteer", "wetlands", "wetland_seasons", "wetland_calls", "silence", "silence_tally", "surveys" })
            Assert.False(Names(files[file]), $"{file} names it.");
        Assert.True(Names(files["trends"]), "The test must be able to find it.");

        // Days heard could be those of one survey, and the surveys' own table says where it was.
        var days = files["calling_times"].Split('\n').Where(Names).ToList();
        Assert.NotEmpty(days);
        Assert.All(days, row => Assert.EndsWith(",,,,", row.TrimEnd('\r'), StringComparison.Ordinal));

        // Pages of watersheds name it only where it is published at all.
        var published = Areas(files["trends"]);
        foreach (var (address, page) in pages)
        {
            if (address.Split('/') is [_, "watersheds" or "neighbourhood", var code] && WatershedCode.Parse(code) is { IsValid: true, Value: var area } && !published.Contains(area))
                Assert.False(Names(page.QuerySelector("main")!.OuterHtml), $"{address} names it.");
        }
        NoDifferenceIsSmall(published, files["surveys"]);
    }

    /// <summary>In no table do two published areas, one in the other, differ by fewer wetlands than five; nor has one fewer itself.</summary>
    private static void NoDifferenceIsSmall(IReadOnlyCollection<WatershedCode> published, string surveys)
    {
        string[] heading = surveys.Split('\n')[0].TrimEnd('\r').Split(',');
        int wetlandAt = Array.IndexOf(heading, "wetland_id"), codeAt = Array.IndexOf(heading, "watershed_code");
        var wetlands = surveys.Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1).Select(line => line.Split(','))
            .Select(cells => (Wetland: cells[wetlandAt], Code: WatershedCode.Parse(cells[codeAt]).Value)).Distinct().ToList();
        Assert.NotEmpty(published);
        foreach (var outer in published)
        {
            var inside = published.Where(area => area != outer && area.IsWithin(outer)).ToList();
            for (int set = 0; set < 1 << inside.Count; set++)
            {
                var taken = inside.Where((_, place) => (set >> place & 1) != 0).ToList();
                int left = wetlands.Where(each => each.Code.IsWithin(outer) && !taken.Exists(area => each.Code.IsWithin(area))).Select(each => each.Wetland).Distinct().Count();
                Assert.True(left is 0 or >= Least, $"{outer} less {string.Join(' ', taken)} leaves {left}.");
            }
        }
    }

    private static HashSet<WatershedCode> Areas(string trends) =>
        [.. trends.Split('\n').Where(Names).Select(row => WatershedCode.Parse(row.Split(',')[0]).Value)];

    private static bool Names(string text) =>
        text.Contains(Protected, StringComparison.OrdinalIgnoreCase) || text.Contains(ProtectedName, StringComparison.OrdinalIgnoreCase) || text.Contains(Scientific, StringComparison.OrdinalIgnoreCase);
}
