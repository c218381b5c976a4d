using System.Globalization;
using Indicators.Analysis.Options;
using Indicators.Exchange.Settings;
using Indicators.Monitoring;
using NodaTime;
using Xunit;

namespace Indicators.Exchange.Tests.Settings;

public class SettingsJsonTests
{
    private static ProgrammeSettings Everything => new()
    {
        Name = "Invented \"Lakes\" é",
        TimeZone = "Europe/Berlin",
        Protocol = new Protocol
        {
            Name = "Ours",
            MinimumMinutes = new(3.5, "A sheet"),
            EarliestMinutesAfterSunset = null,
            LatestStart = new(new LocalTime(0, 30), "A sheet"),
            MaximumWindBeaufort = new(3, "Another sheet"),
            Runs = [new ProtocolRun("early", new AnnualDate(4, 1), new AnnualDate(4, 30), new(5.6, "A sheet")), new ProtocolRun("late", new AnnualDate(6, 1), new AnnualDate(7, 15), null)],
        },
        Baseline = new BaselineOptions { FirstSeasons = 2, Seasons = [2012, 2014] },
        Trend = new TrendOptions { PracticalChangePercent = 0.1 + 0.2, MinimumClusters = 6 },
        Group = new GroupOptions { FloorPercent = 0.5, EarlyMiddleThrough = new AnnualDate(5, 10), SummerMiddleFrom = new AnnualDate(6, 20), HighConservatismFrom = 6.5 },
        Score = new ScoreOptions { PresenceWeight = 0.25, SensitivityWeight = 0.25, CallingWeight = 0.25, DirectionWeight = 0.25, WindowSeasons = 1, MinimumSeasons = 1 },
        Occupancy = new OccupancyOptions { MinimumWetlands = 12, AbsenceChance = 0.1, SilenceChance = 0.02 },
        Disclosure = new DisclosureOptions { MinimumWetlands = 9 },
    };

    private static IReadOnlyList<Problem> Problems(string json)
    {
        var read = SettingsJson.Read(json);
        Assert.Null(read.Settings);
        return read.Problems;
    }

    [Fact]
    public void Settings_written_and_read_come_back_as_the_same_text()
    {
        string text = SettingsJson.Write(Everything);
        var read = SettingsJson.Read(text);
        Assert.Empty(read.Problems);
        Assert.Equal(text, SettingsJson.Write(read.Settings!));
        Assert.Equal("Europe/Berlin", read.Settings!.TimeZone);
        Assert.Null(read.Settings.Protocol.EarliestMinutesAfterSunset);
        Assert.Equal(new LocalTime(0, 30), read.Settings.Protocol.LatestStart!.Value);
        Assert.Equal(Everything.Protocol.Runs, read.Settings.Protocol.Runs);
        Assert.Equal([2012, 2014], read.Settings.Baseline.Seasons);
        Assert.Equal(Everything.Trend, read.Settings.Trend);
        Assert.Equal(Everything.Group, read.Settings.Group);
        Assert.Equal(Everything.Score, read.Settings.Score);
        Assert.Equal(Everything.Occupancy, read.Settings.Occupancy);
        Assert.Equal(Everything.Disclosure, read.Settings.Disclosure);
    }

    [Fact]
    public void Empty_object_gives_every_default()
    {
        var read = SettingsJson.Read("{}");
        Assert.Empty(read.Problems);
        Assert.Equal(SettingsJson.Write(new ProgrammeSettings()), SettingsJson.Write(read.Settings!));
    }

    [Fact]
    public void Text_is_the_same_under_a_comma_decimal_culture()
    {
        string expected = SettingsJson.Write(Everything);
        var before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo("de-DE");
            Assert.Equal("0,5", 0.5.ToString("R", CultureInfo.CurrentCulture));
            Assert.Equal(expected, SettingsJson.Write(Everything));
            Assert.Empty(SettingsJson.Read(expected).Problems);
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    [Theory]
    [InlineData("""{ "tiem_zone": "America/Chicago" }""", "tiem_zone")]
    [InlineData("""{ "protocol": { "runs": [ { "name": "a", "first": "04-01", "last": "04-30", "least": 1 } ] } }""", "protocol.runs[0].least")]
    [InlineData("""{ "trend": { "tau": 2 } }""", "trend.tau")]
    public void Unknown_key_is_named(string json, string key)
    {
        var problem = Assert.Single(Problems(json));
        Assert.Equal((ProblemKind.SettingUnknown, key), (problem.Kind, problem.Column));
    }

    [Theory]
    [InlineData("""{ "time_zone": "Mars/Olympus" }""", "time_zone", "Mars/Olympus")]
    [InlineData("""{ "name": "  " }""", "name", "  ")]
    [InlineData("""{ "name": 4 }""", "name", "4")]
    [InlineData("""{ "trend": { "confidence": 95 } }""", "trend.confidence", "95")]
    [InlineData("""{ "trend": { "minimum_clusters": 5.5 } }""", "trend.minimum_clusters", "5.5")]
    [InlineData("""{ "protocol": { "latest_start": { "value": "25:00", "source": "x" } } }""", "protocol.latest_start.value", "25:00")]
    [InlineData("""{ "protocol": { "maximum_wind_beaufort": { "value": 3 } } }""", "protocol.maximum_wind_beaufort.source", "")]
    [InlineData("""{ "protocol": { "maximum_wind_beaufort": 3 } }""", "protocol.maximum_wind_beaufort", "3")]
    [InlineData("""{ "score": { "presence_weight": 0.4 } }""", "score", "1.1")]
    [InlineData("""{ "score": { "fair_from": 80 } }""", "score.fair_from", "80")]
    [InlineData("""{ "score": { "window_seasons": 2, "minimum_seasons": 3 } }""", "score.minimum_seasons", "3")]
    [InlineData("""{ "baseline": { "seasons": [2012, 2012] } }""", "baseline.seasons[1]", "2012")]
    [InlineData("""{ "baseline": { "seasons": [] } }""", "baseline.seasons", "[]")]
    [InlineData("""{ "disclosure": { "minimum_wetlands": 4 } }""", "disclosure.minimum_wetlands", "4")]
    [InlineData("""{ "name": "\ud800" }""", "name", "\"\\ud800\"")]
    [InlineData("""[]""", null, "[]")]
    public void Wrong_value_is_named(string json, string? key, string value)
    {
        var problems = Problems(json);
        Assert.Contains(problems, p => p.Kind == ProblemKind.SettingValue && p.Column == key && p.Value == value && p.Rule is { Length: > 0 });
    }

    [Theory]
    [InlineData("{ \"\\ud800\": 1 }", null)]
    [InlineData("{ \"name\": \"a\",\n\n oops }", 3)]
    [InlineData("", 1)]
    [InlineData("{ \"name\": \"a\", \"name\": \"b\" }", null)]
    public void Text_that_is_not_json_names_its_line(string json, int? line)
    {
        var problem = Assert.Single(Problems(json));
        Assert.Equal((ProblemKind.SettingsNotJson, SettingsJson.FileName, line), (problem.Kind, problem.File, problem.Line));
    }
}
