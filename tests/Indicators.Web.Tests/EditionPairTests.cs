using System.Net;
using AngleSharp.Html.Dom;
using AngleSharp.Html.Parser;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Application.Editions;
using Indicators.Monitoring;
using Indicators.Web.Tests.Invented;
using NodaTime;
using Xunit;

namespace Indicators.Web.Tests;

/// <summary>Two editions side by side: causes from what they rest on, moves from what they hold.</summary>
public sealed class EditionPairTests
{
    private static readonly InventedReader Basis = InventedEdition.Reader();

    private static PublishedSurvey Survey(string id, int year, double minutes = 5) => new(
        Id<Survey>.Parse(id).Value, Id<Station>.Parse("S1").Value, Id<Wetland>.Parse("W1").Value, InventedEdition.Marl, new LocalDate(year, 4, 20), null, minutes, null, null, null, null,
        [new Call(InventedEdition.Wood, CallLevel.Of(2).Value)]);

    /// <summary>Edition 3 with these inputs and edition 2 before it, changed as told.</summary>
    private static InventedReader Reader(Func<InventedReader, InventedReader> earlier, Func<EditionManifest, EditionManifest> manifest)
    {
        var before = earlier(Basis);
        return Basis with
        {
            EarlierResults = before,
            EarlierHeaders = [Basis.EarlierHeaders[0] with { Manifest = manifest(Basis.Header!.Manifest) }],
        };
    }

    private static EditionComparison Compare(InventedReader reader) => new CompareEditions(reader).Run(3, 2)!;

    [Fact]
    public void Editions_on_the_same_ground_have_no_cause_and_no_move()
    {
        var same = Compare(Reader(reader => reader, manifest => manifest));
        Assert.Equal(EditionCauses.None, same.Causes);
        Assert.Empty(same.Conditions);
        Assert.Empty(same.Trends);
        Assert.Equal(Basis.TrendList.Count, same.Compared);
        Assert.Equal((2, 3), (same.Before.Number, same.After.Number));
        Assert.Null(new CompareEditions(Basis).Run(3, 3));
        Assert.Null(new CompareEditions(Basis).Run(3, 9));
    }

    [Fact]
    public void Added_corrected_and_removed_surveys_are_counted_from_the_copies()
    {
        var reader = Reader(
            earlier => earlier with { SurveyList = [Survey("gone", 2020), Survey("kept", 2021), Survey("mended", 2022), Survey("moved", 2022)] },
            manifest => manifest with { InputsSha256 = new string('b', 64) });
        var pair = Compare(reader with { SurveyList = [Survey("kept", 2021), Survey("mended", 2022, 9), Survey("moved", 2023), Survey("new1", 2024), Survey("new2", 2026)] });
        Assert.Equal(new SurveyDifference(2, 1, 2, 2024, 2026), pair.Surveys);
        Assert.Equal(EditionCauses.NewData | EditionCauses.CorrectedData, pair.Causes);
        Assert.Equal(2, pair.CauseCount);
    }

    [Fact]
    public void Other_inputs_without_a_visible_difference_are_withheld_ones() =>
        Assert.Equal(EditionCauses.WithheldData, Compare(Reader(reader => reader, manifest => manifest with { InputsSha256 = new string('b', 64) })).Causes);

    [Fact]
    public void Species_listed_in_another_way_are_a_correction()
    {
        var pair = Compare(Reader(
            earlier => earlier with { SpeciesList = [.. earlier.SpeciesList.Skip(1).Select((species, at) => at == 0 ? species with { CommonName = "another name" } : species)] },
            manifest => manifest with { InputsSha256 = new string('b', 64) }));
        Assert.Equal((EditionCauses.CorrectedData, 2), (pair.Causes, pair.OtherSpecies));
    }

    [Fact]
    public void Settings_run_and_engine_are_told_by_their_keys()
    {
        var pair = Compare(Reader(reader => reader, manifest => manifest with
        {
            Settings = manifest.Settings with { Score = new ScoreOptions { GoodFrom = 80 }, Baseline = new BaselineOptions { Seasons = [2012, 2013] } },
            Run = manifest.Run with { Seed = 9 },
            EngineVersion = "0.0.9",
        }));
        Assert.Equal(["baseline.seasons", "score.good_from"], pair.Settings.Select(change => change.Key));
        Assert.Equal(("80", "75"), (pair.Settings[1].Before, pair.Settings[1].After));
        Assert.Equal("[2012,2013]", pair.Settings[0].Before);
        Assert.Equal(new ManifestChange("seed", "9", "1"), Assert.Single(pair.Run));
        Assert.Equal(new ManifestChange("engine_version", "0.0.9", "0.1.0"), Assert.Single(pair.Engine));
        Assert.Equal(EditionCauses.NewSettings | EditionCauses.NewRun | EditionCauses.NewEngine, pair.Causes);
    }

    [Fact]
    public void Moves_are_sorted_by_word_then_by_size()
    {
        var pair = Compare(Reader(
            earlier => earlier with
            {
                TrendList = [.. earlier.TrendList.Select(trend =>
                    trend.Area == InventedEdition.Marl && trend.Species == InventedEdition.Wood ? trend with { PercentPerSeason = -9 }
                    : trend.Area == InventedEdition.Otter && trend.Species == InventedEdition.Peeper ? trend with { PercentPerSeason = 0.2, Direction = Direction.Unclear }
                    : trend)],
                ConditionList = [.. earlier.ConditionList.Select(condition => condition.Area == InventedEdition.Marl && condition.Score is { } score ? condition with { Score = score + 3 } : condition)],
            },
            manifest => manifest with { EngineVersion = "0.0.9" }));
        Assert.Equal([(InventedEdition.Otter, InventedEdition.Peeper), (InventedEdition.Marl, InventedEdition.Wood)], pair.Trends.Select(move => (move.After.Area, move.After.Species)));
        Assert.Equal(4.9, pair.Trends[1].Percent!.Value, 1e-9);
        var moved = Assert.Single(pair.Conditions);
        Assert.Equal((InventedEdition.Marl, -3.0), (moved.Area, Math.Round(moved.Points!.Value, 9)));
    }

    [Fact]
    public async Task Rows_say_what_moved_and_what_no_reader_can_see_is_no_row()
    {
        var reader = Reader(
            earlier => earlier with
            {
                ConditionList = [.. earlier.ConditionList.Select(each => each with
                {
                    Lower = each.Area == InventedEdition.Marl ? each.Lower - 4 : each.Lower - 1e-4,
                    Upper = each.Area == InventedEdition.Otter ? each.Upper + 3 : each.Upper,
                })],
                TrendList = [.. earlier.TrendList.Select(each => each.Area == InventedEdition.Marl && each.Species == InventedEdition.Wood
                    ? each with { LowerUnderlying = each.LowerUnderlying - 2, Lower = each.Lower - 2 } : each with { PercentPerSeason = each.PercentPerSeason - 1e-4 })],
            },
            manifest => manifest with { Run = manifest.Run with { Seed = 9 } });
        // All moved beyond rounding, two conditions and one trend in what is shown.
        var all = Compare(reader);
        Assert.True(all.Conditions.Count > 2 && all.Trends.Count > 1);
        var page = (await Get(reader, "/editions/2/3")).Page;
        Assert.Equal(["range", "range"], page.QuerySelectorAll("#conditions ~ .scroll tbody tr td:last-child").Select(cell => cell.TextContent));
        Assert.Equal(["range"], page.QuerySelectorAll("#trends ~ .scroll tbody tr td:last-child").Select(cell => cell.TextContent));
        Assert.Contains("1 of ", page.QuerySelector("#trends ~ .note")!.TextContent, StringComparison.Ordinal);
        Assert.DoesNotContain("0.0", page.QuerySelector("main")!.TextContent, StringComparison.Ordinal);
    }

    private static async Task<(HttpStatusCode Code, IHtmlDocument Page, string? To)> Get(InventedReader reader, string address)
    {
        await using var app = await RunningApp.Start(reader);
        var response = await app.Client.GetAsync(new Uri(address, UriKind.Relative), TestContext.Current.CancellationToken);
        return (response.StatusCode, new HtmlParser().ParseDocument(await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken)), response.Headers.Location?.ToString());
    }

    [Fact]
    public async Task List_names_every_edition_with_what_it_rests_on()
    {
        var (_, page, _) = await Get(Basis, "/editions");
        var rows = page.QuerySelectorAll("tbody tr").Select(row => row.TextContent.Replace('\u00A0', ' ')).ToList();
        Assert.Equal(2, rows.Count);
        Assert.Contains("Edition 3", rows[0], StringComparison.Ordinal);
        Assert.Contains("2 September 2026", rows[0], StringComparison.Ordinal);
        Assert.Contains("2,950", rows[0], StringComparison.Ordinal);
        Assert.Contains("0.1.0", rows[0], StringComparison.Ordinal);
        Assert.Equal(["/", "/editions/2/3", "/?edition=2"], page.QuerySelectorAll("tbody a").Select(link => link.GetAttribute("href")));
    }

    [Fact]
    public async Task Pair_of_one_cause_says_that_it_is_behind_everything_and_one_of_several_that_nobody_can_tell()
    {
        var one = await Get(Reader(reader => reader, manifest => manifest with { EngineVersion = "0.0.9" }), "/editions/2/3");
        Assert.Contains("Only this changed", one.Page.Body!.TextContent, StringComparison.Ordinal);
        Assert.Contains("No condition and no trend moved", one.Page.Body.TextContent, StringComparison.Ordinal);
        var two = Reader(reader => reader, manifest => manifest with { EngineVersion = "0.0.9", Run = manifest.Run with { Seed = 4 } });
        var several = await Get(two, "/editions/2/3");
        Assert.Contains("Several things changed at once", several.Page.Body!.TextContent, StringComparison.Ordinal);
        Assert.Contains("No edition lies between", several.Page.Body.TextContent, StringComparison.Ordinal);
        var apart = await Get(two with { EarlierHeaders = [two.EarlierHeaders[0], two.EarlierHeaders[0] with { Number = 1 }] }, "/editions/1/3");
        Assert.Contains("Other editions lie between", apart.Page.Body!.TextContent, StringComparison.Ordinal);
        Assert.Equal(["/editions/1/2", "/editions/2/3"], apart.Page.QuerySelectorAll("#why ~ ul.swatches a").Select(link => link.GetAttribute("href")));
    }

    [Theory]
    [InlineData(
        "/editions/2/3",
        "Several things changed at once. So we ran the analysis again in steps, with one more thing changed each time: the program and corrections, new surveys and settings. ",
        "new surveys: +4.0 points; settings: −1.0 points",
        "2 added, 1 corrected, 1 taken away",
        "the program and corrections: now “going down”; new surveys: −2.0 percentage points",
        "not found out here")]
    [InlineData(
        "/es/editions/2/3",
        "Cambiaron varias cosas a la vez. Por eso repetimos el análisis por pasos, cambiando cada vez una cosa más: el programa y correcciones, muestreos nuevos y ajustes. ",
        "muestreos nuevos: +4,0 puntos; ajustes: −1,0 puntos",
        "2 agregados, 1 corregido, 1 quitado",
        "el programa y correcciones: ahora «a la baja»; muestreos nuevos: −2,0 puntos porcentuales",
        "aquí no se averiguó")]
    public async Task Rows_tell_causes_apart_where_it_was_found_out(string address, string why, string points, string surveys, string percent, string unknown)
    {
        var (marl, wood) = (InventedEdition.Marl, InventedEdition.Wood);
        var now = Basis.ConditionList.Last(each => each.Area == marl && each.Score is not null);
        var trend = Basis.TrendList.Single(each => each.Area == marl && each.Species == wood);
        var other = Basis.TrendList.First(each => each.Area == InventedEdition.Otter && each.LowerUnderlying is not null);
        var reader = Reader(
            earlier => earlier with
            {
                SurveyList = [Survey("gone", 2020), Survey("mended", 2022)],
                ConditionList = [.. earlier.ConditionList.Select(each => each == now ? each with { Score = each.Score - 3 } : each)],
                TrendList = [.. earlier.TrendList.Select(each => each == trend ? each with { PercentPerSeason = each.PercentPerSeason + 2, Direction = Direction.Up }
                    : each == other ? each with { PercentPerSeason = each.PercentPerSeason + 0.12 } : each)],
            },
            manifest => manifest with
            {
                InputsSha256 = new string('b', 64), EngineVersion = "0.0.9", Settings = manifest.Settings with { Score = new ScoreOptions { GoodFrom = 80 } },
            }) with
        {
            SurveyList = [Survey("mended", 2022, 9), Survey("new1", 2024), Survey("new2", 2026)],
            StepList =
            [
                new(
                    EditionCauses.NewEngine | EditionCauses.CorrectedData,
                    [trend with { PercentPerSeason = trend.PercentPerSeason + 2 }],
                    [now with { Score = now.Score - 3 }]),
                new(EditionCauses.NewData, [trend], [now with { Score = now.Score + 1 }]),
                new(EditionCauses.NewSettings, [], []),
            ],
        };
        var page = (await Get(reader, address)).Page;
        Assert.StartsWith(why, page.QuerySelector("#why ~ p")!.TextContent, StringComparison.Ordinal);
        var condition = page.QuerySelectorAll("#conditions ~ .scroll tbody tr td").Select(cell => cell.TextContent.Trim().Replace('\u00A0', ' ')).ToList();
        Assert.Equal([points, surveys], condition[^2..]);
        var trends = page.QuerySelectorAll("#trends ~ .scroll tbody tr td:last-child").Select(cell => cell.TextContent.Trim().Replace('\u00A0', ' ')).ToList();
        Assert.Equal([percent, unknown], trends);
        Assert.Equal(
            ["/downloads/moves.csv?edition=3&since=2", "/downloads/moves.json?edition=3&since=2"],
            page.QuerySelectorAll("#only ~ ul a").Select(link => link.GetAttribute("href")));

        await using var app = await RunningApp.Start(reader);
        string file = await app.Client.GetStringAsync(new Uri("/downloads/moves.csv?edition=3&since=2", UriKind.Relative), TestContext.Current.CancellationToken);
        string[][] rows = [.. file.Split('\n').Skip(1).Select(line => line.Split(',')).Where(row => row.Length > 1 && row[2] == marl.ToString())];
        Assert.Equal(
            ["score all", "score corrected_data+new_engine", "score new_data", "score new_settings"],
            rows.Where(row => row[4] == "score").Select(row => $"{row[4]} {row[5]}"));
        // The rows of the causes lead from the one end to the other.
        Assert.Equal((rows[0][6], rows[0][10]), (rows[1][6], rows[3][10]));
        Assert.Equal([rows[1][10], rows[2][10]], [rows[2][6], rows[3][6]]);
        foreach (string none in (string[])["moves.csv?edition=3&since=3", "moves.csv?edition=3&since=9", "moves.csv?edition=3&since=x", "trends.csv?since=2", "moves.csv?edition=3&area=9901"])
            Assert.Equal(HttpStatusCode.NotFound, (await app.Client.GetAsync(new Uri($"/downloads/{none}", UriKind.Relative), TestContext.Current.CancellationToken)).StatusCode);
    }

    [Theory]
    [InlineData("/editions/2/3", "We put the condition of 1 watershed in other words, and 1 of ", " trends has another direction.")]
    [InlineData("/es/editions/2/3", "De 1 cuenca decimos la condición con otras palabras, y 1 de ", " tendencias cambió de rumbo.")]
    public async Task Pair_says_first_how_much_is_told_in_other_words(string address, string classes, string words)
    {
        var reader = Reader(
            reader => reader with
            {
                ConditionList = [.. reader.ConditionList.Select(each => each.Area == InventedEdition.Marl ? each with { Score = each.Score - 20, ProbabilityGood = 0, ProbabilityFair = 0, ProbabilityPoor = 1 } : each)],
                TrendList = [.. reader.TrendList.Select(each => each.Area == InventedEdition.Marl && each.Species == InventedEdition.Wood ? each with { Direction = Direction.Up } : each)],
            },
            manifest => manifest);
        string lead = (await Get(reader, address)).Page.QuerySelector("h1 + .lead")!.TextContent;
        Assert.StartsWith(classes, lead, StringComparison.Ordinal);
        Assert.EndsWith(words, lead, StringComparison.Ordinal);
        Assert.StartsWith("We put the condition of no watershed in other words, and no trend has", (await Get(Reader(each => each, manifest => manifest), "/editions/2/3")).Page.QuerySelector(".lead")!.TextContent, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("/editions/3/2", HttpStatusCode.Found)]
    [InlineData("/editions/3/3", HttpStatusCode.NotFound)]
    [InlineData("/editions/1/3", HttpStatusCode.NotFound)]
    [InlineData("/editions/a/3", HttpStatusCode.NotFound)]
    public async Task Pair_that_is_none_is_a_404_and_one_the_wrong_way_round_is_turned(string address, HttpStatusCode expected)
    {
        var answer = await Get(Basis, address);
        Assert.Equal(expected, answer.Code);
        Assert.Equal(expected == HttpStatusCode.Found ? "/editions/2/3" : null, answer.To);
    }
}
