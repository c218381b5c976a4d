using System.Security.Cryptography;
using System.Text;

namespace Indicators.Exchange.Sharing;

/// <summary>
/// Ids made from names: the same name has the same id in every run and on every machine. Version 8 of RFC 9562, with SHA-256,
/// as its appendix B.2 shows.
/// </summary>
public static class NameUuid
{
    private static readonly Guid Ours = new("7c0f1d52-52a4-8d0e-9a43-0a5f2b6c9e11");

    /// <summary>The id of one of our own names.</summary>
    /// <param name="name">Any text; its parts set apart so that no two names can read alike.</param>
    public static Guid Of(string name) => Of(Ours, name);

    /// <summary>The id of a name in a namespace.</summary>
    /// <param name="space">The namespace's id.</param>
    /// <param name="name">The name, taken as UTF-8.</param>
    public static Guid Of(Guid space, string name)
    {
        byte[] hash = SHA256.HashData([.. space.ToByteArray(bigEndian: true), .. Encoding.UTF8.GetBytes(name)]);
        hash[6] = (byte)((hash[6] & 0x0F) | 0x80);
        hash[8] = (byte)((hash[8] & 0x3F) | 0x80);
        return new Guid(hash.AsSpan(0, 16), bigEndian: true);
    }
}
