using System.Globalization;
using Indicators.Web.Reading;
using Indicators.Web.Serving;

namespace Indicators.Web.Pages;

/// <summary>
/// The outlines of the smallest watersheds and where each leads, for the browser to find by itself which one its reader
/// stands in. The question never reaches us.
/// </summary>
internal static class ShapesEndpoint
{
    public static void MapShapes(this IEndpointRouteBuilder routes) => routes.MapGet("/shapes.json", Serve);

    private static IResult Serve(HttpContext context, EditionShelf shelf)
    {
        bool isAsked = long.TryParse(context.Request.Query[EditionAddress.Query], NumberStyles.None, CultureInfo.InvariantCulture, out long number);
        if ((isAsked ? shelf.ByNumber(number) : shelf.Current()) is not { } edition)
            return Results.NotFound();
        var smallest = edition.Tree.Smallest.Select(node => node.Area.Code).ToHashSet();
        return Results.Json(edition.Outlines.Where(outline => smallest.Contains(outline.Code)).Select(outline => new
        {
            href = Address($"{context.Request.PathBase}/neighbourhood/{outline.Code}"),
            rings = outline.Rings.Select(ring => ring.Select(corner => new[] { corner.Longitude, corner.Latitude })),
        }));

        string Address(string page) => isAsked ? EditionAddress.In(number, page) : page;
    }
}
