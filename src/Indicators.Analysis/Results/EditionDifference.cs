namespace Indicators.Analysis.Results;

/// <summary>What can make two editions differ.</summary>
[Flags]
public enum EditionCauses
{
    /// <summary>They rest on the same.</summary>
    None = 0,

    /// <summary>Surveys were added.</summary>
    NewData = 1,

    /// <summary>Surveys that were there are other or gone, or the lists of species and watersheds are.</summary>
    CorrectedData = 2,

    /// <summary>The inputs differ in something that no edition tells: places, or calls of protected species.</summary>
    WithheldData = 4,

    /// <summary>The programme's settings differ.</summary>
    NewSettings = 8,

    /// <summary>The seed, the number of resamples or the last season of the run differ.</summary>
    NewRun = 16,

    /// <summary>Another version of the engine, or another runtime or processor, computed it.</summary>
    NewEngine = 32,
}

/// <summary>How the copies of the surveys differ.</summary>
/// <param name="Added">Surveys only the later edition has.</param>
/// <param name="Removed">Surveys only the earlier one has.</param>
/// <param name="Changed">Surveys of both with another content.</param>
/// <param name="AddedFirst">The earliest calendar year of an added survey; null without any.</param>
/// <param name="AddedLast">The latest.</param>
public sealed record SurveyDifference(int Added, int Removed, int Changed, int? AddedFirst, int? AddedLast)
{
    /// <summary>No difference.</summary>
    public static SurveyDifference None { get; } = new(0, 0, 0, null, null);
}

/// <summary>
/// One step of the way from an edition to a later one: the analysis run again with one thing more changed. The last step
/// ends at the later edition, so it has no results of its own.
/// </summary>
/// <param name="Causes">What changed in this step; more than one where they could not be told apart.</param>
/// <param name="Trends">The trends after it, of areas and species of both editions, ordered by area, then species.</param>
/// <param name="Conditions">Each area's condition in its last season after it, ordered by area, without lines.</param>
public sealed record EditionStep(EditionCauses Causes, IReadOnlyList<Trend> Trends, IReadOnlyList<Condition> Conditions);
