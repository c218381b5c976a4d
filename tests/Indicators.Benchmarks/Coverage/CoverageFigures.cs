using System.Globalization;
using System.Text;

namespace Indicators.Benchmarks.Coverage;

/// <summary>Draws the study's tables: how often a range of 95 % held, beside the band from 93 to 97 %.</summary>
internal static class CoverageFigures
{
    private const double Low = 0.80, Aim = 0.95, BandLow = 0.93, BandHigh = 0.97;
    private const string BandColour = "#dfeee4", AimColour = "#7a9a86", GridColour = "#cccccc";
    private static readonly string[] Colours = ["#8a3b12", "#c07a00", "#4a7a2a", "#1f6f8b", "#5b3f8c"];

    /// <summary>Reads both tables and writes four pictures, those of the readers' method text in each of its languages.</summary>
    public static void Write(string slopes, string engine, string folder)
    {
        var rows = StudyRow.Read(slopes);
        Directory.CreateDirectory(folder);
        foreach (var words in new[] { FigureWords.English, FigureWords.Spanish })
        {
            Save($"coverage-grid{words.Tag}.svg", Grid(rows, words));
            Save($"coverage-factors{words.Tag}.svg", Factors(rows, words));
        }
        Save("coverage-others.svg", Others(rows));
        Save("coverage-engine.svg", Engine(StudyRow.Read(engine)));

        void Save(string name, Drawing drawing) => File.WriteAllText(Path.Combine(folder, name), drawing.ToString(), new UTF8Encoding(false));
    }

    /// <summary>Coverage against seasons: a column a strength of springs, a line a number of wetlands.</summary>
    private static Drawing Grid(IReadOnlyList<StudyRow> rows, FigureWords words)
    {
        const double Left = 60, Top = 62, Width = 215, Height = 165, Across = 240, Down = 225;
        var drawing = new Drawing(790, 530, "How often the two ranges held the slope they are for, by wetlands, seasons and shared springs", words);
        double[] shocks = [0, 0.1, 0.3];
        string[] named = ["even springs", "mild springs, sd 0.1", "strong springs, sd 0.3"];
        (string Interval, string Column, string Title)[] kinds =
        [
            ("observed", "held_seasons", "range over just these seasons"), ("underlying", "held_beneath", "range beneath good and bad springs"),
        ];
        int[] wetlands = [.. rows.Select(r => r.Whole("wetlands")).Distinct().Order()], seasons = [.. rows.Where(Base).Select(r => r.Whole("seasons")).Distinct().Order()];
        Legend(drawing, 60, 18, [.. wetlands.Select(w => $"{w} wetlands")]);
        for (int k = 0; k < kinds.Length; k++)
        {
            for (int c = 0; c < shocks.Length; c++)
            {
                double x = Left + c * Across, y = Top + k * Down;
                var (interval, column, title) = kinds[k];
                drawing.Text(x, y - 8, $"{named[c]}", bold: true);
                if (c == 0)
                    drawing.Text(x, y - 24, title, size: 13, bold: true);
                Frame(drawing, x, y, Width, Height, c == 0);
                double X(int s) => x + 12 + (Width - 24) * (s - seasons[0]) / (seasons[^1] - seasons[0]);
                foreach (int s in seasons)
                    drawing.Text(X(s), y + Height + 15, Whole(s), "middle", 11);
                if (k == 1)
                    drawing.Text(x + Width / 2, y + Height + 30, "seasons", "middle", 11);
                for (int w = 0; w < wetlands.Length; w++)
                {
                    var line = rows.Where(r => Base(r) && r["interval"] == interval && r.Whole("wetlands") == wetlands[w] && r.Number("shock_sd") == shocks[c] && r[column].Length > 0)
                        .OrderBy(r => r.Whole("seasons")).Select(r => (X(r.Whole("seasons")), Y(r.Number(column), y, Height))).ToList();
                    drawing.Path(line, Colours[w]);
                    foreach (var (px, py) in line)
                        drawing.Mark(px, py, w, Colours[w]);
                }
            }
        }
        return drawing;

        static bool Base(StudyRow row) => row["factor"] is "base" or "five seasons";
    }

    /// <summary>One factor at a time: a row a factor, a mark a base cell.</summary>
    private static Drawing Factors(IReadOnlyList<StudyRow> rows, FigureWords words)
    {
        string[] factors = [.. rows.Select(r => r["factor"]).Where(f => f is not ("base" or "five seasons") && !f.StartsWith("word", StringComparison.Ordinal)).Distinct()];
        var bases = rows.Where(r => r["factor"] == factors[0]).Select(r => (W: r.Whole("wetlands"), S: r.Whole("seasons"), Sd: r.Number("shock_sd"))).Distinct().ToList();
        const double Left = 165, Top = 88, Width = 270, Row = 21;
        double height = Row * (factors.Length + 1);
        var drawing = new Drawing(790, Top + height + 40, "How often the two ranges held, one difficulty at a time", words);
        Legend(drawing, 20, 18, [.. bases.Select(b => string.Create(CultureInfo.InvariantCulture, $"{b.W} wetlands, {b.S} seasons, {b.Sd}"))], 3);
        (string Interval, string Column, string Title)[] kinds =
        [
            ("observed", "held_seasons", "over just these seasons"), ("underlying", "held_beneath", "beneath good and bad springs"),
        ];
        for (int k = 0; k < kinds.Length; k++)
        {
            double x = Left + k * (Width + 60);
            drawing.Text(x, Top - 8, kinds[k].Title, bold: true);
            Across(drawing, x, Top, Width, height);
            for (int f = -1; f < factors.Length; f++)
            {
                double y = Top + Row * (f + 1.5);
                string factor = f < 0 ? "base" : factors[f];
                if (k == 0)
                    drawing.Text(Left - 8, y + 4, f < 0 ? "none of these" : factor, "end");
                for (int b = 0; b < bases.Count; b++)
                {
                    var row = rows.FirstOrDefault(r => r["factor"] == factor && r["interval"] == kinds[k].Interval
                        && r.Whole("wetlands") == bases[b].W && r.Whole("seasons") == bases[b].S && r.Number("shock_sd") == bases[b].Sd);
                    if (row is not null && row[kinds[k].Column].Length > 0)
                        drawing.Mark(XOf(row.Number(kinds[k].Column), x, Width), y + (b - 2) * 2, b, Colours[b]);
                }
            }
        }
        return drawing;
    }

    /// <summary>Other kinds of range beside the engine's, averaged over the base cells of a number of wetlands.</summary>
    private static Drawing Others(IReadOnlyList<StudyRow> rows)
    {
        string[] named = ["observed", "percentile", "BCa", "jackknife t", "sandwich CR1 t", "sandwich CR2 t", "sandwich CR2 Satterthwaite", "studentised bootstrap", "wild cluster bootstrap"];
        string[] beneath = [.. rows.Select(r => r["interval"]).Where(i => i.StartsWith("underlying", StringComparison.Ordinal) || i == "two-way t").Distinct()];
        int[] wetlands = [.. rows.Select(r => r.Whole("wetlands")).Distinct().Order()];
        const double Left = 210, Top = 62, Width = 540, Row = 22;
        int count = named.Length + beneath.Length + 2;
        var drawing = new Drawing(790, Top + Row * count + 40, "How often other kinds of range held");
        Legend(drawing, 20, 18, [.. wetlands.Select(w => $"{w} wetlands")]);
        Across(drawing, Left, Top, Width, Row * count);
        double y = Top + Row * 0.7;
        Group("the slope of just these seasons", named, "held_seasons");
        Group("the slope beneath the springs", beneath, "held_beneath");
        return drawing;

        void Group(string title, string[] intervals, string column)
        {
            drawing.Text(Left - 8, y + 4, title, "end", 12, bold: true);
            y += Row;
            foreach (string interval in intervals)
            {
                drawing.Text(Left - 8, y + 4, interval == "observed" ? "observed (the engine's)" : interval == "underlying" ? "underlying (the engine's)" : interval, "end");
                for (int w = 0; w < wetlands.Length; w++)
                {
                    double[] held = [.. rows.Where(r => r["factor"] == "base" && r["interval"] == interval && r.Whole("wetlands") == wetlands[w] && r.Whole("seasons") >= 8 && r[column].Length > 0).Select(r => r.Number(column))];
                    if (held.Length > 0)
                        drawing.Mark(XOf(held.Average(), Left, Width), y + (w - 2) * 2, w, Colours[w]);
                }
                y += Row;
            }
        }
    }

    /// <summary>Indices, the group index and the score through the whole engine.</summary>
    private static Drawing Engine(IReadOnlyList<StudyRow> rows)
    {
        string[] cells = [.. rows.Select(r => r["cell"]).Where(cell => !CoverageTables.IsWarming(cell)).Distinct()];
        string[] what = ["index latest season", "index after the baseline", "group index latest season", "group index after the baseline", "condition score latest season"];
        const double Left = 320, Top = 62, Width = 430, Row = 18;
        var drawing = new Drawing(790, Top + Row * (cells.Length + 1) + 40, "How often the ranges of indices and scores held");
        Legend(drawing, 20, 18, what, 3);
        Across(drawing, Left, Top, Width, Row * (cells.Length + 1));
        for (int c = 0; c < cells.Length; c++)
        {
            double y = Top + Row * (c + 1);
            drawing.Text(Left - 8, y + 4, cells[c].Replace("w ", " wetlands, ", StringComparison.Ordinal).Replace("s ", " seasons, ", StringComparison.Ordinal).Replace("wetland seasons,", "wetlands,", StringComparison.Ordinal), "end", 11);
            for (int i = 0; i < what.Length; i++)
            {
                var row = rows.FirstOrDefault(r => r["cell"] == cells[c] && r["what"] == what[i]);
                if (row is not null && row["held_seasons"].Length > 0)
                    drawing.Mark(XOf(row.Number("held_seasons"), Left, Width), y + (i - 2) * 1.5, i, Colours[i]);
            }
        }
        return drawing;
    }

    private static void Frame(Drawing drawing, double x, double y, double width, double height, bool labelled)
    {
        drawing.Band(x, Y(BandHigh, y, height), width, Y(BandLow, y, height) - Y(BandHigh, y, height), BandColour);
        foreach (double share in new[] { 0.80, 0.85, 0.90, 0.95, 1 })
        {
            drawing.Line(x, Y(share, y, height), x + width, Y(share, y, height), share == Aim ? AimColour : GridColour);
            if (labelled)
                drawing.Text(x - 6, Y(share, y, height) + 4, Percent(share), "end", 11);
        }
    }

    private static void Across(Drawing drawing, double x, double y, double width, double height)
    {
        drawing.Band(XOf(BandLow, x, width), y, XOf(BandHigh, x, width) - XOf(BandLow, x, width), height, BandColour);
        foreach (double share in new[] { 0.80, 0.85, 0.90, 0.95, 1 })
        {
            drawing.Line(XOf(share, x, width), y, XOf(share, x, width), y + height, share == Aim ? AimColour : GridColour);
            drawing.Text(XOf(share, x, width), y + height + 15, share == Low ? "≤ 80 %" : Percent(share), "middle", 11);
        }
    }

    private static void Legend(Drawing drawing, double x, double y, string[] names, int inRow = 5)
    {
        double step = 740.0 / inRow;
        for (int i = 0; i < names.Length; i++)
        {
            double at = x + i % inRow * step, down = y + i / inRow * 18;
            drawing.Mark(at, down - 4, i, Colours[i]);
            drawing.Text(at + 9, down, names[i]);
        }
    }

    // What lies below the scale stands at its edge.
    private static double Y(double share, double top, double height) => top + height * (1 - (Math.Max(share, Low) - Low) / (1 - Low));

    private static double XOf(double share, double left, double width) => left + width * (Math.Max(share, Low) - Low) / (1 - Low);

    private static string Percent(double share) => string.Create(CultureInfo.InvariantCulture, $"{100 * share:0} %");

    private static string Whole(int number) => number.ToString(CultureInfo.InvariantCulture);
}
