using System.Xml.Linq;

namespace Indicators.Web.Charts;

/// <summary>One bar: its name, how long it is from 0 to 1, and the value in words at its end.</summary>
internal sealed record Bar(string Name, double Length, string Value);

/// <summary>Bars one under another, each with its name above it and its value beside the name.</summary>
internal static class BarList
{
    private const int Width = 330, RowHeight = 34, Thick = 9;

    public static XElement Draw(IReadOnlyList<Bar> bars, string label)
    {
        var picture = Svg.Picture(Width, bars.Count * RowHeight, "bars", label);
        for (int row = 0; row < bars.Count; row++)
        {
            double top = row * RowHeight;
            picture.Add(
                Svg.Text("bar-name", 0, top + 13, "start", bars[row].Name),
                Svg.Text("bar-value", Width, top + 13, "end", bars[row].Value),
                Svg.Box("bar-ground", 0, top + 19, Width, Thick),
                Svg.Box("bar", 0, top + 19, Width * Math.Clamp(bars[row].Length, 0, 1), Thick));
        }
        return picture;
    }
}
