using System.Globalization;

namespace Indicators.SeedDemo;

/// <summary>The true slopes of the demo as the Markdown table of its README.</summary>
public static class TruthTable
{
    /// <summary>One row a species, one column an area: percent a season beneath good and bad springs, and in the demo's own.</summary>
    public static IEnumerable<string> Lines()
    {
        var areas = District.Larger.Where(area => area.Code.Length >= 8).Concat(District.Smallest.Select(place => (place.Code, place.Name))).ToList();
        var drawn = new Surveys(new Programme(Scenario.CommittedSeed)).SeasonEffects;
        yield return $"| species | {string.Join(" | ", areas.Select(area => area.Name))} | {areas[0].Name}, seed {Scenario.CommittedSeed} |";
        yield return $"|---|{string.Concat(Enumerable.Repeat("--:|", areas.Count + 1))}";
        for (int k = 0; k < DemoSpecies.All.Count; k++)
        {
            var species = DemoSpecies.All[k];
            var percents = areas.Select(area => Truth.PercentPerSeason(species, area.Code, [])).Append(Truth.PercentPerSeason(species, District.Code, drawn[k]));
            yield return $"| {species.CommonName} | {string.Join(" | ", percents.Select(Shown))} |";
        }
    }

    private static string Shown(double percent) => percent.ToString("+0.00;-0.00;0.00", CultureInfo.InvariantCulture);
}
