using System.Globalization;
using System.Reflection;
using System.Security.Cryptography;
using System.Text;
using Indicators.Storage.Editions;

namespace Indicators.Web.Serving;

/// <summary>Today's edition as it was looked up last.</summary>
/// <param name="Header">Its head, or null when nothing is published.</param>
/// <param name="Stamp">Stands for everything that pages are made of: this build, its settings and the edition.</param>
internal sealed record Lookup(EditionHeader? Header, string Stamp)
{
    public required long TakenAt { get; init; }
}

/// <summary>
/// Which edition is today's. Looked up once a second at most, so that a page that is at hand costs no question to the
/// database, and an edition is shown a second after it was published.
/// </summary>
internal sealed class TodaysEdition(IEditionReader reader, TimeProvider clock, PublicAddress address)
{
    public static readonly TimeSpan Trusted = TimeSpan.FromSeconds(1);

    private readonly string _build = Hash(string.Join(' ', Builds(typeof(TodaysEdition).Assembly, []).Append($"{Environment.Version} {address.Set}")));
    private volatile Lookup? _last;

    public Lookup Now()
    {
        if (_last is { } last && clock.GetElapsedTime(last.TakenAt) < Trusted)
            return last;
        long taken = clock.GetTimestamp();
        var header = reader.Published();
        return _last = new Lookup(header, header is null ? "" : Stamp(header, reader.StepsKept())) { TakenAt = taken };
    }

    // The same inputs, settings and engine make the same results; when they were published is said on pages too, and so is what
    // was found out about two editions afterwards.
    private string Stamp(EditionHeader header, long steps) => string.Create(
        CultureInfo.InvariantCulture,
        $"{Hash($"{_build} {header.Manifest}")}-{header.Number}-{(header.PublishedAt ?? header.CreatedAt).ToUnixTimeSeconds():x}-{steps}");

    // What this program says is settled by its own assemblies; each names the versions of the packages it was built with.
    private static IEnumerable<string> Builds(Assembly assembly, HashSet<string> seen) =>
        !seen.Add(assembly.FullName!) ? [] :
        assembly.GetReferencedAssemblies()
            .Where(name => name.Name!.StartsWith("Indicators.", StringComparison.Ordinal))
            .OrderBy(name => name.Name, StringComparer.Ordinal)
            .SelectMany(name => Builds(Assembly.Load(name), seen))
            .Append(assembly.ManifestModule.ModuleVersionId.ToString());

    private static string Hash(string text) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)))[..12];
}
