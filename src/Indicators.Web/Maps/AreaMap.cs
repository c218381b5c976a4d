using System.Globalization;
using System.Xml.Linq;
using Indicators.Monitoring;
using Indicators.Web.Charts;

namespace Indicators.Web.Maps;

/// <summary>One area of the map: its number in the list beside it, its amount from 1 to 5 or none, and where it leads.</summary>
internal sealed record MapArea(WatershedCode Code, int Number, int? Amount, string Label, string Href);

/// <summary>
/// Draws watersheds as plain outlines, degrees of longitude shortened by the cosine of the middle latitude. Each carries
/// its number in the list, so that nothing rests on colour alone.
/// </summary>
internal static class AreaMap
{
    private const double Width = 560, Margin = 6, TallestToWide = 1.1;

    // Corners nearer than this on screen cannot be told apart.
    private const double NearestCorner = 0.8;

    /// <summary>The map, or null when no area has a shape.</summary>
    public static XElement? Draw(IReadOnlyList<AreaOutline> outlines, IReadOnlyList<MapArea> areas, string label)
    {
        var shown = outlines.Where(outline => outline.Rings.Any(ring => ring.Count > 2)).ToDictionary(outline => outline.Code);
        var filled = areas.Where(area => shown.ContainsKey(area.Code)).ToList();
        if (filled.Count == 0)
            return null;
        var projection = Projection.Over(filled.SelectMany(area => shown[area.Code].Rings).SelectMany(ring => ring));
        var picture = Svg.Picture(Width, projection.Height, "map", label);
        // A picture holding links is a group, not one image.
        picture.SetAttributeValue("role", "group");
        picture.Add(Stripes());
        foreach (var area in filled)
        {
            var outline = shown[area.Code];
            var (x, y) = projection.Place(Middle(outline));
            var path = Svg.Path(area.Amount is { } amount ? $"area amount-{amount.ToString(CultureInfo.InvariantCulture)}" : "area", Data(outline, projection));
            if (area.Amount is null)
                path.SetAttributeValue("fill", $"url(#{StripesId})");
            picture.Add(new XElement(
                "a",
                new XAttribute("href", area.Href),
                new XAttribute("aria-label", area.Label),
                path,
                Svg.Circle("area-number", x, y, 15),
                Svg.Text("area-text", x, y + 6, "middle", area.Number.ToString(CultureInfo.InvariantCulture))));
        }
        return picture;
    }

    private const string StripesId = "no-score";

    private static XElement Stripes() => new(
        "pattern",
        new XAttribute("id", StripesId),
        new XAttribute("width", 8),
        new XAttribute("height", 8),
        new XAttribute("patternUnits", "userSpaceOnUse"),
        Svg.Path("stripe-ground", "M0 0H8V8H0Z"),
        Svg.Path("stripe", "M-2 2L2 -2M0 8L8 0M6 10L10 6"));

    private static string Data(AreaOutline outline, Projection projection) =>
        string.Join(' ', outline.Rings.Select(ring => Svg.Points(Thin(ring.Select(projection.Place))) + " Z"));

    private static IEnumerable<(double X, double Y)> Thin(IEnumerable<(double X, double Y)> corners)
    {
        (double X, double Y)? kept = null;
        foreach (var corner in corners)
        {
            if (kept is { } last && Math.Abs(corner.X - last.X) + Math.Abs(corner.Y - last.Y) < NearestCorner)
                continue;
            kept = corner;
            yield return corner;
        }
    }

    // The middle of the largest ring by the area-weighted formula for polygons; the corners' mean when the area vanishes.
    private static (double Longitude, double Latitude) Middle(AreaOutline outline)
    {
        var ring = outline.Rings.MaxBy(each => Math.Abs(TwiceArea(each)))!;
        double twice = TwiceArea(ring);
        if (Math.Abs(twice) < 1e-12)
            return (ring.Average(corner => corner.Longitude), ring.Average(corner => corner.Latitude));
        double x = 0, y = 0;
        var (x0, y0) = ring[0];
        foreach (var (from, to) in ring.Zip([.. ring.Skip(1), ring[0]]))
        {
            double cross = ((from.Longitude - x0) * (to.Latitude - y0)) - ((to.Longitude - x0) * (from.Latitude - y0));
            x += (from.Longitude + to.Longitude - 2 * x0) * cross;
            y += (from.Latitude + to.Latitude - 2 * y0) * cross;
        }
        return (x0 + (x / (3 * twice)), y0 + (y / (3 * twice)));
    }

    private static double TwiceArea(IReadOnlyList<(double Longitude, double Latitude)> ring)
    {
        var (x0, y0) = ring[0];
        double sum = 0;
        foreach (var (from, to) in ring.Zip([.. ring.Skip(1), ring[0]]))
            sum += ((from.Longitude - x0) * (to.Latitude - y0)) - ((to.Longitude - x0) * (from.Latitude - y0));
        return sum;
    }

    private sealed record Projection(double West, double North, double Shrink, double Scale, double Height, bool OverDateLine)
    {
        public static Projection Over(IEnumerable<(double Longitude, double Latitude)> corners)
        {
            var all = corners.ToList();
            bool over = all.Max(corner => corner.Longitude) - all.Min(corner => corner.Longitude) > 180;
            var longitudes = all.Select(corner => East(corner.Longitude, over)).ToList();
            double west = longitudes.Min(), east = longitudes.Max();
            double south = all.Min(corner => corner.Latitude), north = all.Max(corner => corner.Latitude);
            double shrink = Math.Cos((south + north) / 2 * Math.PI / 180);
            double wide = Math.Max(1e-9, (east - west) * shrink), tall = Math.Max(1e-9, north - south);
            double room = Width - (2 * Margin);
            double scale = Math.Min(room / wide, room * TallestToWide / tall);
            return new Projection(west - (((room / scale) - wide) / 2 / shrink), north, shrink, scale, (tall * scale) + (2 * Margin), over);
        }

        public (double X, double Y) Place((double Longitude, double Latitude) at) =>
            (Margin + ((East(at.Longitude, OverDateLine) - West) * Shrink * Scale), Margin + ((North - at.Latitude) * Scale));

        private static double East(double longitude, bool over) => over && longitude < 0 ? longitude + 360 : longitude;
    }
}
