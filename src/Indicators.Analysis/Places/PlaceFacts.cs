using System.Globalization;
using System.Text;
using Indicators.Analysis.Cells;
using Indicators.Analysis.Results;
using Indicators.Monitoring;

namespace Indicators.Analysis.Places;

/// <summary>Makes of a programme's places what an edition may tell: names, short addresses, listening, calls of species that are not protected.</summary>
internal static class PlaceFacts
{
    public static ProgrammePlaces Of(CellTable cells, ProgrammeData data, IReadOnlySet<WatershedCode> areas)
    {
        var names = data.Wetlands.ToDictionary(wetland => wetland.Id, wetland => wetland.Name);
        var secret = NamesOfProtected(cells.Species);
        var listened = Enumerable.Range(0, cells.Stations.Count)
            .Where(station => cells.Visits.First(station + 1) > cells.Visits.First(station))
            .GroupBy(station => cells.Stations[station].Wetland).OrderBy(group => group.Key).ToList();
        var shorts = Shorts(listened.Select(group => group.Key));
        return new ProgrammePlaces
        {
            Wetlands =
            [
                .. listened.Select(group => Place(cells, group.Key, [.. group], shorts[group.Key], Told(names.GetValueOrDefault(group.Key))))
                    .OrderBy(place => place.Slug, StringComparer.Ordinal),
            ],
            Seasons = [.. listened.SelectMany(group => Seasons(cells, group.Key, [.. group]))],
            Calls = listened.SelectMany(group => Calls(cells, group.Key, [.. group])),
            Gazetteer = Gazetteer(),
        };

        string? Told(string? name) => NameToTell(name, secret);

        IReadOnlyList<GazetteerEntry> Gazetteer()
        {
            var entries = new List<GazetteerEntry>();
            foreach (var watershed in data.Watersheds.Where(each => areas.Contains(each.Code)))
                Add(watershed.Name, GazetteerKind.Watershed, watershed.Code, null);
            foreach (var group in cells.Stations.GroupBy(station => station.Wetland))
                Add(names.GetValueOrDefault(group.Key), GazetteerKind.Wetland, Enclosing([.. group.Select(station => station.Watershed)]), shorts.GetValueOrDefault(group.Key));
            foreach (var station in cells.Stations)
                Add(station.Name, GazetteerKind.Station, station.Watershed, shorts.GetValueOrDefault(station.Wetland));
            return
            [
                .. entries.Distinct().OrderBy(entry => entry.Name, StringComparer.Ordinal).ThenBy(entry => entry.Kind).ThenBy(entry => entry.Area)
                    .ThenBy(entry => entry.Wetland, StringComparer.Ordinal),
            ];

            void Add(string? name, GazetteerKind kind, WatershedCode? where, string? wetland)
            {
                // Where nobody listened yet there is no result, so the nearest watershed around it stands in.
                var analysed = where?.SelfAndAncestors().Where(areas.Contains).Select(code => (WatershedCode?)code).FirstOrDefault();
                if (Told(name) is { } told && analysed is { } area)
                    entries.Add(new GazetteerEntry(told, kind, area, wetland));
            }
        }
    }

    private static WetlandPlace Place(CellTable cells, Id<Wetland> wetland, int[] stations, string shortName, string? name)
    {
        var years = Visits(cells, stations).Select(visit => cells.Visits.Date(visit).Year).ToList();
        var codes = stations.Select(station => cells.Stations[station].Watershed).ToList();
        return new WetlandPlace(wetland, shortName, name, Enclosing(codes) ?? codes[0], stations.Length, years.Count, years.Min(), years.Max());
    }

    private static IEnumerable<WetlandSeason> Seasons(CellTable cells, Id<Wetland> wetland, int[] stations) =>
        Visits(cells, stations).CountBy(visit => cells.Visits.Date(visit).Year).OrderBy(year => year.Key)
            .Select(year => new WetlandSeason(wetland, year.Key, year.Value));

    private static IEnumerable<WetlandCalls> Calls(CellTable cells, Id<Wetland> wetland, int[] stations)
    {
        for (int species = 0; species < cells.Species.Count; species++)
        {
            var one = cells[species];
            if (cells.Species[species].Protected || !stations.Any(one.EverHeard))
                continue;
            for (int year = 0; year < cells.Years; year++)
            {
                int visits = 0, heard = 0, calls = 0, highest = 0;
                foreach (int station in stations)
                {
                    visits += one.Effort(station, year);
                    heard += one.Heard(station, year);
                    calls += one.Calls(station, year);
                    for (int level = 3; level > highest; level--)
                        if (one.Response(station, year, Level(level)) > 0) highest = level;
                }
                if (visits > 0)
                    yield return new WetlandCalls(wetland, cells.Species[species].Id, cells.FirstYear + year, visits, heard, (double)calls / visits, highest);
            }
        }
    }

    private static (double, double, double) Level(int level) => (level == 1 ? 1 : 0, level == 2 ? 1 : 0, level == 3 ? 1 : 0);

    private static IEnumerable<int> Visits(CellTable cells, IEnumerable<int> stations) =>
        stations.SelectMany(station => Enumerable.Range(cells.Visits.First(station), cells.Visits.First(station + 1) - cells.Visits.First(station)));

    /// <summary>The smallest watershed that holds all of these, or null.</summary>
    private static WatershedCode? Enclosing(List<WatershedCode> codes) =>
        codes[0].SelfAndAncestors().Where(outer => codes.All(code => code.IsWithin(outer))).Select(code => (WatershedCode?)code).FirstOrDefault();

    /// <summary>Ids as they stand in addresses; the second of two alike gets a number, in the order of the ids.</summary>
    private static Dictionary<Id<Wetland>, string> Shorts(IEnumerable<Id<Wetland>> wetlands)
    {
        var shorts = new Dictionary<Id<Wetland>, string>();
        var taken = new HashSet<string>(StringComparer.Ordinal);
        foreach (var wetland in wetlands)
        {
            string slug = Slug(wetland.ToString()), unique = slug;
            for (int number = 2; !taken.Add(unique); number++)
                unique = string.Create(CultureInfo.InvariantCulture, $"{slug}-{number}");
            shorts[wetland] = unique;
        }
        return shorts;
    }

    private static string Slug(string id)
    {
        var slug = new StringBuilder();
        foreach (char letter in id.Normalize(NormalizationForm.FormD))
        {
            if (char.IsAsciiLetterOrDigit(letter))
                slug.Append(char.ToLowerInvariant(letter));
            else if (slug is [.., not '-'] && CharUnicodeInfo.GetUnicodeCategory(letter) != UnicodeCategory.NonSpacingMark)
                slug.Append('-');
        }
        string text = slug.ToString().TrimEnd('-');
        return text.Length == 0 ? "wetland" : text;
    }

    /// <summary>Every name of the protected species.</summary>
    public static IReadOnlyList<string> NamesOfProtected(IEnumerable<Species> all) =>
        [.. all.Where(species => species.Protected).SelectMany(species => species.OtherNames.All.Select(name => name.Value).Append(species.CommonName).Append(species.ScientificName))];

    /// <summary>A place's name; null for one made of a protected species' name, which would tell where it lives, and for none.</summary>
    public static string? NameToTell(string? name, IReadOnlyList<string> secret) =>
        string.IsNullOrWhiteSpace(name) || secret.Any(each => name.Contains(each, StringComparison.OrdinalIgnoreCase)) ? null : name.Trim();
}
