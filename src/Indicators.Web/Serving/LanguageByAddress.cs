using System.Globalization;
using Indicators.Wording;

namespace Indicators.Web.Serving;

/// <summary>
/// The language of a page stands in its address: none in front for English, <c>/es</c> for Spanish. The prefix moves into the
/// path base, so that routes stay one and links written <c>~/…</c> keep the reader's language. Nothing is remembered and
/// nobody is sent elsewhere by what their browser asks for.
/// </summary>
internal static class LanguageByAddress
{
    private static readonly IReadOnlyList<(PathString Prefix, Language Language)> Prefixes =
        [.. Language.All.Where(language => !language.IsDefault).Select(language => (new PathString($"/{language.Tag}"), language))];

    public static void UseLanguageByAddress(this IApplicationBuilder app) => app.Use(async (context, next) =>
    {
        var spoken = Language.Default;
        foreach (var (prefix, language) in Prefixes)
        {
            if (!context.Request.Path.StartsWithSegments(prefix, StringComparison.Ordinal, out var rest))
                continue;
            context.Request.PathBase = context.Request.PathBase.Add(prefix);
            context.Request.Path = rest.HasValue ? rest : "/";
            spoken = language;
        }
        // Pages write no number or date of their own; whatever the framework writes is the same everywhere.
        CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
        CultureInfo.CurrentUICulture = spoken.Culture;
        await next(context);
    });

    /// <summary>The address of the page being read, in another language. The edition is no part of it.</summary>
    /// <remarks>After an error the address is that of the start page: the one asked for leads nowhere.</remarks>
    public static string AddressIn(HttpRequest request, Language language)
    {
        string prefix = language.IsDefault ? "" : $"/{language.Tag}";
        if (request.Path.StartsWithSegments("/problem"))
            return prefix.Length == 0 ? "/" : prefix;
        string path = request.Path == "/" && prefix.Length > 0 ? "" : request.Path.ToUriComponent();
        return prefix + path + QueryString.Create(request.Query.Where(part => part.Key != EditionAddress.Query)).ToUriComponent();
    }
}
