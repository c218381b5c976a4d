using System.Globalization;
using System.Text.Json;
using Indicators.Monitoring;

namespace Indicators.Storage;

/// <summary>A species as the survey tables and the editions both keep it.</summary>
internal sealed record SpeciesRow(
    string SpeciesId,
    string ScientificName,
    string CommonName,
    string WindowStart,
    string WindowEnd,
    double Sensitivity,
    long Protected,
    string? OtherNames)
{
    internal const string Columns = """
        species_id AS SpeciesId,
        scientific_name AS ScientificName,
        common_name AS CommonName,
        window_start AS WindowStart,
        window_end AS WindowEnd,
        sensitivity AS Sensitivity,
        protected AS Protected,
        other_names AS OtherNames
        """;

    internal static SpeciesRow Of(Species species) => new(
        species.Id.ToString(),
        species.ScientificName,
        species.CommonName,
        StoredText.Of(species.Window.First),
        StoredText.Of(species.Window.Last),
        species.Conservatism.Value,
        species.Protected ? 1 : 0,
        Text(species.OtherNames));

    internal static string? Text(OtherNames names) => names.Equals(Monitoring.OtherNames.None) ? null : JsonSerializer.Serialize(names.All.ToDictionary());

    internal Species ToSpecies() => new()
    {
        Id = StoredText.Id<Species>(SpeciesId),
        ScientificName = ScientificName,
        CommonName = CommonName,
        Window = StoredText.Window(WindowStart, WindowEnd),
        Conservatism = Conservatism.Parse(Sensitivity.ToString("R", CultureInfo.InvariantCulture)).Value,
        Protected = Protected != 0,
        OtherNames = OtherNames is null ? Monitoring.OtherNames.None : Monitoring.OtherNames.Of(JsonSerializer.Deserialize<Dictionary<string, string>>(OtherNames)!),
    };
}
