using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using NodaTime;
using NodaTime.Text;

namespace Indicators.Exchange.Settings;

/// <summary>
/// A programme's settings as JSON text, the content of <c>programme.json</c>. Keys are lower case with underscores, like
/// the columns of every other file. A key that is left out has its default; a limit that is <c>null</c> is not checked.
/// </summary>
public static class SettingsJson
{
    /// <summary>The name the file goes by.</summary>
    public const string FileName = "programme.json";

    internal static readonly LocalTimePattern ClockTime = LocalTimePattern.CreateWithInvariantCulture("HH':'mm");

    /// <summary>
    /// The canonical text of settings: every key, in a fixed order, indented by two spaces, line feeds only, with one at
    /// the end. The same settings give the same text, so the text can be hashed.
    /// </summary>
    public static string Write(ProgrammeSettings settings)
    {
        using var stream = new MemoryStream();
        var options = new JsonWriterOptions { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };
        using (var json = new Utf8JsonWriter(stream, options))
        {
            json.WriteStartObject();
            json.WriteString("name", settings.Name);
            json.WriteString("time_zone", settings.TimeZone);
            WriteProtocol(json, settings.Protocol);
            WriteResponse(json, settings.Response);
            WriteBaseline(json, settings.Baseline);
            WriteTrend(json, settings.Trend);
            json.WriteStartObject("group");
            json.WriteNumber("floor_percent", settings.Group.FloorPercent);
            json.WriteNumber("maximum_bias_share", settings.Group.MaximumBiasShare);
            json.WriteString("early_middle_through", CallingWindow.FormatDay(settings.Group.EarlyMiddleThrough));
            json.WriteString("summer_middle_from", CallingWindow.FormatDay(settings.Group.SummerMiddleFrom));
            json.WriteNumber("high_conservatism_from", settings.Group.HighConservatismFrom);
            json.WriteEndObject();
            WriteScore(json, settings.Score);
            json.WriteStartObject("occupancy");
            json.WriteNumber("minimum_wetlands", settings.Occupancy.MinimumWetlands);
            json.WriteNumber("absence_chance", settings.Occupancy.AbsenceChance);
            json.WriteNumber("silence_chance", settings.Occupancy.SilenceChance);
            json.WriteEndObject();
            json.WriteStartObject("disclosure");
            json.WriteNumber("minimum_wetlands", settings.Disclosure.MinimumWetlands);
            json.WriteEndObject();
            json.WriteEndObject();
        }
        return Encoding.UTF8.GetString(stream.GetBuffer(), 0, (int)stream.Length) + "\n";
    }

    /// <summary>Reads settings. Whatever is wrong is a problem that names its key; nothing is guessed.</summary>
    /// <param name="json">The text of the file.</param>
    /// <param name="file">The name to give the file in problems.</param>
    public static SettingsRead Read(string json, string file = FileName)
    {
        JsonDocument document;
        try
        {
            document = JsonDocument.Parse(json, new JsonDocumentOptions { AllowDuplicateProperties = false });
        }
        catch (Exception error) when (error is JsonException or InvalidOperationException)
        {
            // The second kind is a key with half a surrogate pair, which no text can hold.
            int? line = error is JsonException { LineNumber: { } zeroBased } ? (int)zeroBased + 1 : null;
            return new SettingsRead(null, [new Problem(ProblemKind.SettingsNotJson, file) { Line = line }]);
        }
        using (document) return SettingsReader.Read(document.RootElement, file);
    }

    private static void WriteProtocol(Utf8JsonWriter json, Protocol protocol)
    {
        json.WriteStartObject("protocol");
        json.WriteString("name", protocol.Name);
        WriteLimit(json, "minimum_minutes", protocol.MinimumMinutes, json.WriteNumber);
        WriteLimit(json, "earliest_minutes_after_sunset", protocol.EarliestMinutesAfterSunset, json.WriteNumber);
        WriteLimit(json, "latest_start", protocol.LatestStart, (key, time) => json.WriteString(key, ClockTime.Format(time)));
        WriteLimit(json, "maximum_wind_beaufort", protocol.MaximumWindBeaufort, json.WriteNumber);
        json.WriteStartArray("runs");
        foreach (var run in protocol.Runs)
        {
            json.WriteStartObject();
            json.WriteString("name", run.Name);
            json.WriteString("first", CallingWindow.FormatDay(run.First));
            json.WriteString("last", CallingWindow.FormatDay(run.Last));
            WriteLimit(json, "minimum_air_temp_c", run.MinimumAirTempC, json.WriteNumber);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void WriteLimit<T>(Utf8JsonWriter json, string key, ProtocolLimit<T>? limit, Action<string, T> writeValue)
    {
        if (limit is null)
        {
            json.WriteNull(key);
            return;
        }
        json.WriteStartObject(key);
        writeValue("value", limit.Value);
        json.WriteString("source", limit.Source);
        json.WriteEndObject();
    }

    private static void WriteResponse(Utf8JsonWriter json, ResponseOptions response)
    {
        json.WriteStartObject("response");
        json.WriteString("kind", ResultCode.Of(response.Kind));
        json.WriteStartArray("weights");
        foreach (double weight in response.Weights) json.WriteNumberValue(weight);
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void WriteBaseline(Utf8JsonWriter json, BaselineOptions baseline)
    {
        json.WriteStartObject("baseline");
        json.WriteNumber("first_seasons", baseline.FirstSeasons);
        if (baseline.Seasons is null)
        {
            json.WriteNull("seasons");
        }
        else
        {
            json.WriteStartArray("seasons");
            foreach (int season in baseline.Seasons) json.WriteNumberValue(season);
            json.WriteEndArray();
        }
        json.WriteEndObject();
    }

    private static void WriteTrend(Utf8JsonWriter json, TrendOptions trend)
    {
        json.WriteStartObject("trend");
        json.WriteNumber("practical_change_percent", trend.PracticalChangePercent);
        json.WriteNumber("confidence", trend.Confidence);
        json.WriteNumber("minimum_clusters", trend.MinimumClusters);
        json.WriteNumber("minimum_seasons", trend.MinimumSeasons);
        json.WriteNumber("maximum_lost_share", trend.MaximumLostShare);
        json.WriteNumber("ceiling_warning_share", trend.CeilingWarningShare);
        json.WriteNumber("ceiling_mute_share", trend.CeilingMuteShare);
        json.WriteEndObject();
    }

    private static void WriteScore(Utf8JsonWriter json, ScoreOptions score)
    {
        json.WriteStartObject("score");
        json.WriteNumber("presence_weight", score.PresenceWeight);
        json.WriteNumber("sensitivity_weight", score.SensitivityWeight);
        json.WriteNumber("calling_weight", score.CallingWeight);
        json.WriteNumber("direction_weight", score.DirectionWeight);
        json.WriteNumber("good_from", score.GoodFrom);
        json.WriteNumber("fair_from", score.FairFrom);
        json.WriteNumber("window_seasons", score.WindowSeasons);
        json.WriteNumber("minimum_seasons", score.MinimumSeasons);
        json.WriteNumber("minimum_wetlands", score.MinimumWetlands);
        json.WriteNumber("minimum_expected_species", score.MinimumExpectedSpecies);
        json.WriteNumber("seasons_heard_to_expect", score.SeasonsHeardToExpect);
        json.WriteEndObject();
    }
}
