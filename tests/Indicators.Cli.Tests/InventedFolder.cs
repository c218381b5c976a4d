using System.Globalization;
using System.Text;

namespace Indicators.Cli.Tests;

/// <summary>
/// An invented programme as an import folder: two 12-digit watersheds, eleven wetlands in one and three in the other, seven seasons, two visits a
/// season, three species, one of them protected and heard at one wetland only. Call levels come from fixed arithmetic.
/// </summary>
internal static class InventedFolder
{
    private const int Wetlands = 14;
    private const int FirstSeason = 2018;
    private const int Seasons = 7;
    private static readonly string[] SpeciesIds = ["wood", "peeper", "hidden"];

    internal static void Write(string folder)
    {
        Directory.CreateDirectory(folder);
        Put("watersheds.csv", "watershed_code,name", ["99010101,Invented Lakes", "990101010101,Upper Invented", "990101010102,Lower Invented"]);
        Put("stations.csv", "station_id,wetland_id,watershed_code,latitude,longitude", Enumerable.Range(0, Wetlands).Select(w =>
            Line($"T{w:00},W{w:00},{(w % 5 == 0 ? "990101010102" : "990101010101")},{45 + w * 0.01:0.00},{-90 - w * 0.01:0.00}")));
        Put(
            "species.csv",
            "species_id,scientific_name,common_name,window_start,window_end,sensitivity,sensitive_location",
            [
                "wood,Lithobates sylvaticus,Wood frog,03-15,05-31,7,false",
                "peeper,Pseudacris crucifer,Spring peeper,03-15,06-30,5,false",
                "hidden,Acris blanchardi,Blanchard's cricket frog,03-15,07-31,8,true",
            ]);
        var surveys = new List<string>();
        var calls = new List<string>();
        for (int season = 0; season < Seasons; season++)
        {
            for (int w = 0; w < Wetlands; w++)
            {
                for (int visit = 0; visit < 2; visit++)
                {
                    string id = Line($"S{FirstSeason + season}-{w:00}-{visit}");
                    surveys.Add(Line($"{id},T{w:00},{FirstSeason + season}-04-{10 + 7 * visit:00},21:{10 + w:00},5,Invented Person,{8.5 + visit:0.0},{(w + season) % 4},1,0,\"a note, with a comma\""));
                    for (int k = 0; k < SpeciesIds.Length; k++)
                    {
                        int level = Level(k, w, season, visit);
                        if (level > 0)
                            calls.Add(Line($"{id},{SpeciesIds[k]},{level}"));
                    }
                }
            }
        }
        Put("surveys.csv", "survey_id,station_id,date,start_time,minutes,observer,air_temp_c,wind_beaufort,sky_code,noise,notes", surveys);
        Put("calls.csv", "survey_id,species_id,call_index", calls);

        void Put(string file, string heading, IEnumerable<string> lines) =>
            File.WriteAllText(Path.Combine(folder, file), string.Join('\n', lines.Prepend(heading)) + "\n", new UTF8Encoding(false));
    }

    /// <summary>The wood frog is heard less and less, the peeper more and more, the hidden one at five wetlands.</summary>
    private static int Level(int species, int wetland, int season, int visit)
    {
        int mixed = (wetland * 31 + season * 17 + visit * 13 + species * 7 + wetland * season * 5 + season * season * 3) % 10;
        return species switch
        {
            0 => mixed + season < 8 ? mixed % 3 + 1 : 0,
            1 => mixed < 3 + season / 2 ? mixed % 3 + 1 : 0,
            _ => wetland is >= 3 and < 8 ? 1 : 0,
        };
    }

    internal static void Replace(string folder, string file, string old, string young)
    {
        string path = Path.Combine(folder, file);
        string text = File.ReadAllText(path);
        if (!text.Contains(old, StringComparison.Ordinal))
            throw new InvalidOperationException($"{file} has no '{old}'.");
        File.WriteAllText(path, text.Replace(old, young, StringComparison.Ordinal));
    }

    private static string Line(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
