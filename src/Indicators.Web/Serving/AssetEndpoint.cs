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
        string encoding = Encodings.Chosen(context.Request.Headers.AcceptEncoding);
        byte[] bytes = encoding switch { Encodings.Brotli => asset.Brotli, Encodings.Gzip => asset.Gzip, _ => asset.Plain };
        string etag = encoding.Length == 0 ? $"\"{asset.Hash}\"" : $"\"{asset.Hash}-{encoding}\"";
        var headers = context.Response.Headers;
        headers.ETag = etag;
        headers.Vary = HeaderNames.AcceptEncoding;
        headers.CacheControl = context.Request.Query["v"] == asset.Hash ? "public, max-age=31536000, immutable" : "no-cache";
        if (KeptPage.Has(context.Request.Headers.IfNoneMatch, etag))
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
}
