using System.IO.Compression;
using System.Reflection;
using System.Security.Cryptography;

namespace Indicators.Web.Serving;

/// <summary>One embedded file as it is served: its bytes, plain and compressed, and the hash that names its version.</summary>
internal sealed class Asset(string contentType, byte[] plain)
{
    private readonly Lazy<byte[]> _brotli = new(() => Compress(plain, stream => new BrotliStream(stream, CompressionLevel.SmallestSize)));
    private readonly Lazy<byte[]> _gzip = new(() => Compress(plain, stream => new GZipStream(stream, CompressionLevel.SmallestSize)));

    public string ContentType { get; } = contentType;

    public string Hash { get; } = Convert.ToHexStringLower(SHA256.HashData(plain))[..16];

    public byte[] Plain { get; } = plain;

    public byte[] Brotli => _brotli.Value;

    public byte[] Gzip => _gzip.Value;

    private static byte[] Compress(byte[] bytes, Func<Stream, Stream> compressor)
    {
        var target = new MemoryStream();
        using (var stream = compressor(target))
            stream.Write(bytes);
        return target.ToArray();
    }
}

/// <summary>
/// Style sheets, scripts and pictures, read from this assembly: they are there whoever hosts the app and from whichever
/// folder. Addresses carry the content's hash, so they can be kept for ever.
/// </summary>
internal sealed class Assets
{
    public const string Folder = "/assets/";

    private const string Prefix = "assets/";
    private readonly Dictionary<string, Asset> _byPath;

    public Assets()
    {
        var assembly = typeof(Assets).Assembly;
        _byPath = assembly.GetManifestResourceNames()
            .Where(name => name.StartsWith(Prefix, StringComparison.Ordinal))
            .ToDictionary(name => name[Prefix.Length..].Replace('\\', '/'), name => Read(assembly, name), StringComparer.Ordinal);
    }

    public IReadOnlyDictionary<string, Asset> ByPath => _byPath;

    public Asset? Find(string path) => _byPath.GetValueOrDefault(path);

    /// <summary>The address of a file with its content's hash.</summary>
    public string Url(string path) => $"{Folder}{path}?v={_byPath[path].Hash}";

    private static Asset Read(Assembly assembly, string name)
    {
        using var stream = assembly.GetManifestResourceStream(name)!;
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return new Asset(ContentType(Path.GetExtension(name)), bytes);
    }

    private static string ContentType(string extension) => extension switch
    {
        ".css" => "text/css; charset=utf-8",
        ".js" => "text/javascript; charset=utf-8",
        ".svg" => "image/svg+xml",
        ".json" => "application/json",
        _ => "text/plain; charset=utf-8",
    };
}
