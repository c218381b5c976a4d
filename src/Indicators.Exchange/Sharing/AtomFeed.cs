using System.Text;
using System.Xml;
using NodaTime;
using NodaTime.Text;

namespace Indicators.Exchange.Sharing;

/// <summary>One entry of a feed.</summary>
/// <param name="Id">Its id, which never changes.</param>
/// <param name="Title">Its title, plain text.</param>
/// <param name="Summary">What is new, plain text.</param>
/// <param name="Updated">When it came to be.</param>
/// <param name="Address">The page it is about, a whole address.</param>
public sealed record AtomEntry(Guid Id, string Title, string Summary, Instant Updated, string Address);

/// <summary>A feed of the Atom Syndication Format, RFC 4287.</summary>
public sealed record AtomFeed
{
    private const string Space = "http://www.w3.org/2005/Atom";

    /// <summary>Its media type.</summary>
    public const string MediaType = "application/atom+xml";

    /// <summary>Its id, which never changes.</summary>
    public required Guid Id { get; init; }

    /// <summary>Its title, plain text.</summary>
    public required string Title { get; init; }

    /// <summary>Who speaks in it.</summary>
    public required string Author { get; init; }

    /// <summary>The BCP 47 tag of its language.</summary>
    public required string Language { get; init; }

    /// <summary>The feed's own whole address.</summary>
    public required string SelfAddress { get; init; }

    /// <summary>The page it stands for, a whole address.</summary>
    public required string Address { get; init; }

    /// <summary>Its entries, latest first; at least one, whose time is the feed's.</summary>
    public required IReadOnlyList<AtomEntry> Entries { get; init; }

    /// <summary>The feed as UTF-8.</summary>
    public byte[] Write()
    {
        using var target = new MemoryStream();
        using (var xml = XmlWriter.Create(target, new XmlWriterSettings { Encoding = new UTF8Encoding(false), Indent = true }))
        {
            xml.WriteStartElement("feed", Space);
            xml.WriteAttributeString("xml", "lang", null, Language);
            Head(xml, Id, Title, Entries.Max(entry => entry.Updated));
            xml.WriteStartElement("author", Space);
            xml.WriteElementString("name", Space, Author);
            xml.WriteEndElement();
            Link(xml, "self", SelfAddress, MediaType);
            Link(xml, "alternate", Address, "text/html");
            foreach (var entry in Entries)
            {
                xml.WriteStartElement("entry", Space);
                Head(xml, entry.Id, entry.Title, entry.Updated);
                Link(xml, "alternate", entry.Address, "text/html");
                xml.WriteElementString("summary", Space, entry.Summary);
                xml.WriteEndElement();
            }
            xml.WriteEndElement();
        }
        return target.ToArray();
    }

    private static void Head(XmlWriter xml, Guid id, string title, Instant updated)
    {
        xml.WriteElementString("id", Space, $"urn:uuid:{id}");
        xml.WriteElementString("title", Space, title);
        xml.WriteElementString("updated", Space, InstantPattern.General.Format(updated));
    }

    private static void Link(XmlWriter xml, string relation, string address, string type)
    {
        xml.WriteStartElement("link", Space);
        xml.WriteAttributeString("rel", relation);
        xml.WriteAttributeString("type", type);
        xml.WriteAttributeString("href", address);
        xml.WriteEndElement();
    }
}
