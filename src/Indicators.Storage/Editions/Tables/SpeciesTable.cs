using Indicators.Monitoring;

namespace Indicators.Storage.Editions.Tables;

/// <summary>The species as they stood when the edition was made.</summary>
internal static class SpeciesTable
{
    internal static readonly ResultTable<Species> Species = new(
        "edition_species",
        "species_id",
        row => new SpeciesRow(
            row.Text("species_id"),
            row.Text("scientific_name"),
            row.Text("common_name"),
            row.Text("window_start"),
            row.Text("window_end"),
            row.Real("sensitivity"),
            row.Whole("protected"),
            row.TextOrNull("other_names")).ToSpecies(),
        [
            new("species_id", species => species.Id.ToString()),
            new("scientific_name", species => species.ScientificName),
            new("common_name", species => species.CommonName),
            new("window_start", species => StoredText.Of(species.Window.First)),
            new("window_end", species => StoredText.Of(species.Window.Last)),
            new("sensitivity", species => species.Conservatism.Value),
            new("protected", species => species.Protected),
            new("other_names", species => SpeciesRow.Text(species.OtherNames)),
        ]);
}
