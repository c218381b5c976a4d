using Indicators.Analysis.Results;
using Indicators.Exchange.Export;
using Indicators.Storage.Tests;
using Xunit;

namespace Indicators.Application.Tests.Export;

public sealed class ChangeExportTests
{
    private static async Task<string> Csv(ExportTable table)
    {
        using var stream = new MemoryStream();
        await TableWriter.WriteAsync(table, ExportFormat.Csv, stream, TestContext.Current.CancellationToken);
        return System.Text.Encoding.UTF8.GetString(stream.ToArray());
    }

    [Fact]
    public async Task Changes_have_these_columns_in_this_order()
    {
        var (area, wood) = (Invented.Code("0701"), Invented.Frog("wood"));
        var change = new CallingChange
        {
            Area = area, Species = wood, Since = ChangeSince.Baseline, FromFirst = 2012, FromLast = 2014, Season = 2026, SurveysBefore = 30, SurveysNow = 12,
            MeanBefore = 1, MeanNow = 0.5, Total = -0.75, TotalLower = -1, TotalUpper = -0.5, Stations = 0.25, Visits = 0.125, Heard = -1.125, HeardLower = -1.5,
            Stop = ChangeStop.FewHeard, StoppedAt = ListeningStep.Windows, SharedWetlands = 7, SharedSurveys = 21,
        };
        Assert.Equal(
            "watershed_code,species_id,since,from_first,from_last,season,surveys_before,surveys_now,mean_before,mean_now,total,total_lower,total_upper,"
            + "stations,visits,windows,observers,method,heard,heard_lower,heard_upper,stop,stopped_at,shared_wetlands,shared_surveys\n"
            + "0701,wood,baseline,2012,2014,2026,30,12,1,0.5,-0.75,-1,-0.5,0.25,0.125,,,,-1.125,-1.5,,few_heard,windows,7,21\n",
            await Csv(ChangeExports.Change([change])));

        var score = new ScoreChange
        {
            Area = area, Since = ChangeSince.PreviousSeason, FromSeason = 2025, Season = 2026, Points = -3.5, Lower = -6, Upper = 1, SpeciesSplit = 4, SpeciesCompared = 5,
            Lines = [new ScoreChangeLine(ListeningStep.Stations, ScorePart.Calling, null, -0.5), new ScoreChangeLine(null, ScorePart.Calling, wood, -3)],
        };
        Assert.Equal(
            "watershed_code,since,from_season,season,step,part,species_id,points,change,change_lower,change_upper,species_split,species_compared\n"
            + "0701,previous_season,2025,2026,stations,calling,,-0.5,-3.5,-6,1,4,5\n0701,previous_season,2025,2026,heard,calling,wood,-3,-3.5,-6,1,4,5\n",
            await Csv(ChangeExports.ScoreChange([score])));
        Assert.Equal(
            "watershed_code,season,stations_before,stations_missed,windows,windows_without,parts,parts_without\n0701,2026,9,2,8,1,24,5\n",
            await Csv(ChangeExports.Gaps([new SeasonGap(area, 2026, 9, 2, 8, 1, 24, 5)])));
    }
}
