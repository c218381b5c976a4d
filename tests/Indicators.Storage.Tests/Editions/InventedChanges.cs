using Indicators.Analysis.Results;

namespace Indicators.Storage.Tests.Editions;

/// <summary>Changes and gaps with a different value in every field.</summary>
internal static class InventedChanges
{
    internal static AreaResult AddedTo(AreaResult result)
    {
        var area = result.Area.Code;
        return result with
        {
            CallingChanges =
            [
                new CallingChange
                {
                    Area = area,
                    Species = Invented.Frog("marsh"),
                    Since = ChangeSince.PreviousSeason,
                    FromFirst = 2013,
                    FromLast = 2013,
                    Season = 2014,
                    SurveysBefore = 131,
                    SurveysNow = 132,
                    MeanBefore = 0,
                    MeanNow = 1.33,
                    Stop = ChangeStop.None,
                    SharedWetlands = 134,
                    SharedSurveys = 135,
                },
                new CallingChange
                {
                    Area = area,
                    Species = Invented.Frog("wood"),
                    Since = ChangeSince.Baseline,
                    FromFirst = 2010,
                    FromLast = 2012,
                    Season = 2014,
                    SurveysBefore = 136,
                    SurveysNow = 137,
                    MeanBefore = 1.38,
                    MeanNow = 1.39,
                    Total = 0.140,
                    TotalLower = 0.141,
                    TotalUpper = 0.142,
                    Stations = 0.143,
                    Visits = 0.144,
                    Windows = 0.145,
                    Observers = 0.146,
                    Method = 0.147,
                    Heard = 0.148,
                    HeardLower = 0.149,
                    HeardUpper = 0.150,
                    Stop = ChangeStop.FewObservers,
                    StoppedAt = ListeningStep.Observers,
                    SharedWetlands = 151,
                    SharedSurveys = 152,
                },
            ],
            ScoreChanges =
            [
                new ScoreChange
                {
                    Area = area, Since = ChangeSince.PreviousSeason, FromSeason = 2013, Season = 2014, Points = 1.53, SpeciesSplit = 154, SpeciesCompared = 155,
                    Lines = [new ScoreChangeLine(ListeningStep.Windows, ScorePart.Calling, null, 1.56), new ScoreChangeLine(null, ScorePart.Direction, Invented.Frog("wood"), -1.0 / 7)],
                },
                new ScoreChange
                {
                    Area = area, Since = ChangeSince.Baseline, FromSeason = 2012, Season = 2014, Points = 1.57, Lower = 1.58, Upper = 1.59, SpeciesSplit = 160, SpeciesCompared = 161, Lines = [],
                },
            ],
            Gaps = [new SeasonGap(area, 2013, 171, 172, 173, 174, 175, 176), new SeasonGap(area, 2014, 181, 182, 183, 184, 185, 186)],
        };
    }
}
