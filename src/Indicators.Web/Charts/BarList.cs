using System.Xml.Linq;

namespace Indicators.Web.Charts;

/// <summary>One bar: its name, how long it is from 0 to 1, and the value in words at its end.</summary>
internal sealed record Bar(string Name, double Length, string Value);

/// <summary>Bars one under another, each with its name above it and its value beside the name.</summary>
internal static class BarList
{
    private const int Width = 330, RowHeight = 34, LineHeight = 17, Thick = 9;

    /// <summary>Letters of a name on one line; the rest of the width is the value's.</summary>
    private const int LongestLine = 36;

    public static XElement Draw(IReadOnlyList<Bar> bars, string label)
    {
        var names = bars.Select(bar => Lines(bar.Name)).ToList();
        var picture = Svg.Picture(Width, names.Sum(name => RowHeight + (LineHeight * (name.Count - 1))), "bars", label);
        double top = 0;
        for (int row = 0; row < bars.Count; row++)
        {
            picture.Add(Svg.Text("bar-value", Width, top + 13, "end", bars[row].Value));
            picture.Add(names[row].Select((name, line) => Svg.Text("bar-name", 0, top + 13 + (line * LineHeight), "start", name)));
            top += LineHeight * (names[row].Count - 1);
            picture.Add(
                Svg.Box("bar-ground", 0, top + 19, Width, Thick),
                Svg.Box("bar", 0, top + 19, Width * Math.Clamp(bars[row].Length, 0, 1), Thick));
            top += RowHeight;
        }
        return picture;
    }

    private static List<string> Lines(string name)
    {
        var lines = new List<string> { "" };
        foreach (string word in name.Split(' '))
        {
            if (lines[^1].Length > 0 && lines[^1].Length + 1 + word.Length > LongestLine)
                lines.Add("");
            lines[^1] += lines[^1].Length == 0 ? word : " " + word;
        }
        return lines;
    }
}
