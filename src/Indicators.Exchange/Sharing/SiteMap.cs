using System.Text;
using System.Xml;
using NodaTime;
using NodaTime.Text;

namespace Indicators.Exchange.Sharing;

/// <summary>One page in one language.</summary>
/// <param name="Language">The BCP 47 tag.</param>
/// <param name="Address">The whole address.</param>
public sealed record SiteAddress(string Language, string Address);

/// <summary>A list of pages for search engines, in the Sitemaps XML format 0.9 with its links to other languages.</summary>
public static class SiteMap
{
    /// <summary>What one file may hold.</summary>
    public const int MostAddresses = 50_000;

    private const string Space = "http://www.sitemaps.org/schemas/sitemap/0.9";
    private const string Xhtml = "http://www.w3.org/1999/xhtml";

    /// <summary>The file as UTF-8. Pages beyond <see cref="MostAddresses"/> are left out, from the end.</summary>
    /// <param name="pages">Every page, each with its address in every language.</param>
    /// <param name="changed">The day the pages changed last.</param>
    public static byte[] Write(IEnumerable<IReadOnlyList<SiteAddress>> pages, LocalDate changed)
    {
        using var target = new MemoryStream();
        using (var xml = XmlWriter.Create(target, new XmlWriterSettings { Encoding = new UTF8Encoding(false) }))
        {
            xml.WriteStartElement("urlset", Space);
            xml.WriteAttributeString("xmlns", "xhtml", null, Xhtml);
            foreach (var (page, own) in pages.SelectMany(page => page.Select(own => (page, own))).Take(MostAddresses))
            {
                xml.WriteStartElement("url", Space);
                xml.WriteElementString("loc", Space, own.Address);
                xml.WriteElementString("lastmod", Space, LocalDatePattern.Iso.Format(changed));
                foreach (var other in page)
                {
                    xml.WriteStartElement("link", Xhtml);
                    xml.WriteAttributeString("rel", "alternate");
                    xml.WriteAttributeString("hreflang", other.Language);
                    xml.WriteAttributeString("href", other.Address);
                    xml.WriteEndElement();
                }
                xml.WriteEndElement();
            }
            xml.WriteEndElement();
        }
        return target.ToArray();
    }
}
