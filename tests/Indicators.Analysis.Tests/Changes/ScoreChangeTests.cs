using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using NodaTime;
using Xunit;

namespace Indicators.Analysis.Tests.Changes;

/// <summary>A score's change in points: lines that add up, and nothing put down to listening that did not change.</summary>
public class ScoreChangeTests
{
    private static readonly WatershedCode Whole = Programmes.Code("99010101");

    private static AreaResult Analyse(ProgrammeData data) =>
        ProgrammeAnalysis.Prepare(data, new ProgrammeSettings(), new RunOptions { Resamples = 300 }).Analyse(Whole, 2, TestContext.Current.CancellationToken);

    private static Species[] Frogs => [Programmes.Frog("a"), Programmes.Frog("b", "8"), Programmes.Frog("c"), Programmes.Frog("d", "2")];

    /// <summary>Every station on the same three evenings of every season, by the same person, of the same length.</summary>
    private static ProgrammeData Balanced(ProgrammeData drawn)
    {
        var heard = drawn.Surveys.ToDictionary(survey => survey.Id.ToString());
        return drawn with
        {
            Surveys =
            [
                .. from station in drawn.Stations
                   from t in Enumerable.Range(0, 9)
                   from visit in Enumerable.Range(0, 3)
                   let id = $"{station.Id}-{t}-{visit}"
                   select (heard.GetValueOrDefault(id) ?? Programmes.Listen(id, station.Id.ToString(), new LocalDate(2010 + t, 4 + visit, 20))) with
                   {
                       Observer = $"person of {station.Id}",
                       Minutes = 5,
                   },
            ],
        };
    }

    [Fact]
    public void Lines_add_up_to_the_difference_of_the_published_scores()
    {
        int compared = 0, listening = 0;
        for (uint key = 1; key <= 6; key++)
        {
            var result = Analyse(Programmes.Drawn(key, [Whole.ToString()], 9, 9, Frogs));
            var scores = result.Conditions.Where(c => c.Score is not null).ToDictionary(c => c.Season, c => c.Score!.Value);
            foreach (var change in result.ScoreChanges)
            {
                Assert.Equal(scores[change.Season] - scores[change.FromSeason], change.Points, 1e-12);
                Assert.Equal(change.Points, change.Lines.Sum(line => line.Points), 1e-9);
                Assert.Equal(change.Points, change.Heard + change.Listening, 1e-9);
                Assert.True(change.Lower < change.Points && change.Points < change.Upper, $"{change.Points} outside {change.Lower} to {change.Upper}");
                listening += change.Lines.Count(line => line.Step is not null);
                compared++;
            }
            Assert.Equal(scores.Keys.Min(), result.ScoreChanges.Single(c => c.Since == ChangeSince.Baseline).FromSeason);
        }
        Assert.Equal(12, compared);
        Assert.True(listening >= 10, $"{listening} lines of the listening");
    }

    [Fact]
    public void Same_listening_puts_nothing_down_to_listening()
    {
        var result = Analyse(Balanced(Programmes.Drawn(4, [Whole.ToString()], 9, 9, Frogs)));
        Assert.Equal(2, result.ScoreChanges.Count);
        Assert.All(result.ScoreChanges, change =>
        {
            Assert.True(change.SpeciesSplit >= 2);
            // Index and ratio agree to the precision of the index's own fit.
            Assert.Equal(0, change.Listening, 1e-6);
        });
        Assert.All(result.CallingChanges.Where(change => change.Total is not null), change =>
        {
            Assert.Equal(change.Total!.Value, change.Heard!.Value, 1e-12);
            Assert.True(change.Stop != ChangeStop.None || change.SharedSurveys == change.SurveysBefore + change.SurveysNow);
        });
        Assert.Contains(result.CallingChanges, change => change is { Stop: ChangeStop.None, Total: not null });
    }

    [Fact]
    public void Species_heard_only_at_a_new_station_comes_by_the_stations()
    {
        var data = Balanced(Programmes.Drawn(4, [Whole.ToString()], 9, 9, Frogs));
        // "d" is expected but never heard but at one station that is new in the last season, and there for sure.
        var calls = data.Surveys.Select(survey => survey with { Calls = [.. survey.Calls.Where(call => call.Species != Programmes.SpeciesId("d"))] });
        var added = Enumerable.Range(0, 3).Select(visit =>
            Programmes.Listen($"new-{visit}", "new", new LocalDate(2018, 4 + visit, 20), ("d", 2)) with { Observer = "newcomer", Minutes = 5 });
        var world = data with
        {
            Stations = [.. data.Stations, Programmes.Pond("new", "wnew", Whole.ToString())],
            Surveys = [.. calls, .. added],
            Expected = [.. Frogs.Select(frog => new ExpectedSpecies(Whole, frog.Id, null))],
        };
        var change = Analyse(world).ScoreChanges.Single(c => c.Since == ChangeSince.PreviousSeason);
        // Presence: a quarter of 30 points; sensitivity: 2 of 20 points of coefficient.
        Assert.Equal(7.5, change.Lines.Single(line => line is { Step: ListeningStep.Stations, Part: ScorePart.Presence }).Points, 1e-9);
        Assert.Equal(2, change.Lines.Single(line => line is { Step: ListeningStep.Stations, Part: ScorePart.Sensitivity }).Points, 1e-9);
        Assert.DoesNotContain(change.Lines, line => line.Step is null && line.Species == Programmes.SpeciesId("d") && line.Part is ScorePart.Presence or ScorePart.Sensitivity);
    }

    [Fact]
    public void Species_heard_anew_at_a_station_of_both_times_was_heard()
    {
        var data = Balanced(Programmes.Drawn(4, [Whole.ToString()], 9, 9, Frogs));
        var world = data with
        {
            Surveys = [.. data.Surveys.Select(survey => survey with
            {
                Calls = [.. survey.Calls.Where(call => call.Species != Programmes.SpeciesId("d")),
                    .. survey.Date.Year == 2018 && survey.Station.ToString().EndsWith("-00", StringComparison.Ordinal)
                        ? new[] { new Call(Programmes.SpeciesId("d"), Programmes.Level(2)) } : []],
            })],
            Expected = [.. Frogs.Select(frog => new ExpectedSpecies(Whole, frog.Id, null))],
        };
        var change = Analyse(world).ScoreChanges.Single(c => c.Since == ChangeSince.PreviousSeason);
        Assert.Equal(7.5, change.Lines.Single(line => line is { Step: null, Part: ScorePart.Presence } && line.Species == Programmes.SpeciesId("d")).Points, 1e-9);
        Assert.DoesNotContain(change.Lines, line => line is { Step: not null, Part: ScorePart.Presence });
    }

    [Fact]
    public void Protected_species_is_told_of_only_where_it_may_be()
    {
        Species[] frogs = [Programmes.Frog("a"), Programmes.Frog("b", isProtected: true), Programmes.Frog("c"), Programmes.Frog("d")];
        var data = Programmes.Drawn(4, ["9901010101", "9901010102"], 4, 9, frogs);
        var analysis = ProgrammeAnalysis.Prepare(data, new ProgrammeSettings(), new RunOptions { Resamples = 100 });
        var results = analysis.Areas.ToDictionary(area => area.ToString(), area => analysis.Analyse(area, 2, TestContext.Current.CancellationToken));
        Assert.DoesNotContain(results["9901010101"].CallingChanges, change => change.Species == frogs[1].Id);
        Assert.Contains(results["99010101"].CallingChanges, change => change.Species == frogs[1].Id);
    }

    [Fact]
    public void Gaps_count_stations_and_thirds_of_windows_without_a_survey()
    {
        var window = new CallingWindow(new AnnualDate(4, 1), new AnnualDate(6, 29)); // 90 days, thirds of 30
        Species[] frogs = [Programmes.Frog("a", window: window), Programmes.Frog("late", window: new CallingWindow(new AnnualDate(8, 1), new AnnualDate(8, 30)))];
        Survey[] surveys =
        [
            Programmes.Listen("1", "one", new LocalDate(2020, 4, 10), ("a", 1)), Programmes.Listen("2", "two", new LocalDate(2020, 5, 10), ("a", 1)),
            Programmes.Listen("3", "one", new LocalDate(2021, 6, 29), ("a", 1)), Programmes.Listen("4", "late", new LocalDate(2021, 8, 30), ("late", 1)),
            Programmes.Listen("5", "three", new LocalDate(2025, 4, 30), ("a", 1)),
        ];
        Station[] stations = [.. new[] { "one", "two", "three", "late" }.Select(id => Programmes.Pond(id, "w" + id, Whole.ToString()))];
        var result = Analyse(Programmes.Data(stations, frogs, surveys, [.. frogs.Select(frog => new ExpectedSpecies(Whole, frog.Id, null))]));
        Assert.Equal(
            [
                new SeasonGap(Whole, 2020, 0, 0, 2, 1, 6, 4),
                new SeasonGap(Whole, 2021, 2, 1, 2, 0, 6, 4),
                new SeasonGap(Whole, 2025, 0, 0, 2, 1, 6, 5),
            ],
            result.Gaps);
    }
}
