using Microsoft.AspNetCore.OutputCaching;
using Microsoft.Net.Http.Headers;

namespace Indicators.Web.Serving;

/// <summary>
/// Makes a page once for each edition and packing, packs it once, and sends nothing to who has it. The framework's output
/// cache keeps them.
/// </summary>
internal static class KeptPages
{
    /// <summary>Memory for kept pages, in bytes; what does not fit is made anew.</summary>
    private const long Room = 128 << 20;

    private const long LongestPage = 4 << 20;

    public static void AddKeptPages(this IServiceCollection services)
    {
        services.AddSingleton<TodaysEdition>();
        services.AddOutputCache(cache =>
        {
            cache.SizeLimit = Room;
            cache.MaximumBodySize = LongestPage;
            cache.UseCaseSensitivePaths = true;
            cache.AddBasePolicy(new Policy());
        });
    }

    public static void UseKeptPages(this IApplicationBuilder app)
    {
        var services = app.ApplicationServices;
        var (todays, clock) = (services.GetRequiredService<TodaysEdition>(), services.GetRequiredService<TimeProvider>());
        app.Use((context, next) =>
        {
            var page = KeptPage.Of(context, todays, clock);
            // Also when there is none: a page that stands in another's place comes through here a second time.
            context.Features.Set(page);
            if (page is null || !KeptPage.Has(context.Request.Headers.IfNoneMatch, page.ETag))
                return next(context);
            Mark(context.Response, page);
            context.Response.StatusCode = StatusCodes.Status304NotModified;
            return Task.CompletedTask;
        });
        app.UseOutputCache();
        app.Use(Pack);
    }

    private static void Mark(HttpResponse response, KeptPage page)
    {
        response.Headers.ETag = page.ETag;
        response.Headers.CacheControl = page.CacheControl;
        response.Headers.Vary = HeaderNames.AcceptEncoding;
    }

    /// <summary>Holds a page back until it is whole, then sends it packed, with its length.</summary>
    private static async Task Pack(HttpContext context, RequestDelegate next)
    {
        var (response, request) = (context.Response, context.Request);
        if (request.Path.StartsWithSegments("/downloads") || request.Path.StartsWithSegments(Assets.Folder.TrimEnd('/')))
        {
            await next(context);
            return;
        }
        // The answer to HEAD is that to GET without its body, and only who makes the whole page knows the rest.
        bool isHead = HttpMethods.IsHead(request.Method);
        if (isHead)
            request.Method = HttpMethods.Get;
        var target = response.Body;
        using var whole = new MemoryStream();
        response.Body = whole;
        try
        {
            await next(context);
        }
        finally
        {
            response.Body = target;
            if (isHead)
                request.Method = HttpMethods.Head;
        }
        if (whole.Length == 0)
            return;
        string encoding = Encodings.Chosen(request.Headers.AcceptEncoding);
        var packed = Encodings.Pack(whole.GetBuffer().AsMemory(0, (int)whole.Length), encoding);
        if (encoding.Length > 0)
            response.Headers.ContentEncoding = encoding;
        response.ContentLength = packed.Length;
        if (response.StatusCode == StatusCodes.Status200OK && context.Features.Get<KeptPage>() is { } page)
            Mark(response, page);
        else
        {
            response.Headers.CacheControl = KeptPage.AskAgain;
            response.Headers.Vary = HeaderNames.AcceptEncoding;
        }
        if (!isHead)
            await target.WriteAsync(packed, context.RequestAborted);
    }

    /// <summary>Keeps whole pages, each until the edition it was made from is no longer today's.</summary>
    private sealed class Policy : IOutputCachePolicy
    {
        private volatile string _edition = "";

        public async ValueTask CacheRequestAsync(OutputCacheContext context, CancellationToken cancellation)
        {
            // What is kept has the length of its body, which the answer to HEAD has not.
            if (!HttpMethods.IsGet(context.HttpContext.Request.Method) || context.HttpContext.Features.Get<KeptPage>() is not { } page)
                return;
            context.EnableOutputCaching = context.AllowCacheLookup = context.AllowCacheStorage = context.AllowLocking = true;
            context.ResponseExpirationTimeSpan = TimeSpan.FromDays(1);
            context.CacheVaryByRules.VaryByValues["page"] = page.ETag;
            context.Tags.Add(page.Edition);
            string before = _edition;
            if (before == page.Edition)
                return;
            _edition = page.Edition;
            if (before.Length > 0)
                await context.HttpContext.RequestServices.GetRequiredService<IOutputCacheStore>().EvictByTagAsync(before, cancellation);
        }

        public ValueTask ServeFromCacheAsync(OutputCacheContext context, CancellationToken cancellation) => ValueTask.CompletedTask;

        public ValueTask ServeResponseAsync(OutputCacheContext context, CancellationToken cancellation)
        {
            context.AllowCacheStorage &= context.HttpContext.Response.StatusCode == StatusCodes.Status200OK;
            return ValueTask.CompletedTask;
        }
    }
}
