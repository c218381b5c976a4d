using System.IO.Compression;
using Microsoft.Extensions.Primitives;
using Microsoft.Net.Http.Headers;

namespace Indicators.Web.Serving;

/// <summary>How bytes are packed for the way: Brotli where the reader takes it, else gzip, else not at all.</summary>
internal static class Encodings
{
    public const string Brotli = "br", Gzip = "gzip", None = "";

    // Of 141 kB of a page 8 makes 16.3 kB in 2 ms. 9 saves half a percent and takes 15; 11 saves a sixth and takes 160, which is
    // more than the page itself (docs/benchmarks.md).
    private const int Quality = 8, Window = 22;

    private static readonly Dictionary<string, int> Usual = new(StringComparer.OrdinalIgnoreCase) { [Brotli] = 2, [Gzip] = 1 };

    /// <summary>The best of what a request takes.</summary>
    public static string Chosen(StringValues accepted)
    {
        if (accepted is [{ } line] && !line.Contains(';', StringComparison.Ordinal))
            return Best(line);
        return StringWithQualityHeaderValue.TryParseList([.. accepted.OfType<string>()], out var wanted)
            ? Best(string.Join(',', wanted.Where(each => each.Quality is not 0).Select(each => each.Value.ToString())))
            : None;
    }

    private static string Best(string list)
    {
        var names = Usual.GetAlternateLookup<ReadOnlySpan<char>>();
        int best = 0;
        foreach (var part in list.AsSpan().Split(','))
        {
            if (names.TryGetValue(list.AsSpan(part).Trim(), out int rank))
                best = Math.Max(best, rank);
        }
        return best switch { 2 => Brotli, 1 => Gzip, _ => None };
    }

    /// <summary>A whole body, packed once.</summary>
    public static ReadOnlyMemory<byte> Pack(ReadOnlyMemory<byte> bytes, string encoding)
    {
        if (encoding.Length == 0)
            return bytes;
        if (encoding == Brotli)
        {
            byte[] packed = new byte[BrotliEncoder.GetMaxCompressedLength(bytes.Length)];
            return BrotliEncoder.TryCompress(bytes.Span, packed, out int length, Quality, Window)
                ? packed.AsMemory(0, length)
                : throw new InvalidOperationException("Brotli's own bound did not hold.");
        }
        var target = new MemoryStream();
        using (var stream = new GZipStream(target, CompressionLevel.Optimal, leaveOpen: true))
            stream.Write(bytes.Span);
        return target.GetBuffer().AsMemory(0, (int)target.Length);
    }

    /// <summary>A stream that packs as it goes, for what is too long to hold; closing it leaves the target open.</summary>
    public static Stream Open(Stream target, string encoding) => encoding switch
    {
        Brotli => new BrotliStream(target, CompressionLevel.Optimal, leaveOpen: true),
        Gzip => new GZipStream(target, CompressionLevel.Optimal, leaveOpen: true),
        _ => target,
    };
}
