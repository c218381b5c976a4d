using System.Text.Json;
using System.Text.Json.Serialization;
using Indicators.Analysis.Options;
using Indicators.Monitoring;
using NodaTime;

namespace Indicators.Storage;

/// <summary>
/// How a programme's settings stand in a text column. The same settings give the same text on every machine, so the text
/// may be hashed. Not the file people edit: that one is Exchange's.
/// </summary>
public static class SettingsText
{
    private static readonly JsonSerializerOptions Options = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        Converters = { new TimeText(), new DayText() },
    };

    /// <summary>The settings as one line of JSON.</summary>
    public static string Write(ProgrammeSettings settings) => JsonSerializer.Serialize(settings, Options);

    /// <summary>The settings that <see cref="Write"/> wrote; what an older version did not write takes its default.</summary>
    public static ProgrammeSettings Read(string text) => JsonSerializer.Deserialize<ProgrammeSettings>(text, Options)!;

    private sealed class TimeText : JsonConverter<LocalTime>
    {
        public override LocalTime Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            StoredText.Time(reader.GetString()!);

        public override void Write(Utf8JsonWriter writer, LocalTime value, JsonSerializerOptions options) =>
            writer.WriteStringValue(StoredText.Of(value));
    }

    private sealed class DayText : JsonConverter<AnnualDate>
    {
        public override AnnualDate Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            CallingWindow.ParseDay(reader.GetString()!).Value;

        public override void Write(Utf8JsonWriter writer, AnnualDate value, JsonSerializerOptions options) =>
            writer.WriteStringValue(StoredText.Of(value));
    }
}
