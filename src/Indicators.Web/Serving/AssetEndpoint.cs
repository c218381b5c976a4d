using Microsoft.Extensions.Primitives;
using Microsoft.Net.Http.Headers;

namespace Indicators.Web.Serving;

/// <summary>Serves the embedded files, compressed as the reader asks, with a strong ETag each.</summary>
internal static class AssetEndpoint
{
    public static void MapAssets(this IEndpointRouteBuilder routes) =>
        routes.MapMethods(Assets.Folder + "{**path}", [HttpMethods.Get, HttpMethods.Head], Serve);

    private static async Task Serve(HttpContext context, string path, Assets assets)
    {
        if (assets.Find(path) is not { } asset)
        {
            context.Response.StatusCode = StatusCodes.Status404NotFound;
            return;
        }
        var (encoding, bytes) = Choose(asset, context.Request.Headers.AcceptEncoding);
        string etag = encoding.Length == 0 ? $"\"{asset.Hash}\"" : $"\"{asset.Hash}-{encoding}\"";
        var headers = context.Response.Headers;
        headers.ETag = etag;
        headers.Vary = HeaderNames.AcceptEncoding;
        headers.CacheControl = context.Request.Query["v"] == asset.Hash ? "public, max-age=31536000, immutable" : "no-cache";
        if (context.Request.Headers.IfNoneMatch.Any(value => value is not null && value.Contains(etag, StringComparison.Ordinal)))
        {
            context.Response.StatusCode = StatusCodes.Status304NotModified;
            return;
        }
        if (encoding.Length > 0)
            headers.ContentEncoding = encoding;
        context.Response.ContentType = asset.ContentType;
        context.Response.ContentLength = bytes.Length;
        if (HttpMethods.IsGet(context.Request.Method))
            await context.Response.Body.WriteAsync(bytes, context.RequestAborted);
    }

    private static (string Encoding, byte[] Bytes) Choose(Asset asset, StringValues accepted)
    {
        if (!StringWithQualityHeaderValue.TryParseList(accepted.OfType<string>().ToList(), out var wanted))
            return ("", asset.Plain);
        bool Takes(string name) => wanted.Any(each => each.Value.Equals(name, StringComparison.OrdinalIgnoreCase) && each.Quality is not 0);
        if (Takes("br")) return ("br", asset.Brotli);
        return Takes("gzip") ? ("gzip", asset.Gzip) : ("", asset.Plain);
    }
}
