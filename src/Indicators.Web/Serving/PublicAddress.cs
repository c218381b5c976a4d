namespace Indicators.Web.Serving;

/// <summary>
/// Where the public finds the app: what <c>INDICATORS_PUBLIC_ADDRESS</c> says, or else the host that was asked. Behind a proxy
/// only the former is sure to be right.
/// </summary>
internal sealed class PublicAddress(IConfiguration configuration)
{
    /// <summary>The setting's name.</summary>
    public const string Setting = "INDICATORS_PUBLIC_ADDRESS";

    /// <summary>What the setting says, or null.</summary>
    public string? Set { get; } =
        Uri.TryCreate(configuration[Setting], UriKind.Absolute, out var set) && set.Scheme is "http" or "https" ? set.ToString().TrimEnd('/') : null;

    /// <summary>A page's whole address, in the language it is read in.</summary>
    /// <param name="request">The request at hand.</param>
    /// <param name="path">The page's path, from its first slash.</param>
    public string Of(HttpRequest request, string path) =>
        Whole(request, request.PathBase.ToUriComponent() + path);

    /// <summary>The whole of an address that has its language in it.</summary>
    public string Whole(HttpRequest request, string address) =>
        $"{Set ?? $"{request.Scheme}://{request.Host.ToUriComponent()}"}{address}";
}
