using System.Globalization;
using Microsoft.AspNetCore.Diagnostics;
using Microsoft.Extensions.Primitives;
using NodaTime;
using NodaTime.Extensions;

namespace Indicators.Web.Serving;

/// <summary>
/// A page that is made once and kept: what settles its bytes beside its address. That is today's edition and the one asked
/// for, the packing, and the day where the page speaks of it; the language stands in the address.
/// </summary>
/// <param name="ETag">A strong ETag, known before the page is made.</param>
/// <param name="CacheControl">How long others may keep it.</param>
/// <param name="Edition">Today's edition, which the page is dropped with.</param>
internal sealed record KeptPage(string ETag, string CacheControl, string Edition)
{
    /// <summary>Ask again each time, which costs no bytes while nothing changed.</summary>
    public const string AskAgain = "no-cache";

    /// <summary>An earlier edition never changes; a day later its page may name the wrong number of today's.</summary>
    public const string ForADay = "public, max-age=86400";

    /// <summary>Pages that speak of this month.</summary>
    private static readonly PathString Dated = "/neighbourhood";

    private static readonly PathString[] NotKept = ["/problem", "/downloads", Assets.Folder.TrimEnd('/')];

    /// <summary>What a request asks for, or null when it is made anew each time: anything but reading, and anything asked with words of its own.</summary>
    public static KeptPage? Of(HttpContext context, TodaysEdition todays, TimeProvider clock)
    {
        var request = context.Request;
        if (!HttpMethods.IsGet(request.Method) && !HttpMethods.IsHead(request.Method))
            return null;
        foreach (var path in NotKept)
        {
            if (request.Path.StartsWithSegments(path))
                return null;
        }
        if (context.Features.Get<IStatusCodeReExecuteFeature>() is not null || context.Features.Get<IExceptionHandlerFeature>() is not null)
            return null;
        long? asked = null;
        if (request.Query.Count > 0)
        {
            if (request.Query.Count > 1 || !request.Query.TryGetValue(EditionAddress.Query, out var text)
                || !long.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out long number))
                return null;
            asked = number;
        }
        return todays.Now() is { Header: { } header } now ? Of(request, now, header.Manifest.Settings.TimeZone, asked, clock) : null;
    }

    private static KeptPage? Of(HttpRequest request, Lookup now, string zone, long? asked, TimeProvider clock)
    {
        bool dated = request.Path.StartsWithSegments(Dated);
        // The day is that of the programme's time zone, which an earlier edition may have had another of.
        if (dated && asked is not null)
            return null;
        string day = dated ? clock.GetUtcNow().ToInstant().InZone(DateTimeZoneProviders.Tzdb[zone]).Date.ToString("uuuuMMdd", CultureInfo.InvariantCulture) : "";
        return new KeptPage(Tag(now, asked, day, Encodings.Chosen(request.Headers.AcceptEncoding)), asked is null || asked == now.Header!.Number ? AskAgain : ForADay, now.Stamp);
    }

    /// <summary>A strong ETag for what is made of today's edition, or of another alone.</summary>
    public static string Tag(Lookup now, long? asked, string day, string encoding) =>
        string.Create(CultureInfo.InvariantCulture, $"\"{now.Stamp}.{asked}.{day}.{encoding}\"");

    /// <summary>Whether a reader has it already. The star means any, and here it is not known whether there is one.</summary>
    public static bool Has(StringValues ifNoneMatch, string etag)
    {
        foreach (string? value in ifNoneMatch)
        {
            if (value is not null && value.Contains(etag, StringComparison.Ordinal))
                return true;
        }
        return false;
    }
}
