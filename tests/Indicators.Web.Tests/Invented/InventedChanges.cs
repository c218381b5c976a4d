using Indicators.Analysis.Results;
using Indicators.Monitoring;

namespace Indicators.Web.Tests.Invented;

/// <summary>Changes of the invented edition's last season, made by hand.</summary>
internal static class InventedChanges
{
    private static readonly WatershedCode[] Scored = [InventedEdition.Whole, InventedEdition.Middle, InventedEdition.Marl, InventedEdition.Otter];

    public static IReadOnlyList<ScoreChange> Scores() => [.. Scored.SelectMany(area => new[] { ChangeSince.PreviousSeason, ChangeSince.Baseline }.Select(since => new ScoreChange
    {
        Area = area,
        Since = since,
        FromSeason = since == ChangeSince.PreviousSeason ? InventedEdition.Last - 1 : InventedEdition.First + 2,
        Season = InventedEdition.Last,
        Points = -4.449,
        Lower = area == InventedEdition.Otter ? -8.1 : -9.2,
        Upper = area == InventedEdition.Otter ? -0.7 : 1.3,
        SpeciesSplit = 3,
        SpeciesCompared = 4,
        Lines =
        [
            new(ListeningStep.Stations, ScorePart.Presence, null, 1.049), new(ListeningStep.Stations, ScorePart.Calling, null, 0.333), new(ListeningStep.Windows, ScorePart.Calling, null, -0.444),
            new(null, ScorePart.Calling, InventedEdition.Wood, -4.949), new(null, ScorePart.Calling, null, 0.011), new(null, ScorePart.Direction, InventedEdition.Wood, -0.449),
        ],
    }))];

    public static IReadOnlyList<CallingChange> Calling() =>
    [
        Change(InventedEdition.Wood) with { Total = -0.5, Stations = 0.1, Visits = 0.05, Heard = -0.65, HeardLower = -0.9, HeardUpper = -0.4, Stop = ChangeStop.FewSurveys, StoppedAt = ListeningStep.Windows },
        Change(InventedEdition.Peeper) with { Total = 0.2, Heard = 0.2, Stop = ChangeStop.FewHeard, StoppedAt = ListeningStep.Stations },
        Change(InventedEdition.Leopard) with { MeanNow = 0 },
    ];

    private static CallingChange Change(Id<Species> species) => new()
    {
        Area = InventedEdition.Whole, Species = species, Since = ChangeSince.PreviousSeason, FromFirst = InventedEdition.Last - 1, FromLast = InventedEdition.Last - 1, Season = InventedEdition.Last,
        SurveysBefore = 90, SurveysNow = 84, MeanBefore = 0.8, MeanNow = 0.5, Stop = ChangeStop.None, SharedWetlands = 40, SharedSurveys = 120,
    };
}
