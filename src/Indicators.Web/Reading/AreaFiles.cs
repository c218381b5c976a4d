using Indicators.Analysis.Results;
using Indicators.Monitoring;

namespace Indicators.Web.Reading;

/// <summary>Files of one area, one species or one wetland alone.</summary>
/// <param name="Name">What people call it.</param>
/// <param name="Narrowed">What stands behind the question mark of an address.</param>
/// <param name="Exports">The exports there are, by name.</param>
internal sealed record AreaFiles(string Name, string Narrowed, IReadOnlyList<string> Exports)
{
    private static readonly string[] OfAreas = ["trends", "trends_all", "influence", "indices", "smooth", "condition", "occupancy", "calling_times", "wetlands"];
    private static readonly string[] OfSpecies = ["trends", "trends_all", "influence", "indices", "smooth", "occupancy", "calling_times"];
    private static readonly string[] OfWetlands = ["wetland_seasons", "wetland_calls"];

    public static AreaFiles Of(string name, WatershedCode area) => new(name, $"area={area}", OfAreas);

    public static AreaFiles Of(string name, Id<Species> species) => new(name, $"species={Uri.EscapeDataString(species.ToString())}", OfSpecies);

    public static AreaFiles Of(WetlandPlace place) => new(PublishedEdition.NameOf(place), $"wetland={place.Slug}", OfWetlands);

    /// <summary>The address of one export, narrowed to this.</summary>
    public string Href(string export) => $"/downloads/{export}.csv?{Narrowed}";
}
