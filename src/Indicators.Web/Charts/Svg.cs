using System.Globalization;
using System.Xml.Linq;
using Microsoft.AspNetCore.Html;

namespace Indicators.Web.Charts;

/// <summary>The few SVG pieces that charts and maps are made of. Values are escaped by construction.</summary>
internal static class Svg
{
    public static XElement Picture(double width, double height, string cssClass, string label, params object?[] content) => new(
        "svg",
        new XAttribute("class", cssClass),
        new XAttribute("viewBox", $"0 0 {Number(width)} {Number(height)}"),
        new XAttribute("width", Number(width)),
        new XAttribute("height", Number(height)),
        new XAttribute("role", "img"),
        new XAttribute("aria-label", label),
        content);

    public static XElement Line(string cssClass, double x1, double y1, double x2, double y2) => new(
        "line",
        new XAttribute("class", cssClass),
        new XAttribute("x1", Number(x1)),
        new XAttribute("y1", Number(y1)),
        new XAttribute("x2", Number(x2)),
        new XAttribute("y2", Number(y2)));

    /// <summary>The width of a column of names beside bars: room for the longest, at least so much and half of the picture at most.</summary>
    public static double NameColumn(IEnumerable<string> names, double least, double width)
    {
        // Letters of a bar's name are 14 high and in no usual face wider than this on average.
        const double letter = 7.6, gap = 14;
        return Math.Clamp((letter * names.Select(name => name.Length).DefaultIfEmpty(0).Max()) + gap, least, width / 2);
    }

    public static XElement Text(string cssClass, double x, double y, string anchor, string text) => new(
        "text",
        new XAttribute("class", cssClass),
        new XAttribute("x", Number(x)),
        new XAttribute("y", Number(y)),
        new XAttribute("text-anchor", anchor),
        text);

    public static XElement Box(string cssClass, double x, double y, double width, double height) => new(
        "rect",
        new XAttribute("class", cssClass),
        new XAttribute("x", Number(x)),
        new XAttribute("y", Number(y)),
        new XAttribute("width", Number(width)),
        new XAttribute("height", Number(height)));

    public static XElement Circle(string cssClass, double x, double y, double radius) => new(
        "circle",
        new XAttribute("class", cssClass),
        new XAttribute("cx", Number(x)),
        new XAttribute("cy", Number(y)),
        new XAttribute("r", Number(radius)));

    public static XElement Path(string cssClass, string data) =>
        new("path", new XAttribute("class", cssClass), new XAttribute("d", data));

    public static string Points(IEnumerable<(double X, double Y)> points) =>
        string.Join(' ', points.Select((point, place) => $"{(place == 0 ? "M" : "L")}{Number(point.X)} {Number(point.Y)}"));

    public static string Number(double value) => value.ToString("0.#", CultureInfo.InvariantCulture);

    public static IHtmlContent Html(this XElement element) => new HtmlString(element.ToString(SaveOptions.DisableFormatting));
}
