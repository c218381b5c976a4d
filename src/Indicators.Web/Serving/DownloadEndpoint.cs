using System.Globalization;
using Indicators.Application.Editions;
using Indicators.Exchange.Export;
using Microsoft.Net.Http.Headers;

namespace Indicators.Web.Serving;

/// <summary>Gives the published edition's tables away as files, or an earlier one's, through the same use case as the command line.</summary>
internal static class DownloadEndpoint
{
    public static void MapDownloads(this IEndpointRouteBuilder routes) =>
        routes.MapGet("/downloads/{file}", Serve);

    private static async Task Serve(HttpContext context, string file, ExportEdition export)
    {
        var format = Enum.GetValues<ExportFormat>().Cast<ExportFormat?>()
            .FirstOrDefault(each => Path.GetExtension(file) == $".{TableWriter.Extension(each!.Value)}");
        if (format is not { } wanted
            || ExportEdition.ByName(Path.GetFileNameWithoutExtension(file)) is not { } what
            || !Asked(context.Request, out long? number)
            || export.Run(what, number) is not { Table: { } table, Edition: { } edition })
        {
            context.Response.StatusCode = StatusCodes.Status404NotFound;
            return;
        }
        context.Response.ContentType = TableWriter.MediaType(wanted);
        var attachment = new ContentDispositionHeaderValue("attachment");
        attachment.SetHttpFileName(FormattableString.Invariant($"{table.Name}-edition-{edition.Number}.{TableWriter.Extension(wanted)}"));
        context.Response.Headers.ContentDisposition = attachment.ToString();
        await TableWriter.WriteAsync(table, wanted, context.Response.Body, context.RequestAborted);
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
