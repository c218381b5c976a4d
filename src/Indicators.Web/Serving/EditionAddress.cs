using System.Globalization;
using Indicators.Wording;

namespace Indicators.Web.Serving;

/// <summary>A page that today's edition no longer has.</summary>
/// <param name="Subject">What it is about.</param>
/// <param name="Number">The last edition that had it.</param>
/// <param name="Address">Its address there.</param>
internal sealed record LeftPage(Subject Subject, long Number, string Address);

/// <summary>Addresses that ask for one edition.</summary>
internal static class EditionAddress
{
    /// <summary>What asks for an edition by its number: <c>?edition=3</c>.</summary>
    public const string Query = "edition";

    /// <summary>Set for a request that asks for an edition there is not, so that the page in its place can say so.</summary>
    public static readonly object UnknownKey = new();

    /// <summary>Holds a <see cref="LeftPage"/> for a request whose address only an earlier edition has something for.</summary>
    public static readonly object LeftKey = new();

    /// <summary>A page's whole address, which has nothing behind its path yet, asking for an edition.</summary>
    public static string OfWhole(long number, string page) => string.Create(CultureInfo.InvariantCulture, $"{page}?{Query}={number}");

    /// <summary>An address of ours, asking for an edition; any other address as it is.</summary>
    public static string In(long number, string address)
    {
        if (!address.StartsWith('/') || address.StartsWith("//", StringComparison.Ordinal))
            return address;
        int hash = address.IndexOf('#', StringComparison.Ordinal);
        string page = hash < 0 ? address : address[..hash], place = hash < 0 ? "" : address[hash..];
        char join = page.Contains('?', StringComparison.Ordinal) ? '&' : '?';
        return string.Create(CultureInfo.InvariantCulture, $"{page}{join}{Query}={number}{place}");
    }
}
