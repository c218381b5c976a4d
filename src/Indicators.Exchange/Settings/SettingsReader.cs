using System.Text.Json;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using NodaTime;

namespace Indicators.Exchange.Settings;

/// <summary>Reads the parsed JSON of a programme's settings, key by key.</summary>
internal static class SettingsReader
{
    private const int FewestWetlands = 5;
    private const int MostSeasons = 200;
    private const double MostBiasShare = 1000;
    private const int MostCount = 1_000_000;
    private const double MostWeight = 1000;
    private const double WeightTolerance = 1e-9;
    private const string DayRule = "a month and a day as MM-DD, such as 04-15";

    public static SettingsRead Read(JsonElement root, string file)
    {
        var problems = new List<Problem>();
        var node = new SettingsNode(root, "", file, problems);
        var defaults = new ProgrammeSettings();
        var settings = new ProgrammeSettings
        {
            Name = node.Words("name", defaults.Name, _ => true, "the programme's name in quotes"),
            TimeZone = node.Words("time_zone", defaults.TimeZone, zone => DateTimeZoneProviders.Tzdb.GetZoneOrNull(zone) is not null,
                "an IANA time zone such as America/Chicago"),
            Protocol = ReadProtocol(node.Child("protocol"), file, problems),
            Response = ReadResponse(node.Child("response")),
            Baseline = ReadBaseline(node.Child("baseline")),
            Trend = ReadTrend(node.Child("trend")),
            Group = ReadGroup(node.Child("group")),
            Score = ReadScore(node.Child("score"), file, problems),
            Occupancy = ReadOccupancy(node.Child("occupancy")),
            Disclosure = ReadDisclosure(node.Child("disclosure")),
        };
        node.Close();
        return new SettingsRead(problems.Count == 0 ? settings : null, problems);
    }

    private static Protocol ReadProtocol(SettingsNode node, string file, List<Problem> problems)
    {
        var defaults = Protocol.Default;
        var protocol = new Protocol
        {
            Name = node.Words("name", defaults.Name, _ => true, "the protocol's name in quotes"),
            MinimumMinutes = Limit(node, "minimum_minutes", defaults.MinimumMinutes, n => n.Number("value", 0, 0, 600)),
            EarliestMinutesAfterSunset = Limit(node, "earliest_minutes_after_sunset", defaults.EarliestMinutesAfterSunset,
                n => n.Whole("value", 0, -720, 720)),
            LatestStart = Limit(node, "latest_start", defaults.LatestStart, n => n.Value("value", LocalTime.Midnight, Time, "a time as HH:MM")),
            MaximumWindBeaufort = Limit(node, "maximum_wind_beaufort", defaults.MaximumWindBeaufort, n => n.Whole("value", 0, 0, 12)),
            Runs = node.List("runs")?.Select(run => ReadRun(new SettingsNode(run.Element, run.Path, file, problems))).ToList() ?? defaults.Runs,
        };
        node.Close();
        return protocol;
    }

    private static ProtocolRun ReadRun(SettingsNode node)
    {
        node.Require("name", "first", "last");
        var run = new ProtocolRun(
            node.Words("name", "", _ => true, "the run's name in quotes"),
            node.Value("first", default(AnnualDate), Day, DayRule),
            node.Value("last", default(AnnualDate), Day, DayRule),
            Limit(node, "minimum_air_temp_c", null, n => n.Number("value", 0, -60, 60)));
        node.Close();
        return run;
    }

    /// <summary>A limit left out has its default, null is no limit, and a limit without the document that sets it is refused.</summary>
    private static ProtocolLimit<T>? Limit<T>(SettingsNode parent, string key, ProtocolLimit<T>? fallback, Func<SettingsNode, T> readValue)
    {
        var node = parent.NullableChild(key, out bool given);
        if (node is null) return given ? null : fallback;
        node.Require("value", "source");
        var limit = new ProtocolLimit<T>(readValue(node), node.Words("source", "", _ => true, "the published document that sets the limit"));
        node.Close();
        return limit;
    }

    private static LocalTime? Time(JsonElement element) =>
        JsonText.OrNull(element) is { } text && SettingsJson.ClockTime.Parse(text) is { Success: true } time ? time.Value : null;

    private static AnnualDate? Day(JsonElement element) =>
        JsonText.OrNull(element) is { } text && CallingWindow.ParseDay(text) is { IsValid: true } day ? day.Value : null;

    private static ResponseOptions ReadResponse(SettingsNode node)
    {
        var defaults = new ResponseOptions();
        string kinds = string.Join(", ", Enum.GetValues<ResponseKind>().Select(ResultCode.Of));
        var kind = node.Value("kind", defaults.Kind, Kind, "one of " + kinds);
        var weights = new List<double>();
        var given = node.List("weights");
        foreach (var (element, path) in given ?? [])
        {
            double least = weights.Count == 0 ? 0 : weights[^1];
            if (element.ValueKind == JsonValueKind.Number && element.TryGetDouble(out double weight) && double.IsFinite(weight) && weight >= least && weight <= MostWeight)
                weights.Add(weight);
            else
                node.Wrong(path, element, "a number from 0 to 1,000, no smaller than the one of the level below");
        }
        if (given is { Count: not 3 } || (weights.Count == 3 && weights[2] == 0))
            node.Wrong("response.weights", JsonSerializer.SerializeToElement(weights), "three numbers, what levels 1, 2 and 3 count, not all 0");
        node.Close();
        return new ResponseOptions { Kind = kind, Weights = weights.Count == 3 ? weights : defaults.Weights };

        static ResponseKind? Kind(JsonElement element) =>
            Enum.GetValues<ResponseKind>().Cast<ResponseKind?>().FirstOrDefault(kind => ResultCode.Of(kind!.Value) == JsonText.OrNull(element));
    }

    private static BaselineOptions ReadBaseline(SettingsNode node)
    {
        var defaults = new BaselineOptions();
        int first = node.Whole("first_seasons", defaults.FirstSeasons, 1, MostSeasons);
        var seasons = new List<int>();
        var given = node.List("seasons");
        foreach (var (element, path) in given ?? [])
        {
            if (element.ValueKind == JsonValueKind.Number && element.TryGetInt32(out int season) && season is >= 1900 and <= 9998 && !seasons.Contains(season))
                seasons.Add(season);
            else
                node.Wrong(path, element, "a year from 1900 on, each once");
        }
        if (given is { Count: 0 }) node.Wrong("baseline.seasons", JsonElement.Parse("[]"), "at least one season, or null for the first ones");
        node.Close();
        return new BaselineOptions { FirstSeasons = first, Seasons = given is null ? null : seasons };
    }

    private static TrendOptions ReadTrend(SettingsNode node)
    {
        var defaults = new TrendOptions();
        var trend = new TrendOptions
        {
            PracticalChangePercent = node.Number("practical_change_percent", defaults.PracticalChangePercent, 0, 100),
            Confidence = node.Number("confidence", defaults.Confidence, 0.5, 0.999),
            MinimumClusters = node.Whole("minimum_clusters", defaults.MinimumClusters, 2, MostCount),
            MinimumSeasons = node.Whole("minimum_seasons", defaults.MinimumSeasons, 2, MostSeasons),
            MaximumLostShare = node.Number("maximum_lost_share", defaults.MaximumLostShare, 0, 1),
            CeilingWarningShare = node.Number("ceiling_warning_share", defaults.CeilingWarningShare, 0, 1),
            CeilingMuteShare = node.Number("ceiling_mute_share", defaults.CeilingMuteShare, 0, 1),
        };
        node.Close();
        return trend;
    }

    private static GroupOptions ReadGroup(SettingsNode node)
    {
        var defaults = new GroupOptions();
        var group = new GroupOptions
        {
            FloorPercent = node.Number("floor_percent", defaults.FloorPercent, 0.001, 100),
            MaximumBiasShare = node.Number("maximum_bias_share", defaults.MaximumBiasShare, 0, MostBiasShare),
            EarlyMiddleThrough = node.Value("early_middle_through", defaults.EarlyMiddleThrough, Day, DayRule),
            SummerMiddleFrom = node.Value("summer_middle_from", defaults.SummerMiddleFrom, Day, DayRule),
            HighConservatismFrom = node.Number("high_conservatism_from", defaults.HighConservatismFrom, 0, 10),
        };
        // A limit of earlier versions, which no longer decides anything: stored settings may hold it.
        _ = node.Number("maximum_silent_share", 0, 0, 1);
        node.Close();
        return group;
    }

    private static ScoreOptions ReadScore(SettingsNode node, string file, List<Problem> problems)
    {
        var defaults = new ScoreOptions();
        int window = node.Whole("window_seasons", defaults.WindowSeasons, 1, MostSeasons);
        var score = new ScoreOptions
        {
            PresenceWeight = node.Number("presence_weight", defaults.PresenceWeight, 0, 1),
            SensitivityWeight = node.Number("sensitivity_weight", defaults.SensitivityWeight, 0, 1),
            CallingWeight = node.Number("calling_weight", defaults.CallingWeight, 0, 1),
            DirectionWeight = node.Number("direction_weight", defaults.DirectionWeight, 0, 1),
            GoodFrom = node.Number("good_from", defaults.GoodFrom, 0, 100),
            FairFrom = node.Number("fair_from", defaults.FairFrom, 0, 100),
            WindowSeasons = window,
            MinimumSeasons = node.Whole("minimum_seasons", Math.Min(defaults.MinimumSeasons, window), 1, window),
            MinimumWetlands = node.Whole("minimum_wetlands", defaults.MinimumWetlands, 1, MostCount),
            MinimumExpectedSpecies = node.Whole("minimum_expected_species", defaults.MinimumExpectedSpecies, 1, MostCount),
            SeasonsHeardToExpect = node.Whole("seasons_heard_to_expect", defaults.SeasonsHeardToExpect, 1, MostSeasons),
        };
        double sum = score.PresenceWeight + score.SensitivityWeight + score.CallingWeight + score.DirectionWeight;
        if (Math.Abs(sum - 1) > WeightTolerance)
            node.Wrong("score", JsonSerializer.SerializeToElement(Math.Round(sum, 9)), "four weights that add up to 1");
        if (score.FairFrom > score.GoodFrom)
            node.Wrong("score.fair_from", JsonSerializer.SerializeToElement(score.FairFrom), "a score no higher than good_from");
        node.Close();
        return score;
    }

    private static OccupancyOptions ReadOccupancy(SettingsNode node)
    {
        var defaults = new OccupancyOptions();
        var occupancy = new OccupancyOptions
        {
            MinimumWetlands = node.Whole("minimum_wetlands", defaults.MinimumWetlands, 2, MostCount),
            AbsenceChance = node.Number("absence_chance", defaults.AbsenceChance, 0.001, 0.5),
            SilenceChance = node.Number("silence_chance", defaults.SilenceChance, 0.0001, 0.5),
        };
        node.Close();
        return occupancy;
    }

    private static DisclosureOptions ReadDisclosure(SettingsNode node)
    {
        // Fewer than five could tell where a protected species is; a programme may only be stricter.
        var disclosure = new DisclosureOptions
        {
            MinimumWetlands = node.Whole("minimum_wetlands", new DisclosureOptions().MinimumWetlands, FewestWetlands, MostCount),
        };
        node.Close();
        return disclosure;
    }
}
