using System.Globalization;

namespace Indicators.Benchmarks.Coverage;

/// <summary>Prints the study's tables in Markdown, as they stand in docs/coverage.md.</summary>
internal static class CoverageTables
{
    private static readonly double[] Shocks = [0, 0.1, 0.3];

    public static void Write(string slopes, string engine, TextWriter to)
    {
        var rows = StudyRow.Read(slopes);
        Base(rows, to);
        Factors(rows, to);
        Others(rows, to);
        Engine(StudyRow.Read(engine), to);
        Words(rows, to);
    }

    private static void Base(IReadOnlyList<StudyRow> rows, TextWriter to)
    {
        var known = rows.Where(r => r["factor"] is "base" or "five seasons").ToList();
        to.WriteLine("| wetlands | seasons | observed, springs 0 | 0.1 | 0.3 | underlying, springs 0 | 0.1 | 0.3 | width observed | width underlying | without a range |");
        to.WriteLine("|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|");
        foreach (var group in known.GroupBy(r => (W: r.Whole("wetlands"), S: r.Whole("seasons"))).OrderBy(g => g.Key))
        {
            string Held(string interval, string column, double shock) => Cell(group, interval, shock) is { } row ? Three(row[column]) : "";
            string all = string.Join(" | ", Shocks.Select(s => Held("observed", "held_seasons", s)).Concat(Shocks.Select(s => Held("underlying", "held_beneath", s))));
            to.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"| {group.Key.W} | {group.Key.S} | {all} | {Cell(group, "observed", 0.1)?["width"]} | {Cell(group, "underlying", 0.1)?["width"]} | {1 - Cell(group, "underlying", 0.1)?.Number("given"):0.000} |"));
        }
        to.WriteLine();

        static StudyRow? Cell(IEnumerable<StudyRow> group, string interval, double shock) =>
            group.FirstOrDefault(r => r["interval"] == interval && r.Number("shock_sd") == shock && r["held_seasons"].Length > 0);
    }

    private static void Factors(IReadOnlyList<StudyRow> rows, TextWriter to)
    {
        to.WriteLine("| difficulty | wetlands | seasons | springs | silent cells | at ceiling | true slope | bias, these seasons | bias, beneath | observed | underlying | two-way |");
        to.WriteLine("|---|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|");
        string[] bases = [.. rows.Where(r => r["factor"] == "serial 0.3").Select(Place).Distinct()];
        var chosen = rows.Where(r => r["factor"] == "base" && bases.Contains(Place(r)))
            .Concat(rows.Where(r => r["factor"] is not ("base" or "five seasons") && !r["factor"].StartsWith("word", StringComparison.Ordinal)));
        foreach (var cell in chosen.GroupBy(r => r["cell"]))
        {
            var one = cell.First();
            string Held(string interval, string column) => Three(cell.First(r => r["interval"] == interval)[column]);
            to.WriteLine(
                $"| {(one["factor"] == "base" ? "none" : one["factor"])} | {one["wetlands"]} | {one["seasons"]} | {one["shock_sd"]} | {Two(one["zero_cells"])} | {Two(one["at_ceiling"])} | {Two(one["beneath_truth"])} | {Two(one["slope_seasons_bias"])} | {Two(one["slope_beneath_bias"])} | {Held("observed", "held_seasons")} | {Held("underlying", "held_beneath")} | {Held("two-way t", "held_beneath")} |");
        }
        to.WriteLine();

        static string Place(StudyRow row) => $"{row["wetlands"]} {row["seasons"]} {row["shock_sd"]}";
    }

    private static void Others(IReadOnlyList<StudyRow> rows, TextWriter to)
    {
        int[] wetlands = [5, 8, 12, 20, 60];
        to.WriteLine($"| range | for | {string.Join(" | ", wetlands.Select(w => $"{w} wetlands"))} | least | most |");
        to.WriteLine("|---|---|--:|--:|--:|--:|--:|--:|--:|");
        foreach (string interval in rows.Select(r => r["interval"]).Distinct())
        {
            bool beneath = interval.StartsWith("underlying", StringComparison.Ordinal) || interval == "two-way t";
            string column = beneath ? "held_beneath" : "held_seasons";
            var mine = rows.Where(r => r["factor"] == "base" && r["interval"] == interval && r.Whole("seasons") >= 8 && r[column].Length > 0).ToList();
            to.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"| {interval} | {(beneath ? "beneath" : "these seasons")} | {string.Join(" | ", wetlands.Select(w => string.Create(CultureInfo.InvariantCulture, $"{mine.Where(r => r.Whole("wetlands") == w).Average(r => r.Number(column)):0.000}")))} | {mine.Min(r => r.Number(column)):0.000} | {mine.Max(r => r.Number(column)):0.000} |"));
        }
        to.WriteLine();
    }

    /// <summary>Cells in which surveys become warmer: what is not adjusted for that is beside the truth by design.</summary>
    internal static bool IsWarming(string cell) => cell.EndsWith("warming", StringComparison.Ordinal);

    private static void Engine(IReadOnlyList<StudyRow> rows, TextWriter to)
    {
        string[] what = ["index latest season", "index after the baseline", "index in the baseline", "group index latest season", "group index after the baseline", "condition score latest season", "condition score latest season (slopes known without end)", "change of the score since the season before", "change of the score since the season before (calling alone)", "change of the score since the first season"];
        Held(
            rows, what, to, false,
            ("bias of the score", cell => Two(cell.First(r => r["what"] == "condition score latest season")["bias"])),
            ("bias of the direction part", cell => Two(cell.First(r => r["what"] == "direction part by itself")["bias"])));
        Held(
            rows, ["group index after the baseline", "group of three latest season", "group of three after the baseline", "group of two latest season", "group of two after the baseline"], to, false,
            ("without a range", cell => Without(cell.Where(r => r["what"] is "group index after the baseline" or "group of three after the baseline" or "group of two after the baseline"))));
        string[] slopes = ["slope over these seasons", "slope beneath the springs", "adjusted slope over these seasons", "adjusted slope beneath the springs", "slope of heard over these seasons", "slope of heard beneath the springs", "slope of full chorus over these seasons", "slope of full chorus beneath the springs", "mean slope of all beneath the springs", "mean slope of group of three beneath the springs", "mean slope of group of two beneath the springs", "effect of temperature"];
        Held(rows, slopes, to, true, ("full chorus without a range", cell => Without(cell.Where(r => r["what"] == "slope of full chorus beneath the springs"))));
    }

    /// <summary>How often ranges held, a row a cell, and what else is said of it.</summary>
    private static void Held(
        IReadOnlyList<StudyRow> rows, string[] what, TextWriter to, bool warming, params (string Heading, Func<IGrouping<string, StudyRow>, string> Of)[] more)
    {
        string[] columns = [.. what, .. more.Select(m => m.Heading)];
        to.WriteLine($"| programmes | {string.Join(" | ", columns)} |");
        to.WriteLine($"|---|{string.Concat(columns.Select(_ => "--:|"))}");
        foreach (var cell in rows.GroupBy(r => r["cell"]).Where(cell => warming || !IsWarming(cell.Key)))
        {
            var held = what.Select(w => Three(cell.FirstOrDefault(r => r["what"] == w)?["held_seasons"] ?? ""));
            to.WriteLine($"| {cell.Key} | {string.Join(" | ", held.Concat(more.Select(m => m.Of(cell))))} |");
        }
        to.WriteLine();
    }

    /// <summary>The largest share of series without a range.</summary>
    private static string Without(IEnumerable<StudyRow> rows) =>
        string.Create(CultureInfo.InvariantCulture, $"{1 - rows.Min(r => r.Number("given")):0.000}");

    private static void Words(IReadOnlyList<StudyRow> rows, TextWriter to)
    {
        to.WriteLine("| wetlands | seasons | springs | true slope | steady | down | up | range held |");
        to.WriteLine("|--:|--:|--:|--:|--:|--:|--:|--:|");
        foreach (var row in rows.Where(r => r["factor"].StartsWith("word", StringComparison.Ordinal) && r["interval"] == "underlying"))
        {
            to.WriteLine($"| {row["wetlands"]} | {row["seasons"]} | {row["shock_sd"]} | {Two(row["beneath_truth"])} | {Three(row["said_steady"])} | {Three(row["said_down"])} | {Three(row["said_up"])} | {Three(row["held_beneath"])} |");
        }
        to.WriteLine();
    }

    private static string Three(string number) => number.Length == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $"{double.Parse(number, CultureInfo.InvariantCulture):0.000}");

    private static string Two(string number) => number.Length == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $"{double.Parse(number, CultureInfo.InvariantCulture):0.00}");
}
