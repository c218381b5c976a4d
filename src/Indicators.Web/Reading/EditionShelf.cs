using Indicators.Storage.Editions;

namespace Indicators.Web.Reading;

/// <summary>
/// Keeps a few editions at hand, those asked for last: the published one, and earlier ones that readers look back at. Editions
/// never change, so one that is here is never read again.
/// </summary>
internal sealed class EditionShelf(IEditionReader reader)
{
    /// <summary>How many editions stand here at most. Each holds its areas, species and shapes; results are read for the asking.</summary>
    public const int Room = 4;

    private readonly Lock _door = new();
    private readonly LinkedList<PublishedEdition> _latest = new();

    /// <summary>The published edition, or null when nothing has been published yet.</summary>
    public PublishedEdition? Current() => reader.Published() is { } header ? Take(header) : null;

    /// <summary>The edition with this number, published now or earlier; null for drafts and unknown numbers.</summary>
    public PublishedEdition? ByNumber(long number) =>
        Known(number) ?? (reader.ByNumber(number) is { } header ? Take(header) : null);

    /// <summary>The heads of all published and earlier editions, latest first.</summary>
    public IReadOnlyList<EditionHeader> All() => reader.All();

    /// <summary>The last edition before one that has something; null when none has it.</summary>
    /// <param name="number">The number of the later edition.</param>
    /// <param name="has">Whether the edition of a number has it, by asking for no more than that.</param>
    public EditionHeader? LastBefore(long number, Func<IEditionReader, long, bool> has) =>
        reader.All().FirstOrDefault(header => header.Number < number && has(reader, header.Number));

    private PublishedEdition Take(EditionHeader header)
    {
        if (Known(header.Number) is { } known)
            return known;
        // Read outside the lock: two readers at once may both read it, and the second finds the first one's.
        var edition = new PublishedEdition(header, reader);
        lock (_door)
        {
            if (Find(header.Number) is { } other)
                return other;
            _latest.AddFirst(edition);
            if (_latest.Count > Room)
                _latest.RemoveLast();
        }
        return edition;
    }

    private PublishedEdition? Known(long number)
    {
        lock (_door)
        {
            if (Find(number) is not { } edition)
                return null;
            _latest.Remove(edition);
            _latest.AddFirst(edition);
            return edition;
        }
    }

    private PublishedEdition? Find(long number) => _latest.FirstOrDefault(edition => edition.Header.Number == number);
}
