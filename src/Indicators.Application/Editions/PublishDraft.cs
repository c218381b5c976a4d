using Indicators.Analysis.Results;
using Indicators.Storage.Editions;
using NodaTime;

namespace Indicators.Application.Editions;

/// <summary>What publishing came to: the edition that pages now show, or the reason why nothing changed.</summary>
/// <param name="Edition">The published edition's head, or null.</param>
/// <param name="Problem">Why there is none, or null.</param>
public sealed record PublishOutcome(EditionHeader? Edition, EditionProblem? Problem);

/// <summary>Makes the draft the edition that pages show; the former one stays, readable by its number.</summary>
public sealed class PublishDraft
{
    private readonly EditionStore _editions;
    private readonly IClock _clock;

    /// <summary>The use case on this store.</summary>
    public PublishDraft(EditionStore editions, IClock clock) => (_editions, _clock) = (editions, clock);

    /// <summary>Publishes the draft.</summary>
    public PublishOutcome Run() => _editions.Publish(_clock.GetCurrentInstant()) is { } edition
        ? new PublishOutcome(edition, null)
        : new PublishOutcome(null, new EditionProblem(EditionProblemKind.NoDraft));
}
