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

    /// <summary>What was searched for; the one thing behind the question mark that makes another page.</summary>
    private const string Words = "q";

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

    /// <summary>The address of a page of ours in a language.</summary>
    /// <param name="path">Its path without a language, from the first slash.</param>
    /// <param name="language">The language.</param>
    public static string AddressOf(string path, Language language) =>
        language.IsDefault ? path : $"/{language.Tag}{(path == "/" ? "" : path)}";

    /// <summary>The address of the page being read, in another language. The edition is no part of it.</summary>
    /// <remarks>After an error the address is that of the start page: the one asked for leads nowhere.</remarks>
    public static string AddressIn(HttpRequest request, Language language)
    {
        if (request.Path.StartsWithSegments("/problem"))
            return AddressOf("/", language);
        return AddressOf(request.Path.ToUriComponent(), language) + QueryString.Create(request.Query.Where(part => part.Key == Words)).ToUriComponent();
    }
}
