namespace Indicators.Web;

/// <summary>What the web app is started with.</summary>
/// <param name="DatabasePath">The database whose published edition is shown.</param>
/// <param name="Args">Command-line settings of the host, such as <c>--urls http://localhost:5080</c>.</param>
public sealed record WebSettings(string DatabasePath, string[] Args);
