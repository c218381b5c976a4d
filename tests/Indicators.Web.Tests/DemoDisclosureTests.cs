using Indicators.Application.Editions;
using Indicators.Monitoring;
using Indicators.Storage.Editions;
using Indicators.Web.Tests.Invented;
using Indicators.Web.Tests.Leaking;
using Xunit;

namespace Indicators.Web.Tests;

/// <summary>
/// Every public page, file, feed and calendar of the demo keeps the places of its protected species back; and the search that
/// says so finds what is planted for it. The demo is one of their own: a second edition is published in it.
/// </summary>
public sealed class DemoDisclosureTests(DemoApp demo) : IClassFixture<DemoApp>
{
    private static readonly string[] Protected = ["blanchards_cricket_frog", "cricket frog", "Acris blanchardi"];
    private static readonly string[] ProtectedHere = ["ACBL", "cricket frog", "Acris blanchardi"];
    private static readonly string[] Starts = ["/", "/es", "/editions.atom", "/es/editions.atom", "/sitemap.xml", "/robots.txt", "/shapes.json"];

    private static IEnumerable<string> Files =>
        Enum.GetValues<ExportWhat>().SelectMany(what => new[] { "csv", "json" }.Select(format => $"/downloads/{ExportEdition.Name(what)}.{format}"));

    [Fact]
    public async Task Nothing_of_the_demo_holds_a_place_of_a_protected_species()
    {
        var folder = new SeedFolder(Path.Combine(AppContext.BaseDirectory, "seed-demo"));
        var leaks = new Leaks(Protected, folder.Stations);
        var narrowed = Files.Where(file => file.EndsWith(".csv", StringComparison.Ordinal)).SelectMany(file =>
            folder.Watersheds.Select(area => $"{file}?area={area}")
                .Concat(folder.Species.Select(species => $"{file}?species={species}"))
                .Concat(folder.Stations.Select(station => station.Wetland).Distinct().Take(3).Select(wetland => $"{file}?wetland={wetland.ToLowerInvariant()}")))
            .Concat(Files.Select(file => $"{file}?species={Protected[0]}"))
            .Concat(Files.Select(file => $"{file}?edition=1"))
            .Concat(folder.Watersheds.SelectMany(area => new[] { $"/watersheds/{area}?edition=1", $"/es/neighbourhood/{area}?edition=1" }))
            .Concat(folder.Species.Select(species => $"/species/{species}?edition=1"));
        // A second edition, so that there is an earlier one to look back at and a pair to set side by side.
        await demo.PublishAnother();
        var found = await demo.Everything([.. Starts, "/editions/1/2", "/es/editions/1/2", .. Files], narrowed);

        // It went everywhere: each of 61 wetlands has a page and a sign in both languages, and files of its own.
        Assert.True(found.Count(each => each.IsPage) > 300, $"{found.Count(each => each.IsPage)} pages of {found.Count} answers.");
        foreach (string part in new[] { "/es/w/", "/sign", "/calling.ics", "/es/season", "/editions", "wetland=", ".json", "species=", "edition=1", "/editions/1/2", "/seasons/2014" })
            Assert.Contains(found, each => each.Address.Contains(part, StringComparison.Ordinal));
        Assert.Contains(found, each => each.IsPage && leaks.Names(each.Text));
        TestContext.Current.TestOutputHelper?.WriteLine($"{found.Count} answers, {found.Count(each => each.IsPage)} pages, {found.Count(each => leaks.Names(each.Text))} that name it.");

        Assert.Equal([], found.SelectMany(leaks.In).Distinct().Take(20));

        // What both editions tell is told together: a reader may take one from the other.
        var told = leaks.Told(found).ToHashSet();
        Assert.Equal(Trends(found), told.Order());
        Assert.Equal([], leaks.Differences(told, folder.Surveyed));

        // Days heard could be those of one survey, and the surveys' own table says where it was.
        var days = found.Single(each => each.Address == "/downloads/calling_times.csv").Text.Split('\n').Where(leaks.Names).ToList();
        Assert.NotEmpty(days);
        Assert.All(days, row => Assert.EndsWith(",,,,", row.TrimEnd('\r'), StringComparison.Ordinal));

        // Counts over the stations that heard it are a fingerprint of them: whose surveys were made when and where is public.
        string[] counts = ["stations", "surveys", "silent_stations", "wetlands_heard", "dispersion_df", "zero_cell_share", "one_station_seasons", "missing", "detections"];
        int looked = 0;
        foreach (var file in found.Where(each => each.Address.EndsWith(".csv", StringComparison.Ordinal) && !each.Address.EndsWith("/change.csv", StringComparison.Ordinal)))
        {
            string[] lines = file.Text.Split('\n'), columns = lines[0].Split(',');
            foreach (string line in lines.Skip(1).Where(line => line.Contains(Protected[0], StringComparison.Ordinal)))
            {
                string[] cells = line.Split(',');
                foreach (string count in counts.Where(columns.Contains))
                {
                    Assert.True(cells[Array.IndexOf(columns, count)].Length == 0, $"{file.Address} tells {count} of it: {line}");
                    looked++;
                }
            }
            Assert.False(file.Address == "/downloads/rollup.csv" && leaks.Names(file.Text), "It is rolled up.");
        }
        Assert.True(looked > 20, $"{looked} counts.");

        // Pages of watersheds name it only where it is told.
        foreach (var page in found.Where(each => each.IsPage))
        {
            if (page.Address.Split('?')[0].Replace("/es/", "/", StringComparison.Ordinal).Split('/') is [_, "watersheds" or "neighbourhood", var code]
                && WatershedCode.Parse(code) is { IsValid: true, Value: var area } && !told.Contains(area))
                Assert.False(leaks.Names(page.Page.QuerySelector("main")!.OuterHtml), $"{page.Address} names it.");
        }

        IEnumerable<WatershedCode> Trends(IEnumerable<Found> all) => leaks.Told(all.Where(each => each.Address == "/downloads/trends.csv")).Order();
    }

    [Fact]
    public async Task Search_finds_calls_of_the_protected_species_planted_at_a_wetland()
    {
        var clean = InventedEdition.Reader();
        Assert.Equal([], await Search(clean));

        var planted = clean with { Places = clean.Places with { Calls = [.. clean.Places.Calls, new(InventedDepth.Heron, InventedEdition.Rare, 2026, 2, 1, 0.5, 1)] } };
        var leaks = await Search(planted);
        foreach (string address in new[] { "/w/w1:", "/es/w/w1:", "/w/w1/sign:", "/downloads/wetland_calls.csv:", "/downloads/wetland_calls.json:", "/downloads/wetland_calls.csv?wetland=w1:" })
            Assert.Contains(leaks, leak => leak.StartsWith(address, StringComparison.Ordinal));

        // A name is enough: of a watershed that is called like a wetland of another.
        var named = clean with { AreaList = [.. clean.AreaList.Select(area => area.Code.Digits == 8 ? area with { Name = "Heron Slough" } : area)] };
        Assert.Contains(await Search(named), leak => leak.StartsWith("/species/ACBL:", StringComparison.Ordinal) && leak.Contains("Heron Slough", StringComparison.Ordinal));

        async Task<List<string>> Search(IEditionReader reader)
        {
            await using var app = await RunningApp.Start(reader);
            var found = await Crawler.Everything(app.Client, app.Address, [.. Starts, .. Files]);
            var search = new Leaks(ProtectedHere, [Station("S1", "Heron Slough, landing", "w1", "Heron Slough"), Station("S2", "", "w3", "")]);
            Assert.Contains(found, each => each.IsPage && search.Names(each.Text));
            return [.. found.SelectMany(search.In).Distinct()];
        }
    }

    private static SecretStation Station(string id, string name, string wetland, string wetlandName) =>
        new(id, name, wetland, wetlandName, InventedEdition.Marl, 45.12345, -90.34567);

    [Theory]
    [InlineData("text/html", "<p>45.12345, -90.34567</p>", true)]
    [InlineData("text/csv", "S1,45.123,-90.346,3\n", true)]
    [InlineData("application/json", "[[-90.3457,45.1234],[-90.1,45.2]]", true)]
    [InlineData("application/json", "[[-90.3457,45.1334],[-90.1,45.1234]]", false)]
    [InlineData("text/html", "<p>45.12, -90.35</p>", false)]
    [InlineData("text/csv", "45.12345,0.5,0.25\n", false)]
    [InlineData("text/html", "<ul><li>Cricket frog at Heron Slough</li></ul>", true)]
    [InlineData("text/html", "<table><tr><th>Blanchard's cricket frog</th><td>1</td><td><a href=\"/w/W1\">here</a></td></tr></table>", true)]
    [InlineData("text/html", "<table><tr><th>Blanchard's cricket frog</th></tr><tr><th>W1</th></tr></table>", false)]
    [InlineData("text/html", "<table><tr><th>Blanchard's cricket frog</th><td>W1</td></tr></table>", true)]
    [InlineData("text/html", "<ul><li>Cricket frog</li><li>Heron Slough</li></ul>", false)]
    [InlineData("text/html", "<svg><title>Acris blanchardi: Heron landing</title></svg>", true)]
    [InlineData("text/csv", "99,ACBL,S1\n", true)]
    [InlineData("text/csv", "99,ACBL,S12\n99,RASY,S1\n", false)]
    [InlineData("text/calendar", "SUMMARY:Blanchard's cricket frog may call", true)]
    public void Search_tells_a_leak_from_what_may_be_told(string type, string text, bool leaks) =>
        Assert.Equal(leaks, new Leaks(ProtectedHere, [Station("S1", "Heron landing", "W1", "Heron Slough")]).In(new Found("/somewhere", type, text)).Any());

    [Fact]
    public void Search_finds_published_areas_that_leave_too_few_wetlands()
    {
        WatershedCode whole = Code("99"), small = Code("9901"), large = Code("9902");
        var stations = Enumerable.Range(0, 12).Select(n => Station($"S{n}", "", $"W{n}", "") with { Area = n < 3 ? small : large }).ToList();
        var leaks = new Leaks(ProtectedHere, stations);
        var surveyed = stations.Select(station => station.Id).ToHashSet();
        Assert.Equal([], leaks.Differences([whole], surveyed));
        Assert.Equal([], leaks.Differences([large], surveyed));
        Assert.Equal([$"{whole} less {large} leaves 3 wetlands"], leaks.Differences([whole, large], surveyed));
        Assert.Equal([$"{small} less  leaves 3 wetlands"], leaks.Differences([small], surveyed));
        // Stations without a survey say nothing, and hide nobody.
        Assert.Equal([$"{large} less  leaves 4 wetlands"], leaks.Differences([large], surveyed.Take(7).ToHashSet()));
    }

    private static WatershedCode Code(string digits) => WatershedCode.Parse(digits).Value;
}
