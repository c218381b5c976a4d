using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Indicators.Monitoring;
using Indicators.Storage.Surveys;
using NodaTime.Text;

namespace Indicators.Application.Editions;

/// <summary>
/// The SHA-256 (FIPS 180-4) of what an edition rests on: accepted surveys, and of stations, species and watersheds what
/// the results or the edition's pages depend on.
/// </summary>
/// <remarks>
/// Coordinates, observers, notes and calls of protected species are left out: a hash over published data and one secret could be used to try
/// out what the secret is. Results depend on them all the same, most of all those of protected species; <see cref="Withheld"/> is their hash, which no edition carries. No time stamp enters. Every field is written
/// as its length in characters, a colon and its text, so that no two different inputs spell the same; nothing is sorted by
/// culture.
/// </remarks>
public static class InputsHash
{
    /// <summary>The hash in lower-case hexadecimal, the same whatever order the lists come in.</summary>
    public static string Of(ProgrammeData data, IEnumerable<WatershedShape> shapes)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        var text = new StringBuilder();
        var secret = Redaction.Protected(data);

        foreach (var watershed in data.Watersheds.OrderBy(w => w.Code))
            Record("watershed", watershed.Code.ToString(), watershed.Name);
        foreach (var shape in shapes.OrderBy(s => s.Code))
            Record("shape", shape.Code.ToString(), shape.GeometryJson);
        foreach (var wetland in data.Wetlands.OrderBy(w => w.Id))
            Record("wetland", wetland.Id.ToString());
        foreach (var station in data.Stations.OrderBy(s => s.Id))
            Record("station", station.Id.ToString(), station.Wetland.ToString(), station.Watershed.ToString(), Number(station.Weight));
        foreach (var species in data.Species.OrderBy(s => s.Id))
        {
            Record(
                "species",
                species.Id.ToString(),
                species.ScientificName,
                species.CommonName,
                species.Window.ToString(),
                Number(species.Conservatism.Value),
                species.Protected ? "protected" : null);
            foreach (var (language, name) in species.OtherNames.All)
                Record("name", language, name);
        }
        foreach (var expected in data.Expected.OrderBy(e => e.Watershed).ThenBy(e => e.Species))
            Record("expected", expected.Watershed.ToString(), expected.Species.ToString(), expected.Window?.ToString());
        foreach (var survey in data.Surveys.OrderBy(s => s.Id))
            Surveyed(survey);
        Flush();
        return Convert.ToHexStringLower(hash.GetHashAndReset());

        void Surveyed(Survey survey)
        {
            Record(
                "survey",
                survey.Id.ToString(),
                survey.Station.ToString(),
                LocalDatePattern.Iso.Format(survey.Date),
                survey.StartTime is { } start ? LocalTimePattern.ExtendedIso.Format(start) : null,
                Number(survey.Minutes),
                Number(survey.AirTempC),
                Number(survey.WindBeaufort),
                survey.SkyCode,
                survey.Noise);
            foreach (var call in survey.Calls.Where(c => !secret.Contains(c.Species)).OrderBy(c => c.Species))
                Record("call", call.Species.ToString(), call.Level.ToString());
        }

        void Record(params ReadOnlySpan<string?> fields)
        {
            foreach (string? field in fields)
            {
                // A missing value and an empty text differ.
                if (field is null)
                    text.Append('-');
                else
                    text.Append(CultureInfo.InvariantCulture, $"{field.Length}:{field}");
            }
            text.Append('\n');
            if (text.Length > 1 << 16)
                Flush();
        }

        void Flush()
        {
            hash.AppendData(Encoding.UTF8.GetBytes(text.ToString()));
            text.Clear();
        }
    }

    /// <summary>
    /// The hash of what results depend on and no edition may tell: where stations stand, who listened, and where a protected species called. It goes into the
    /// key of a run, which stays beside the surveys themselves, so that one run never goes on with another's areas.
    /// </summary>
    public static string Withheld(ProgrammeData data)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        foreach (var station in data.Stations.OrderBy(s => s.Id))
            Record($"{station.Id}\t{station.Place.Latitude:R}\t{station.Place.Longitude:R}\n");
        var secret = Redaction.Protected(data);
        foreach (var survey in data.Surveys.OrderBy(s => s.Id))
        {
            Record($"{survey.Id}\t{survey.Observer?.Length ?? -1}:{survey.Observer}\n");
            foreach (var call in survey.Calls.Where(c => secret.Contains(c.Species)).OrderBy(c => c.Species))
                Record($"{call.Species}\t{call.Level}\n");
        }
        return Convert.ToHexStringLower(hash.GetHashAndReset());

        void Record(FormattableString line) => hash.AppendData(Encoding.UTF8.GetBytes(FormattableString.Invariant(line)));
    }

    private static string? Number(double? value) => value?.ToString("R", CultureInfo.InvariantCulture);
}
