namespace Indicators.Benchmarks.Coverage;

/// <summary>The cells of the study of slopes: a base cross, then one factor at a time about base cells.</summary>
internal static class SlopeGrid
{
    private static readonly int[] Wetlands = [5, 8, 12, 20, 60], Seasons = [6, 8, 12, 15, 25];
    private static readonly double[] Shocks = [0, 0.1, 0.3];

    /// <summary>The base cells that factors are varied about.</summary>
    private static readonly WorldShape[] Bases =
    [
        new() { Wetlands = 12, Seasons = 8, ShockSd = 0.1 },
        new() { Wetlands = 8, Seasons = 15, ShockSd = 0.1 },
        new() { Wetlands = 20, Seasons = 15, ShockSd = 0.1 },
        new() { Wetlands = 20, Seasons = 12, ShockSd = 0.3 },
        new() { Wetlands = 60, Seasons = 8, ShockSd = 0.1 },
    ];

    private static readonly (string Name, Func<WorldShape, WorldShape> Change)[] Factors =
    [
        ("serial 0.3", s => s with { Serial = 0.3 }),
        ("serial 0.5", s => s with { Serial = 0.5 }),
        ("sparse", s => s with { Level = 0.2 }),
        ("very sparse", s => s with { Level = 0.08 }),
        ("loud", s => s with { Level = 1.2, LevelSd = 0.3 }),
        ("over-dispersed 0.5", s => s with { CellSd = 0.5 }),
        ("over-dispersed 1", s => s with { CellSd = 1, Level = 0.3 }),
        ("uneven wetlands", s => s with { LevelSd = 1.2, Level = 0.3 }),
        ("wetlands alike", s => s with { SlopeSd = 0, LevelSd = 0.2 }),
        ("slopes apart", s => s with { SlopeSd = 0.08 }),
        ("half missing", s => s with { Missing = 0.5 }),
        ("half join late", s => s with { Late = 0.5 }),
        ("springs of their own", s => s with { SpeciesShare = 0 }),
        ("springs in common", s => s with { SpeciesShare = 0.9 }),
        ("one species", s => s with { Species = 1 }),
        ("twelve species", s => s with { Species = 12 }),
        ("some at ceiling", s => s with { Scale = CallScale.Ceiling, Level = 1.5 }),
        ("most at ceiling", s => s with { Scale = CallScale.Ceiling, Level = 5 }),
        ("no change", s => s with { Slope = 0 }),
    ];

    /// <summary>Every cell with its name.</summary>
    public static IEnumerable<(string Cell, string Factor, WorldShape Shape)> Cells()
    {
        // Short series first, so that a run cut short has whole slices.
        foreach (int seasons in Seasons)
        {
            foreach (int wetlands in Wetlands)
            {
                foreach (double shock in Shocks)
                {
                    var shape = new WorldShape { Wetlands = wetlands, Seasons = seasons, ShockSd = shock };
                    yield return (Name(shape, "base"), "base", shape);
                }
            }
        }
        foreach (var (factor, change) in Factors)
        {
            foreach (var shape in Bases)
                yield return (Name(shape, factor), factor, change(shape));
        }
        // The fewest seasons that carry a range: a window of five.
        foreach (int wetlands in Wetlands)
        {
            foreach (double shock in Shocks)
            {
                var shape = new WorldShape { Wetlands = wetlands, Seasons = 5, ShockSd = shock };
                yield return (Name(shape, "five seasons"), "five seasons", shape);
            }
        }
        // Slopes exactly at the practical change, and none at all: how often is steady said?
        foreach (var (wetlands, seasons) in new[] { (20, 25), (60, 15), (60, 25) })
        {
            foreach (double shock in Shocks.Take(2))
            {
                foreach (double percent in new[] { -2, 0, 2 })
                {
                    var shape = new WorldShape { Wetlands = wetlands, Seasons = seasons, ShockSd = shock, SlopeSd = 0.01, Slope = Math.Log(1 + percent / 100) };
                    string factor = FormattableString.Invariant($"word at {percent}");
                    yield return (Name(shape, factor), factor, shape);
                }
            }
        }
    }

    private static string Name(WorldShape s, string factor) =>
        FormattableString.Invariant($"{s.Wetlands}w {s.Seasons}s {s.ShockSd} {factor}");
}
