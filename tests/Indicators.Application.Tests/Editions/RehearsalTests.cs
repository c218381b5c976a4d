using Indicators.Analysis.Results;
using Indicators.Application.Editions;
using Indicators.Storage;
using Indicators.Storage.Editions;
using NodaTime;
using Xunit;

namespace Indicators.Application.Tests.Editions;

/// <summary>The rehearsal is there to have everything compiled, so it has to come to every kind of result.</summary>
public sealed class RehearsalTests
{
    [Fact]
    public void TheRehearsalComesToEveryKindOfResult()
    {
        using var database = Database.InMemory();

        Rehearsal.Run(database, CancellationToken.None);

        long edition = new EditionStore(database).Publish(Instant.FromUtc(2026, 3, 1, 0, 0))!.Number;
        var reader = new EditionReader(database);
        Assert.Contains(reader.Trends(edition), trend => trend is { LowerUnderlying: not null, ProbabilityOfDecline: not null });
        Assert.All(Enum.GetValues<TrendModel>(), model => Assert.Contains(reader.Variants(edition), variant => variant.Model == model && variant.Lower is not null));
        Assert.Contains(reader.Effects(edition), effect => effect.Lower is not null);
        Assert.Contains(reader.Smooth(edition), point => point.Lower is not null);
        Assert.NotEmpty(reader.Changes(edition));
        Assert.Contains(reader.Occupancy(edition), point => point.Lower is not null);
        Assert.NotEmpty(reader.Detection(edition));
        Assert.NotEmpty(reader.SilenceTallies(edition));
        Assert.Contains(reader.Conditions(edition), condition => condition.Score is not null);
        Assert.Contains(reader.Group(edition), point => point.Upper is not null);
        Assert.Contains(reader.GroupTrends(edition), trend => trend.LowerUnderlying is not null);
        Assert.Contains(reader.CallingChanges(edition), change => change.TotalLower is not null);
        Assert.Contains(reader.ScoreChanges(edition), change => change.Lower is not null);
        Assert.NotEmpty(reader.Pooled(edition));
        Assert.NotEmpty(reader.Shrunken(edition));
        Assert.NotEmpty(reader.RollUps(edition));
        Assert.NotEmpty(reader.WetlandCalls(edition));
        Assert.NotEmpty(reader.Surveys(edition));
    }

    [Fact]
    public void DatabasesInMemoryAreApart()
    {
        using Database one = Database.InMemory(), other = Database.InMemory();

        Rehearsal.Run(one, CancellationToken.None);

        Assert.NotNull(new EditionStore(one).Draft());
        Assert.Null(new EditionStore(other).Draft());
    }
}
