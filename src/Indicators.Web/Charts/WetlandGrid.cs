using System.Globalization;
using System.Xml.Linq;
using Indicators.Wording;

namespace Indicators.Web.Charts;

/// <summary>One row of the grid: a name, and by season the mean call level, 0 to 3, where somebody listened.</summary>
internal sealed record GridRow(string Name, IReadOnlyDictionary<int, double> Levels);

/// <summary>
/// Seasons along, a row a species: a box for each season in which somebody listened, darker with more calling, an outline
/// where nothing was heard, nothing where nobody listened.
/// </summary>
internal static class WetlandGrid
{
    private const int Head = 22, Steps = 5, LabelEvery = 34;
    private const double HighestLevel = 3;

    public static XElement Draw(IReadOnlyList<GridRow> rows, int first, int last, ChartSize size, string label)
    {
        bool narrow = size.Width < 400;
        double left = narrow ? 12 : Svg.NameColumn(rows.Select(row => row.Name), 190, size.Width);
        int rowHeight = narrow ? 40 : 26;
        int seasons = last - first + 1;
        double column = Math.Min(40, (size.Width - left - 14.0) / seasons);
        var picture = Svg.Picture(size.Width, Head + (rows.Count * rowHeight), $"chart-{size.Name} wetland-grid", label);
        int every = (int)Math.Ceiling(LabelEvery / column);
        for (int season = last; season >= first; season -= every)
            picture.Add(Svg.Text("tick", Middle(season), 13, "middle", Phrases.Season(season)));
        for (int place = 0; place < rows.Count; place++)
        {
            double top = Head + (place * rowHeight);
            picture.Add(narrow
                ? Svg.Text("bar-name", 0, top + 13, "start", rows[place].Name)
                : Svg.Text("bar-name", left - 10, top + 17, "end", rows[place].Name));
            picture.Add(rows[place].Levels.OrderBy(each => each.Key).Select(each =>
                Svg.Box(Class(each.Value), Middle(each.Key) - (column / 2) + 1, top + (narrow ? 18 : 3), column - 2, 19)));
        }
        return picture;

        double Middle(int season) => left + (column * (season - first + 0.5));
    }

    private static string Class(double level) => level <= 0
        ? "box silent"
        : $"box amount-{Math.Clamp((int)Math.Ceiling(level / HighestLevel * Steps), 1, Steps).ToString(CultureInfo.InvariantCulture)}";
}
