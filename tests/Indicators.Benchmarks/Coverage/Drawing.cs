using System.Globalization;
using System.Text;

namespace Indicators.Benchmarks.Coverage;

/// <summary>A plain SVG picture: presentation attributes only, so that no style sheet is needed to see it.</summary>
/// <param name="width">Its width.</param>
/// <param name="height">Its height.</param>
/// <param name="title">What it shows, in English.</param>
/// <param name="words">The language it is drawn in, if not English.</param>
internal sealed class Drawing(double width, double height, string title, FigureWords? words = null)
{
    private readonly StringBuilder _body = new();
    private readonly FigureWords _words = words ?? FigureWords.English;

    public void Line(double x1, double y1, double x2, double y2, string colour, double thickness = 1, string dash = "") => Add(
        $"""<line x1="{x1:0.#}" y1="{y1:0.#}" x2="{x2:0.#}" y2="{y2:0.#}" stroke="{colour}" stroke-width="{thickness:0.#}"{(dash.Length > 0 ? $" stroke-dasharray=\"{dash}\"" : "")}/>""");

    public void Path(IEnumerable<(double X, double Y)> points, string colour) => Add(
        $"""<polyline points="{string.Join(' ', points.Select(p => string.Create(CultureInfo.InvariantCulture, $"{p.X:0.#},{p.Y:0.#}")))}" fill="none" stroke="{colour}" stroke-width="1.8"/>""");

    public void Band(double x, double y, double w, double h, string colour) => Add(
        $"""<rect x="{x:0.#}" y="{y:0.#}" width="{w:0.#}" height="{h:0.#}" fill="{colour}"/>""");

    /// <summary>A mark whose form tells series apart without colour: 0 disc, 1 square, 2 triangle, 3 diamond, 4 ring.</summary>
    public void Mark(double x, double y, int form, string colour) => Add((form % 5) switch
    {
        0 => $"""<circle cx="{x:0.#}" cy="{y:0.#}" r="3.2" fill="{colour}"/>""",
        1 => $"""<rect x="{x - 3:0.#}" y="{y - 3:0.#}" width="6" height="6" fill="{colour}"/>""",
        2 => $"""<path d="M{x:0.#} {y - 4:0.#}l4 7h-8z" fill="{colour}"/>""",
        3 => $"""<path d="M{x:0.#} {y - 4.2:0.#}l4.2 4.2l-4.2 4.2l-4.2 -4.2z" fill="{colour}"/>""",
        _ => $"""<circle cx="{x:0.#}" cy="{y:0.#}" r="3" fill="white" stroke="{colour}" stroke-width="1.6"/>""",
    });

    public void Text(double x, double y, string text, string anchor = "start", double size = 12, bool bold = false) => Add(
        $"""<text x="{x:0.#}" y="{y:0.#}" text-anchor="{anchor}" font-size="{size:0.#}"{(bold ? " font-weight=\"600\"" : "")} fill="#222">{_words.Say(text).Replace("&", "&amp;", StringComparison.Ordinal).Replace("<", "&lt;", StringComparison.Ordinal)}</text>""");

    public override string ToString() => string.Create(
        CultureInfo.InvariantCulture,
        $"""
        <svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" width="{width}" height="{height}" font-family="sans-serif" role="img">
        <title>{_words.Say(title)}</title>
        <rect width="{width}" height="{height}" fill="white"/>
        {_body}</svg>

        """).ReplaceLineEndings("\n");

    private void Add(FormattableString element) => _body.Append(element.ToString(CultureInfo.InvariantCulture)).Append('\n');
}
