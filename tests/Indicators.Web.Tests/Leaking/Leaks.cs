using System.Globalization;
using System.Net;
using System.Text.RegularExpressions;
using Indicators.Monitoring;

namespace Indicators.Web.Tests.Leaking;

/// <summary>A station as only the programme may know it.</summary>
internal sealed record SecretStation(string Id, string Name, string Wetland, string WetlandName, WatershedCode Area, double Latitude, double Longitude);

/// <summary>
/// Looks for what must not be told of protected species. Found is: a latitude and a longitude of one station, the one number
/// after the other, to a thousandth of a degree or finer; a row, a paragraph or a line of a list that names a protected species and a
/// station or wetland together; a page or a narrowed file about a wetland that names the species at all; areas it is told of
/// whose difference leaves 1 to 4 surveyed wetlands.
/// </summary>
internal sealed partial class Leaks
{
    /// <summary>The fewest wetlands that results of a protected species may rest on.</summary>
    public const int Fewest = 5;

    /// <summary>Letters between the two numbers of a place at most.</summary>
    private const int Beside = 60;

    /// <summary>Less than half a thousandth of a degree either way, and what rounding adds.</summary>
    private const double Near = 0.00051;

    private const string Blocks = "title, meta, h1, h2, h3, h4, p, li, dt, dd, tr, caption, figcaption, summary, option, svg title, svg desc, svg text, [aria-label], [data-label], [data-chart]";

    private readonly IReadOnlyList<SecretStation> _stations;
    private readonly Regex _species, _places;

    public Leaks(IEnumerable<string> species, IReadOnlyList<SecretStation> stations)
    {
        _stations = stations;
        _species = new Regex(string.Join('|', species.Select(Regex.Escape)), RegexOptions.IgnoreCase | RegexOptions.CultureInvariant);
        var places = stations.SelectMany(station => new[] { station.Id, station.Name, station.Wetland, station.WetlandName }).Where(name => name.Length > 0).Distinct().OrderByDescending(name => name.Length);
        _places = new Regex($@"(?<!\w)(?:{string.Join('|', places.Select(Regex.Escape))})(?!\w)", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant);
    }

    public bool Names(string text) => _species.IsMatch(text);

    /// <summary>Everything wrong with one answer, in words.</summary>
    public IEnumerable<string> In(Found found) => Coordinates(found).Concat(Ties(found)).Select(leak => $"{found.Address}: {leak}");

    private IEnumerable<string> Coordinates(Found found)
    {
        var numbers = Fine().Matches(found.Text).Select(match => (match.Index, Value: double.Parse(match.Value, CultureInfo.InvariantCulture))).ToList();
        var latitudes = _stations.ToLookup(station => Whole(station.Latitude));
        for (int place = 0; place < numbers.Count; place++)
        {
            var (index, value) = numbers[place];
            foreach (var station in new[] { -1, 0, 1 }.SelectMany(step => latitudes[Whole(value) + step]).Where(station => Math.Abs(station.Latitude - value) < Near))
            {
                bool beside = numbers.Skip(Math.Max(0, place - 1)).Take(3).Any(other => Math.Abs(other.Index - index) <= Beside && Math.Abs(other.Value - station.Longitude) < Near);
                if (beside)
                    yield return $"the place of {station.Id}";
            }
        }
    }

    private static int Whole(double degrees) => (int)Math.Round(degrees * 1000);

    private IEnumerable<string> Ties(Found found)
    {
        if (!Names(found.Text))
            return [];
        if (IsOfAWetland(found))
            return ["named in what is about a wetland"];
        if (found.Type is "text/calendar" or "application/xml" or "application/atom+xml" or "text/plain")
            return ["named for those who cannot ask"];
        var parts = found.IsPage
            ? found.Page.QuerySelectorAll(Blocks).Select(block => WebUtility.HtmlDecode(block.OuterHtml))
            : found.Text.Split('\n');
        return parts.Where(Names).Select(part => _places.Match(part)).Where(match => match.Success).Select(match => $"named beside {match.Value}");
    }

    private static bool IsOfAWetland(Found found) => Uri.TryCreate(new Uri("http://here"), found.Address, out var address)
        && (address.AbsolutePath.Contains("/w/", StringComparison.Ordinal) || address.Query.Contains("wetland=", StringComparison.Ordinal)
            || OfWetlands().IsMatch(address.AbsolutePath));

    /// <summary>
    /// Areas that are told of and leave too few wetlands: one alone, or less any told areas inside it. Each wetland is counted
    /// once, wherever its stations lie.
    /// </summary>
    /// <param name="told">The areas told of.</param>
    /// <param name="surveyed">Ids of the stations with a survey.</param>
    public IEnumerable<string> Differences(IReadOnlyCollection<WatershedCode> told, IReadOnlySet<string> surveyed)
    {
        var stations = _stations.Where(station => surveyed.Contains(station.Id)).ToList();
        foreach (var outer in told)
        {
            var inside = told.Where(area => area != outer && area.IsWithin(outer)).ToList();
            for (int set = 0; set < 1 << inside.Count; set++)
            {
                var less = inside.Where((_, place) => (set >> place & 1) != 0).ToList();
                int left = stations.Where(station => station.Area.IsWithin(outer) && !less.Exists(area => station.Area.IsWithin(area))).Select(station => station.Wetland).Distinct().Count();
                if (left is > 0 and < Fewest)
                    yield return $"{outer} less {string.Join(", ", less)} leaves {left} wetlands";
            }
        }
    }

    /// <summary>Every area that a table says something of the protected species in: rows that name it, by their code.</summary>
    public IEnumerable<WatershedCode> Told(IEnumerable<Found> answers) =>
        answers.Where(found => found.Type == "text/csv" && Names(found.Text)).SelectMany(found =>
        {
            string[] lines = found.Text.Split('\n');
            int column = Array.FindIndex(lines[0].TrimEnd('\r').Split(','), name => name == "watershed_code");
            return column < 0 ? [] : lines.Skip(1).Where(Names).Select(row => WatershedCode.Parse(row.Split(',')[column])).Where(code => code.IsValid).Select(code => code.Value);
        }).Distinct();

    [GeneratedRegex(@"-?\d+\.\d{3,}")]
    private static partial Regex Fine();

    [GeneratedRegex(@"/downloads/(gazetteer|wetlands|wetland_seasons|wetland_calls|silence|silence_tally|surveys)\.")]
    private static partial Regex OfWetlands();
}
