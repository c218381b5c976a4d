using Indicators.Statistics.Occupancy;
using Indicators.Statistics.Tests.Reference;

namespace Indicators.Statistics.Tests.Occupancy;

/// <summary>Histories from the committed tables and from invented worlds.</summary>
internal static class OccupancyTables
{
    /// <summary>The simulated case of a reference folder, with the covariates its script fitted.</summary>
    public static (DetectionHistories Histories, TransitionGroups Groups) Case(string folder, string name)
    {
        var sites = ReferenceTable.Read($"{folder}/sites.csv").Rows.Where(r => r["case"] == name).ToArray();
        var rows = ReferenceTable.Read($"{folder}/visits.csv").Rows.Where(r => r["case"] == name).ToArray();
        string[] x = name switch { "covariates" => ["x1", "x2"], "shared" => ["x1"], _ => [] };
        bool w = name is "covariates" or "by_interval";
        Visit[] visits = [.. rows.Select(r => new Visit((int)r.Number("site"), (int)r.Number("season"), r["detected"] == "1", (int)r.Number("slot")))];
        int seasons = visits.Max(v => v.Season) + 1;
        return (
            new DetectionHistories(
                sites.Length, seasons, visits, visits.Max(v => v.Slot) + 1,
                [.. rows.SelectMany(r => x.Select(r.Number))],
                w ? [.. sites.Select(r => r.Number("w1"))] : [],
                [.. sites.Select(r => r.Number("weight"))]),
            name == "by_interval" ? TransitionGroups.ByInterval(seasons) : TransitionGroups.Constant(seasons));
    }

    public static OccupancyFit Fit(DetectionHistories histories, TransitionGroups groups) =>
        histories.Seasons == 1 ? SingleSeasonOccupancy.Fit(histories) : MultiSeasonOccupancy.Fit(histories, groups);

    public static int PlaceOf(OccupancyLayout layout, string kind, int index) => index + kind switch
    {
        "initial" => 0,
        "initial_effect" => 1,
        "colonisation" => layout.FirstColonisation,
        "extinction" => layout.FirstExtinction,
        "detection" => layout.FirstDetection,
        "detection_effect" => layout.FirstDetectionEffect,
        _ => throw new InvalidOperationException($"no parameter is called {kind}"),
    };
}
