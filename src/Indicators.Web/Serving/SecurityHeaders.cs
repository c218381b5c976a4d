namespace Indicators.Web.Serving;

/// <summary>The headers every answer carries: pages, errors, files and downloads alike.</summary>
internal static class SecurityHeaders
{
    /// <summary>Nothing runs, loads or is sent anywhere that did not come from this host as a file of its own.</summary>
    public const string ContentPolicy =
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; "
        + "base-uri 'none'; form-action 'self'; frame-ancestors 'none'";

    public static readonly IReadOnlyList<(string Name, string Value)> All =
    [
        ("Content-Security-Policy", ContentPolicy),
        ("X-Content-Type-Options", "nosniff"),
        ("Referrer-Policy", "same-origin"),
        ("Permissions-Policy", "camera=(), geolocation=(self), microphone=(), payment=(), usb=()"),
        ("Cross-Origin-Opener-Policy", "same-origin"),
        ("Cross-Origin-Resource-Policy", "same-origin"),
    ];

    public static void UseSecurityHeaders(this IApplicationBuilder app) => app.Use((context, next) =>
    {
        // As the answer starts, for the error handler clears whatever was set before.
        context.Response.OnStarting(() =>
        {
            foreach (var (name, value) in All)
                context.Response.Headers[name] = value;
            return Task.CompletedTask;
        });
        return next(context);
    });
}
