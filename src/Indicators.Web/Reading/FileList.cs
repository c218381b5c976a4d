using Indicators.Analysis.Results;
using Indicators.Exchange.Export;
using Indicators.Monitoring;
using Indicators.Web.Serving;
using Indicators.Wording;

namespace Indicators.Web.Reading;

/// <summary>Files to take away, each in every format.</summary>
/// <param name="Name">What people call that to which they are narrowed; null for files of the whole edition.</param>
/// <param name="Narrowed">What stands behind the question mark of an address; empty for files of the whole edition.</param>
/// <param name="Exports">The exports there are, by name.</param>
internal sealed record FileList(string? Name, string Narrowed, IReadOnlyList<string> Exports)
{
    /// <summary>What most readers take away of an edition.</summary>
    public static FileList OfEdition { get; } = new(null, "", ["trends", "influence", "indices", "condition", "surveys"]);

    /// <summary>What the season summary is made of.</summary>
    public static FileList OfSeason { get; } = new(null, "", ["condition", "condition_lines", "score_change", "change", "gaps", "effort", "trends", "influence", "silence_tally"]);

    private static readonly string[] OfAreas =
        ["trends", "trends_all", "influence", "indices", "smooth", "condition", "condition_lines", "group", "group_trends", "occupancy", "calling_times", "effort", "wetlands"];

    private static readonly string[] OfSpecies = ["trends", "trends_all", "influence", "indices", "smooth", "occupancy", "calling_times"];

    private static readonly string[] OfWetlands = ["wetland_seasons", "wetland_calls"];

    /// <summary>The formats, in the order they are offered.</summary>
    public static IReadOnlyList<ExportFormat> Formats { get; } = [ExportFormat.Csv, ExportFormat.Json];

    public string Heading => Name is null ? Headings.Download : DownloadSentences.Only(Name);

    public static FileList Of(string name, WatershedCode area) => new(name, $"?area={area}", OfAreas);

    public static FileList Of(string name, Id<Species> species) => new(name, $"?species={Uri.EscapeDataString(species.ToString())}", OfSpecies);

    public static FileList Of(WetlandPlace place) => new(PublishedEdition.NameOf(place), $"?wetland={Uri.EscapeDataString(place.Slug)}", OfWetlands);

    /// <summary>What moved between two editions.</summary>
    public static FileList Of(long before, long after) =>
        new(ComparisonSentences.Pair(before, after), FormattableString.Invariant($"?{EditionAddress.Query}={after}&since={before}"), ["moves"]);

    /// <summary>The address of one export in a format, narrowed to this.</summary>
    public string Href(string export, ExportFormat format) => $"/downloads/{export}.{TableWriter.Extension(format)}{Narrowed}";

    /// <summary>The whole name of a link that shows its format alone.</summary>
    public string Label(string export, ExportFormat format) => DownloadSentences.As(DownloadSentences.What(export), TableWriter.Extension(format).ToUpperInvariant(), Name);
}
