using System.Globalization;
using Indicators.Web.Reading;
using Indicators.Web.Serving;
using Indicators.Wording;

namespace Indicators.Web.Pages;

/// <summary>
/// Reads a few pages of every kind as a reader would, once the app listens. The framework puts a kind of page together, and the
/// runtime compiles it, when it is first asked for: better by us than by the first reader.
/// </summary>
internal static class WarmUp
{
    // What an address that stands for every host of the machine is reached by from the machine itself.
    private static readonly string[] AnyHost = ["0.0.0.0", "[::]", "*", "+"];

    /// <summary>Reads them one after the other, and ends early when the app stops or does not answer.</summary>
    public static async Task Run(WebApplication app)
    {
        // A certificate names a host, and not this machine's own number: an app behind https alone warms up by its readers.
        if (app.Urls.FirstOrDefault(url => url.StartsWith("http://", StringComparison.Ordinal)) is not { } url
            || !Uri.TryCreate(AnyHost.Aggregate(url, (text, host) => text.Replace($"//{host}:", "//127.0.0.1:", StringComparison.Ordinal)), UriKind.Absolute, out var address)
            || app.Services.GetRequiredService<EditionShelf>().Current() is not { } edition)
            return;
        using var client = new HttpClient(new SocketsHttpHandler { UseProxy = false, AllowAutoRedirect = false }) { BaseAddress = address };
        client.DefaultRequestHeaders.AcceptEncoding.ParseAdd("br");
        try
        {
            foreach (string page in Pages(edition))
            {
                using var answer = await client.GetAsync(new Uri(page, UriKind.Relative), app.Lifetime.ApplicationStopping);
            }
        }
        catch (Exception failure) when (failure is HttpRequestException or OperationCanceledException)
        {
            // Whoever asks for that page is told.
        }
    }

    /// <summary>The first and the last page of every kind, which differ most, and the first in every other language.</summary>
    internal static IEnumerable<string> Pages(PublishedEdition edition)
    {
        var kinds = SitePages.Of(edition, []).GroupBy(page => (page.Split('/')[1], page.Count(letter => letter == '/'))).ToList();
        foreach (var kind in kinds)
        {
            foreach (var language in Language.All)
                yield return LanguageByAddress.AddressOf(kind.First(), language);
        }
        foreach (var kind in kinds.Where(kind => kind.Skip(1).Any()))
            yield return kind.Last();
        foreach (var wetland in kinds.Where(kind => kind.Key.Item1 == "w"))
            yield return wetland.First() + "/sign";
        foreach (var species in edition.Species.Where(species => species.Protected).Take(1))
            yield return $"/species/{Uri.EscapeDataString(species.Id.ToString())}";
        long number = edition.Header.Number;
        if (number > 1)
            yield return string.Create(CultureInfo.InvariantCulture, $"/editions/{number - 1}/{number}");
        yield return "/season";
        yield return SharedEndpoints.Feed;
    }
}
