using System.Globalization;
using System.Text;
using Indicators.Monitoring;

namespace Indicators.Web.Tests.Leaking;

/// <summary>The demo's own files, read here anew and by nobody's reader: what the programme knows and nobody else may.</summary>
internal sealed class SeedFolder
{
    public SeedFolder(string folder)
    {
        Stations = [.. Rows(Path.Combine(folder, "stations.csv")).Select(row => new SecretStation(
            row["station_id"], row["name"], row["wetland_id"], row["wetland_name"], WatershedCode.Parse(row["watershed_code"]).Value,
            double.Parse(row["latitude"], CultureInfo.InvariantCulture), double.Parse(row["longitude"], CultureInfo.InvariantCulture)))];
        Watersheds = [.. Rows(Path.Combine(folder, "watersheds.csv")).Select(row => row["watershed_code"])];
        Species = [.. Rows(Path.Combine(folder, "species.csv")).Select(row => row["species_id"])];
        Surveyed = Rows(Path.Combine(folder, "surveys.csv")).Select(row => row["station_id"]).ToHashSet();
    }

    public IReadOnlyList<SecretStation> Stations { get; }

    public IReadOnlyList<string> Watersheds { get; }

    public IReadOnlyList<string> Species { get; }

    public IReadOnlySet<string> Surveyed { get; }

    private static IEnumerable<Dictionary<string, string>> Rows(string file)
    {
        var lines = File.ReadLines(file).Select(Cells).ToList();
        return lines.Skip(1).Select(cells => lines[0].Zip(cells).ToDictionary(pair => pair.First, pair => pair.Second));
    }

    // RFC 4180, without line breaks inside quotes: the demo has none.
    private static List<string> Cells(string line)
    {
        var cells = new List<string>();
        var cell = new StringBuilder();
        bool quoted = false;
        foreach (char letter in line)
        {
            if (letter == '"')
                quoted = !quoted;
            else if (letter == ',' && !quoted)
            {
                cells.Add(cell.ToString());
                cell.Clear();
            }
            else
                cell.Append(letter);
        }
        return [.. cells, cell.ToString()];
    }
}
