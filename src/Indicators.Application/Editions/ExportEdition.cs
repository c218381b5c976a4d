using Indicators.Analysis.Results;
using Indicators.Exchange.Export;
using Indicators.Monitoring;
using Indicators.Storage.Editions;

namespace Indicators.Application.Editions;

/// <summary>What can be taken out of an edition.</summary>
public enum ExportWhat
{
    /// <summary>Trends.</summary>
    Trends,

    /// <summary>Trends of every window, response and model.</summary>
    TrendsAll,

    /// <summary>Why there is no trend, and the same trend by other means.</summary>
    TrendChecks,

    /// <summary>How well trends are supported.</summary>
    Influence,

    /// <summary>Abundance indices.</summary>
    Indices,

    /// <summary>Condition scores.</summary>
    Condition,

    /// <summary>The redacted copy of the surveys.</summary>
    Surveys,

    /// <summary>The lines that explain the scores.</summary>
    ConditionLines,

    /// <summary>The index of groups of species.</summary>
    Group,

    /// <summary>Trends of groups of species.</summary>
    GroupTrends,

    /// <summary>Slopes pooled over areas beside each other.</summary>
    Pooled,

    /// <summary>Slopes of single areas with strength borrowed from those beside them.</summary>
    Shrunken,

    /// <summary>Indices of larger areas fitted directly and rolled up from smaller ones.</summary>
    Rollup,

    /// <summary>Listening by area and season.</summary>
    Effort,

    /// <summary>Effects of the adjusted trends' covariates.</summary>
    Effects,

    /// <summary>Smooth courses.</summary>
    Smooth,

    /// <summary>The smooth courses' fastest changes.</summary>
    Changes,

    /// <summary>Occupancy of wetlands by season.</summary>
    Occupancy,

    /// <summary>Occupancy's rates.</summary>
    OccupancyRates,

    /// <summary>Detection by part of the calling window.</summary>
    Detection,

    /// <summary>Stations gone quiet and newly heard.</summary>
    Silence,

    /// <summary>How many silences were looked at.</summary>
    SilenceTally,

    /// <summary>When species are listened for and were heard.</summary>
    CallingTimes,

    /// <summary>Names of places.</summary>
    Gazetteer,

    /// <summary>Wetlands listened to.</summary>
    Wetlands,

    /// <summary>Listening at wetlands by season.</summary>
    WetlandSeasons,

    /// <summary>What was heard at wetlands.</summary>
    WetlandCalls,

    /// <summary>The last season's calling set beside earlier ones.</summary>
    Change,

    /// <summary>The last season's score set beside earlier ones, line by line.</summary>
    ScoreChange,

    /// <summary>What of the listening is missing.</summary>
    Gaps,

    /// <summary>What moved since an earlier edition.</summary>
    Moves,
}

/// <summary>What an export came to: a table to write, or the reason why there is none.</summary>
/// <param name="Edition">The edition it is from, or null.</param>
/// <param name="Table">The table, or null.</param>
/// <param name="Problem">Why there is none, or null.</param>
public sealed record ExportOutcome(EditionHeader? Edition, ExportTable? Table, EditionProblem? Problem);

/// <summary>Takes a table out of the published edition, or of an earlier one by its number. For page and command alike.</summary>
public sealed class ExportEdition
{
    private readonly IEditionReader _editions;
    private readonly CompareEditions _compare;
    private readonly Func<long, long, EditionComparison?> _comparison;

    /// <summary>The use case on this reader.</summary>
    /// <param name="editions">The editions.</param>
    /// <param name="comparison">Who sets two editions side by side and may have kept the answer; null to work it out each time.</param>
    public ExportEdition(IEditionReader editions, Func<long, long, EditionComparison?>? comparison = null)
    {
        (_editions, _compare) = (editions, new CompareEditions(editions));
        _comparison = comparison ?? _compare.Run;
    }

    /// <summary>Finds the table. Its rows are read while they are written.</summary>
    /// <param name="what">What to take out.</param>
    /// <param name="number">The edition, or null for the published one.</param>
    /// <param name="filter">Which rows, or null for all. There is no table when it names something that this one is not about, or that is not there.</param>
    public ExportOutcome Run(ExportWhat what, long? number = null, ExportFilter? filter = null)
    {
        var edition = number is { } wanted ? _editions.ByNumber(wanted) : _editions.Published();
        if (edition is null)
        {
            var kind = number is null ? EditionProblemKind.NothingPublished : EditionProblemKind.UnknownEdition;
            return new ExportOutcome(null, null, new EditionProblem(kind, number));
        }
        var rows = filter ?? ExportFilter.None;
        return new ExportOutcome(edition, IsThere(edition.Number, rows) ? Table(what, edition.Number, rows) : null, null);
    }

    private bool IsThere(long edition, ExportFilter filter) =>
        (filter.Area is not { } area || _editions.AreaOf(edition, area) is not null)
        && (filter.Species is not { } species || _editions.Species(edition).Any(one => one.Id == species))
        && (filter.Wetland is not { } wetland || _editions.Wetlands(edition, shortName: wetland).Count > 0);

    private ExportTable? Table(ExportWhat what, long edition, ExportFilter filter)
    {
        var (area, species) = (filter.Area, filter.Species);
        if (filter.Since is not null && what != ExportWhat.Moves)
            return null;
        return (filter.Wetland, species) switch
        {
            (not null, not null) => null,
            ({ } wetland, null) when area is null => OfWetland(what, edition, wetland),
            ({ }, null) => null,
            (null, not null) => OfAreasAndSpecies(what, edition, area, species),
            _ when what == ExportWhat.Moves => area is null ? Moves(edition, filter.Since) : null,
            _ => OfAreasAndSpecies(what, edition, area, null) ?? OfAreas(what, edition, area) ?? OfPlaces(what, edition, area),
        };
    }

    private ExportTable? OfAreasAndSpecies(ExportWhat what, long edition, WatershedCode? area, Id<Species>? species) => what switch
    {
        ExportWhat.Trends => ExportTables.Trends(_editions.Trends(edition, area, species)),
        ExportWhat.TrendsAll => ExportTables.TrendsAll(_editions.Variants(edition, area, species)),
        ExportWhat.TrendChecks => ExportTables.TrendChecks(_editions.Trends(edition, area, species)),
        ExportWhat.Influence => ExportTables.Influence(_editions.Evidence(edition, area, species)),
        ExportWhat.Indices => ExportTables.Indices(_editions.Indices(edition, area, species)),
        ExportWhat.Shrunken => PoolingExports.Shrunken(_editions.Shrunken(edition, area, species)),
        ExportWhat.Rollup => PoolingExports.RollUp(_editions.RollUps(edition, area, species)),
        ExportWhat.Effects => ExportTables.Effects(_editions.Effects(edition, area, species)),
        ExportWhat.Smooth => ExportTables.Smooth(_editions.Smooth(edition, area, species)),
        ExportWhat.Changes => ExportTables.Changes(_editions.Changes(edition, area, species)),
        ExportWhat.Occupancy => ExportTables.Occupancy(_editions.Occupancy(edition, area, species)),
        ExportWhat.OccupancyRates => ExportTables.OccupancyRates(_editions.OccupancyRates(edition, area, species)),
        ExportWhat.Detection => ExportTables.Detection(_editions.Detection(edition, area, species)),
        ExportWhat.Silence => ExportTables.Silence(_editions.Silences(edition, area, species)),
        ExportWhat.CallingTimes => PlaceExports.CallingTimes(_editions.CallingTimes(edition, area, species)),
        ExportWhat.Change => ChangeExports.Change(_editions.CallingChanges(edition, area, species)),
        _ => null,
    };

    private ExportTable? OfAreas(ExportWhat what, long edition, WatershedCode? area) => what switch
    {
        ExportWhat.Condition => ExportTables.Conditions(_editions.Conditions(edition, area)),
        ExportWhat.ConditionLines => ExportTables.ConditionLines(_editions.Conditions(edition, area)),
        ExportWhat.Group => ExportTables.Group(_editions.Group(edition, area)),
        ExportWhat.GroupTrends => ExportTables.GroupTrends(_editions.GroupTrends(edition, area)),
        ExportWhat.Effort => ExportTables.Effort(_editions.Effort(edition, area)),
        ExportWhat.SilenceTally => ExportTables.SilenceTally(_editions.SilenceTallies(edition, area)),
        ExportWhat.ScoreChange => ChangeExports.ScoreChange(_editions.ScoreChanges(edition, area)),
        ExportWhat.Gaps => ChangeExports.Gaps(_editions.Gaps(edition, area)),
        _ => null,
    };

    private ExportTable? OfPlaces(ExportWhat what, long edition, WatershedCode? area)
    {
        bool In(WatershedCode code) => area is not { } outer || code.IsWithin(outer);
        return what switch
        {
            ExportWhat.Surveys => ExportTables.Surveys(_editions.Surveys(edition).Where(survey => In(survey.Watershed))),
            ExportWhat.Gazetteer => PlaceExports.Gazetteer(_editions.Gazetteer(edition).Where(entry => In(entry.Area))),
            ExportWhat.Wetlands => PlaceExports.Wetlands(_editions.Wetlands(edition).Where(place => In(place.Area))),
            ExportWhat.Pooled when area is null => PoolingExports.Pooled(_editions.Pooled(edition)),
            ExportWhat.WetlandSeasons when area is null => PlaceExports.WetlandSeasons(_editions.WetlandSeasons(edition)),
            ExportWhat.WetlandCalls when area is null => PlaceExports.WetlandCalls(_editions.WetlandCalls(edition)),
            _ => null,
        };
    }

    /// <summary>What moved since an edition; since the one published before when none is named, and no row when there is none.</summary>
    private ExportTable? Moves(long edition, long? since)
    {
        if ((since ?? _compare.Before(edition)) is not { } earlier)
            return MoveExports.Moves(null, edition, []);
        return earlier < edition && _comparison(earlier, edition) is { } comparison
            ? MoveExports.Moves(earlier, edition, EditionMoves.Of(comparison)) : null;
    }

    private ExportTable? OfWetland(ExportWhat what, long edition, string slug)
    {
        var wetland = _editions.Wetlands(edition, shortName: slug)[0].Wetland;
        return what switch
        {
            ExportWhat.WetlandSeasons => PlaceExports.WetlandSeasons(_editions.WetlandSeasons(edition, wetland)),
            ExportWhat.WetlandCalls => PlaceExports.WetlandCalls(_editions.WetlandCalls(edition, wetland)),
            _ => null,
        };
    }

    /// <summary>The name of what can be taken out, in commands, addresses and file names: lower snake case.</summary>
    public static string Name(ExportWhat what) => ResultCode.Of(what);

    /// <summary>What a name stands for, or null.</summary>
    public static ExportWhat? ByName(string name) =>
        Enum.GetValues<ExportWhat>().Cast<ExportWhat?>().FirstOrDefault(what => Name(what!.Value) == name);
}
