using System.Globalization;
using Indicators.Application.Editions;
using Indicators.Exchange.Export;
using Indicators.Monitoring;
using Indicators.Storage.Editions;
using Microsoft.Net.Http.Headers;

namespace Indicators.Web.Serving;

/// <summary>Gives the published edition's tables away as files, or an earlier one's, through the same use case as the command line.</summary>
internal static class DownloadEndpoint
{
    public static void MapDownloads(this IEndpointRouteBuilder routes) =>
        routes.MapMethods("/downloads/{file}", [HttpMethods.Get, HttpMethods.Head], Serve);

    private static async Task Serve(HttpContext context, string file, ExportEdition export, TodaysEdition todays)
    {
        var format = Enum.GetValues<ExportFormat>().Cast<ExportFormat?>()
            .FirstOrDefault(each => Path.GetExtension(file) == $".{TableWriter.Extension(each!.Value)}");
        if (format is not { } wanted
            || ExportEdition.ByName(Path.GetFileNameWithoutExtension(file)) is not { } what
            || !Asked(context.Request, out long? number)
            || Filter(context.Request.Query) is not { } filter
            || export.Run(what, number, filter) is not { Table: { } table, Edition: { } edition })
        {
            context.Response.StatusCode = StatusCodes.Status404NotFound;
            return;
        }
        var headers = context.Response.Headers;
        string encoding = Encodings.Chosen(context.Request.Headers.AcceptEncoding);
        string etag = KeptPage.Tag(todays.Now(), edition.Number, "", encoding);
        headers.ETag = etag;
        headers.Vary = HeaderNames.AcceptEncoding;
        headers.CacheControl = number is not null && edition.State == EditionState.Earlier ? KeptPage.ForADay : KeptPage.AskAgain;
        if (KeptPage.Has(context.Request.Headers.IfNoneMatch, etag))
        {
            context.Response.StatusCode = StatusCodes.Status304NotModified;
            return;
        }
        context.Response.ContentType = TableWriter.MediaType(wanted);
        var attachment = new ContentDispositionHeaderValue("attachment");
        string only = string.Concat(new[] { filter.Area?.ToString(), filter.Species?.ToString(), filter.Wetland, filter.Since is { } past ? FormattableString.Invariant($"since-{past}") : null }.OfType<string>().Select(each => "-" + each));
        attachment.SetHttpFileName(FormattableString.Invariant($"{table.Name}-edition-{edition.Number}{only}.{TableWriter.Extension(wanted)}"));
        headers.ContentDisposition = attachment.ToString();
        if (encoding.Length > 0)
            headers.ContentEncoding = encoding;
        if (HttpMethods.IsHead(context.Request.Method))
            return;
        var packed = Encodings.Open(context.Response.Body, encoding);
        await TableWriter.WriteAsync(table, wanted, packed, context.RequestAborted);
        if (encoding.Length > 0)
            await packed.DisposeAsync();
    }

    /// <summary>Which rows are asked for, by <c>area</c>, <c>species</c>, <c>wetland</c> and <c>since</c>; null when that cannot be read.</summary>
    private static ExportFilter? Filter(IQueryCollection query)
    {
        var filter = new ExportFilter { Wetland = query.TryGetValue("wetland", out var wetland) ? wetland.ToString() : null };
        if (query.TryGetValue("area", out var area))
        {
            if (WatershedCode.Parse(area.ToString()) is not { IsValid: true, Value: var code })
                return null;
            filter = filter with { Area = code };
        }
        if (query.TryGetValue("since", out var since))
        {
            if (!long.TryParse(since, NumberStyles.None, CultureInfo.InvariantCulture, out long earlier))
                return null;
            filter = filter with { Since = earlier };
        }
        if (query.TryGetValue("species", out var species))
        {
            if (Id<Species>.Parse(species.ToString()) is not { IsValid: true, Value: var id })
                return null;
            filter = filter with { Species = id };
        }
        return filter;
    }

    /// <summary>The edition asked for, null for today's; false when what is asked for is no number.</summary>
    private static bool Asked(HttpRequest request, out long? number)
    {
        number = null;
        if (!request.Query.TryGetValue(EditionAddress.Query, out var asked))
            return true;
        bool read = long.TryParse(asked, NumberStyles.None, CultureInfo.InvariantCulture, out long value);
        number = value;
        if (!read)
            request.HttpContext.Items[EditionAddress.UnknownKey] = true;
        return read;
    }
}
