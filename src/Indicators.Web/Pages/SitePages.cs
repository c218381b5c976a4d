using Indicators.Web.Reading;

namespace Indicators.Web.Pages;

/// <summary>Every page of today's edition that may be listed, by its path without a language.</summary>
internal static class SitePages
{
    private static readonly string[] Always = ["/", "/neighbourhood", "/species", "/methods", "/cautions", "/editions"];

    /// <summary>The paths, those of larger areas first and of wetlands last. A protected species' page is read by who looks for it and listed for no one.</summary>
    /// <param name="edition">Today's edition.</param>
    /// <param name="numbers">All editions, the latest first.</param>
    public static IEnumerable<string> Of(PublishedEdition edition, IReadOnlyList<long> numbers) =>
    [
        .. Always,
        .. numbers.Skip(1).Select((before, place) => FormattableString.Invariant($"/editions/{before}/{numbers[place]}")),
        .. edition.Effort().Select(effort => effort.Season).Distinct().OrderDescending().Select(season => FormattableString.Invariant($"/seasons/{season}")),
        .. edition.Tree.Shown.Select(node => $"/watersheds/{node.Area.Code}"),
        .. edition.Tree.Smallest.Select(node => $"/neighbourhood/{node.Area.Code}"),
        .. edition.Species.Where(species => !species.Protected).Select(species => $"/species/{Uri.EscapeDataString(species.Id.ToString())}"),
        .. edition.Tree.Shown.Where(node => node.IsSmallest).SelectMany(node => edition.WetlandsOf(node.Area.Code)).Select(place => $"/w/{Uri.EscapeDataString(place.Slug)}"),
    ];
}
