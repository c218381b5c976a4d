using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;

namespace Indicators.Benchmarks;

/// <summary>The web server with nothing behind it: the same bytes and headers to every request, as the measure of what could be.</summary>
internal static class BareEndpoint
{
    // Those the server writes by itself.
    private static readonly string[] Own = ["Date", "Server", "Content-Length", "Connection", "Keep-Alive", "Transfer-Encoding"];

    /// <summary>Serves until it is stopped.</summary>
    /// <param name="headersFile">An answer's head, a header a line, its status line first.</param>
    /// <param name="bodyFile">Its body as it was sent.</param>
    /// <param name="url">Where to listen.</param>
    public static async Task Run(string headersFile, string bodyFile, string url)
    {
        var headers = (await File.ReadAllLinesAsync(headersFile)).Skip(1).Where(line => line.Contains(':', StringComparison.Ordinal))
            .Select(line => line.Split(':', 2)).Select(parts => (Name: parts[0].Trim(), Value: parts[1].Trim()))
            .Where(header => !Own.Contains(header.Name, StringComparer.OrdinalIgnoreCase)).ToArray();
        byte[] body = await File.ReadAllBytesAsync(bodyFile);
        var builder = WebApplication.CreateEmptyBuilder(new WebApplicationOptions());
        builder.WebHost.UseKestrelCore().UseUrls(url).ConfigureKestrel(kestrel => kestrel.AddServerHeader = false);
        builder.Logging.ClearProviders();
        await using var app = builder.Build();
        app.Run(context =>
        {
            foreach (var (name, value) in headers)
                context.Response.Headers[name] = value;
            context.Response.ContentLength = body.Length;
            return context.Response.Body.WriteAsync(body).AsTask();
        });
        await app.RunAsync();
    }
}
