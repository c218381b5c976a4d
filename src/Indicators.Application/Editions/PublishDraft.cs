using Indicators.Analysis.Results;
using Indicators.Storage.Editions;
using NodaTime;

namespace Indicators.Application.Editions;

/// <summary>What publishing came to: the edition that pages now show, or the reason why nothing changed.</summary>
/// <param name="Edition">The published edition's head, or null.</param>
/// <param name="Problem">Why there is none, or null.</param>
/// <param name="SeveralCausesSince">The edition shown until now, where more than one of surveys, settings, run and engine changed since; else null.</param>
public sealed record PublishOutcome(EditionHeader? Edition, EditionProblem? Problem, long? SeveralCausesSince = null);

/// <summary>Makes the draft the edition that pages show; the former one stays, readable by its number.</summary>
public sealed class PublishDraft
{
    private readonly EditionStore _editions;
    private readonly IEditionReader _reader;
    private readonly IClock _clock;

    /// <summary>The use case on this store.</summary>
    public PublishDraft(EditionStore editions, IEditionReader reader, IClock clock) => (_editions, _reader, _clock) = (editions, reader, clock);

    /// <summary>Publishes the draft.</summary>
    public PublishOutcome Run()
    {
        var before = _reader.Published();
        return _editions.Publish(_clock.GetCurrentInstant()) is { } edition
            ? new PublishOutcome(edition, null, before is not null && CompareEditions.HaveSeveralCauses(before.Manifest, edition.Manifest) ? before.Number : null)
            : new PublishOutcome(null, new EditionProblem(EditionProblemKind.NoDraft));
    }
}
