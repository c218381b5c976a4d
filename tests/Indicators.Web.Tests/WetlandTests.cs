using System.Text.RegularExpressions;
using AngleSharp.Html.Dom;
using AngleSharp.Html.Parser;
using Indicators.Web.Charts;
using Indicators.Web.Tests.Invented;
using Xunit;

namespace Indicators.Web.Tests;

public sealed partial class WetlandTests(SharedApp shared)
{
    private readonly RunningApp _app = shared.App;

    private async Task<string> Source(string address) =>
        await (await _app.Client.GetAsync(new Uri(address, UriKind.Relative), TestContext.Current.CancellationToken)).Content.ReadAsStringAsync(TestContext.Current.CancellationToken);

    private async Task<IHtmlDocument> Read(string address) => new HtmlParser().ParseDocument(await Source(address));

    private static string Text(IHtmlDocument page) => page.Body!.TextContent.Replace('\u00A0', ' ');

    [Fact]
    public async Task Page_says_what_was_heard_by_season_with_its_effort_and_no_score()
    {
        var page = await Read("/w/w1");
        string text = Text(page);
        Assert.Equal("Heron Slough", page.QuerySelector("h1")!.TextContent);
        Assert.Contains("We have made 72 surveys here, 2012 to 2026. We have heard 2 kinds of frogs and toads. In 2026 we heard 2 of these.", text, StringComparison.Ordinal);
        Assert.Contains("This rests on 72 surveys at 2 stations.", text, StringComparison.Ordinal);
        Assert.DoesNotContain("of 100 points", text, StringComparison.Ordinal);
        var rows = page.QuerySelectorAll("#table ~ .scroll tbody tr");
        Assert.Equal(15, rows.Length);
        Assert.Equal(["2026", "3", "2 of 3, level 3.0", "1 of 2, level 0.5"], rows[0].Children.Select(cell => cell.TextContent.Trim()));
        Assert.Equal(["2019", "3", "0 of 3", ""], rows[7].Children.Select(cell => cell.TextContent.Trim()));
        // 13 seasons with calls, one silent, one without listening in its season.
        Assert.Equal(13 + 1, page.QuerySelectorAll("svg.chart-wide rect.box[class*=amount]").Length);
        Assert.Single(page.QuerySelectorAll("svg.chart-wide rect.box.silent"));
    }

    [Fact]
    public async Task Wetland_where_only_a_protected_species_was_heard_reads_like_a_silent_one()
    {
        string silent = await Source("/w/w2"), rare = await Source("/w/w3");
        Assert.Equal(silent.Replace("Quiet Pond", "Wetland W3", StringComparison.Ordinal).Replace("/w2", "/w3", StringComparison.Ordinal).Replace("=w2", "=w3", StringComparison.Ordinal), rare);
        Assert.Contains("We have not heard any species that we show by wetland.", silent, StringComparison.Ordinal);
        Assert.Equal(
            Code().Replace((await Source("/w/w2/sign")).Replace("Quiet Pond", "Wetland W3", StringComparison.Ordinal).Replace("/w2", "/w3", StringComparison.Ordinal), ""),
            Code().Replace(await Source("/w/w3/sign"), ""));
    }

    [GeneratedRegex("<svg class=\"qr\".*?</svg>")]
    private static partial Regex Code();

    [Fact]
    public async Task Sign_holds_a_code_of_its_address_the_caution_and_no_protected_species()
    {
        var page = await Read("/w/w1/sign");
        string address = new Uri(_app.Address, "/w/w1").ToString();
        Assert.Equal(address, page.QuerySelector(".address")!.TextContent);
        Assert.Equal($"QR code that leads to {address}", page.QuerySelector("svg.qr")!.GetAttribute("aria-label"));
        Assert.Equal(QrPicture.Draw(address, "").Elements().Last().Attribute("d")!.Value, page.QuerySelector("svg.qr path")!.GetAttribute("d"));
        string text = Text(page);
        Assert.Equal(["Spring peeper", "Wood frog"], page.QuerySelectorAll(".sign li").Select(species => species.TextContent));
        Assert.Contains("Leave frogs, toads and their eggs where they are. The rules of this place come first.", text, StringComparison.Ordinal);
        Assert.DoesNotContain("cricket", text, StringComparison.Ordinal);
        Assert.Equal(new Uri(_app.Address, "/es/w/w1").ToString(), (await Read("/es/w/w1/sign")).QuerySelector(".address")!.TextContent);
    }

    [Fact]
    public void Code_has_its_three_finders_and_a_quiet_zone_of_four_modules()
    {
        // ISO/IEC 18004: finder patterns of 7 by 7 modules in three corners; 4 light modules all around.
        var picture = QrPicture.Draw("https://frogs.example/w/w01", "a code");
        int size = int.Parse(picture.Attribute("width")!.Value, System.Globalization.CultureInfo.InvariantCulture);
        var dark = picture.Elements().Last().Attribute("d")!.Value.Split('M', StringSplitOptions.RemoveEmptyEntries)
            .Select(each => each.Split('h')[0].Split(' ')).Select(at => (X: int.Parse(at[0], System.Globalization.CultureInfo.InvariantCulture), Y: int.Parse(at[1], System.Globalization.CultureInfo.InvariantCulture))).ToHashSet();
        Assert.Equal(0, (size - 8 - 17) % 4);
        Assert.DoesNotContain(dark, module => module.X < 4 || module.Y < 4 || module.X >= size - 4 || module.Y >= size - 4);
        foreach (var (left, top) in new[] { (4, 4), (size - 11, 4), (4, size - 11) })
        {
            for (int x = 0; x < 7; x++)
            {
                for (int y = 0; y < 7; y++)
                {
                    int ring = Math.Max(Math.Abs(x - 3), Math.Abs(y - 3));
                    Assert.Equal(ring != 2, dark.Contains((left + x, top + y)));
                }
            }
        }
    }
}
