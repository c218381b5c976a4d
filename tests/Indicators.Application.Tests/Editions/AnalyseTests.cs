using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Application.Editions;
using Indicators.Storage;
using Indicators.Storage.Editions;
using Indicators.Storage.Surveys;
using Indicators.Storage.Tests;
using Microsoft.Data.Sqlite;
using NodaTime;
using Xunit;

namespace Indicators.Application.Tests.Editions;

public sealed class AnalyseTests
{
    [Fact]
    public void Analysis_makes_a_draft_of_every_area_that_publishing_shows()
    {
        using var programme = new Programme();
        var outcome = programme.Analyse();
        Assert.Equal(EditionState.Draft, outcome.Draft!.State);
        Assert.Null(programme.Reader.Published());

        var published = programme.Publish().Edition!;
        Assert.Equal(outcome.Draft.Number, published.Number);
        Assert.Equal(
            ["99", "9901", "990101", "99010101", "9901010101"],
            programme.Reader.Areas(published.Number).Select(area => area.Code.ToString()));
        Assert.Equal("9901010101", Assert.Single(programme.Reader.Shapes(published.Number)).Code.ToString());
        Assert.Equal(5, Assert.Single(published.Warnings).Count);
        Assert.Equal(64, published.Manifest.InputsSha256.Length);
    }

    [Fact]
    public void Edition_holds_nothing_that_could_leak()
    {
        using var programme = new Programme();
        programme.Analyse();
        long number = programme.Publish().Edition!.Number;
        var surveys = programme.Reader.Surveys(number).ToList();
        Assert.Equal(["s-1", "s-2"], surveys.Select(survey => survey.Id.ToString()));
        // The marsh frog is protected: the night it was loudest looks as if only the wood frog had called.
        Assert.Equal("wood", Assert.Single(surveys[0].Calls).Species.ToString());

        string everything = EditionTables(programme);
        Assert.Contains("s-1", everything, StringComparison.Ordinal);
        foreach (string secret in new[] { "B. Listener", "A. Keeper", "quoted", "45.1234567", "-90.5", "R1" })
            Assert.DoesNotContain(secret, everything, StringComparison.Ordinal);
    }

    [Fact]
    public void Nothing_to_analyse_is_a_result_not_an_edition()
    {
        using var empty = new Programme(empty: true);
        Assert.Equal(new EditionProblem(EditionProblemKind.NothingToAnalyse), empty.Analyse().Problem);
        using var programme = new Programme();
        var early = new AnalyseRequest { Run = new RunOptions { ThroughSeason = 1999 } };
        Assert.Equal(new EditionProblem(EditionProblemKind.NothingToAnalyse, 1999), programme.Analyse(early).Problem);
        Assert.Null(programme.Editions.Draft());
        Assert.Equal(new EditionProblem(EditionProblemKind.NoDraft), programme.Publish().Problem);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(3000)]
    public async Task Stopped_run_goes_on_and_ends_with_the_same_bytes(int stepMilliseconds)
    {
        using var whole = new Programme();
        whole.Analyse();
        whole.Publish();

        using var stopped = new Programme();
        stopped.Time.Step = Duration.FromMilliseconds(stepMilliseconds);
        stopped.AnalyseUntil(digits: 6);
        Assert.Equal(["99", "9901"], stopped.Engine!.Done.Select(area => area.ToString()));
        Assert.Null(stopped.Editions.Draft());

        var outcome = stopped.Analyse();
        Assert.Equal(["990101", "99010101", "9901010101"], stopped.Engine.Done.Select(area => area.ToString()));
        Assert.Equal(2, outcome.AreasTakenUp);
        stopped.Publish();
        foreach (var what in Enum.GetValues<ExportWhat>())
            Assert.Equal(await whole.Export(what), await stopped.Export(what));
        Assert.Equal(whole.Reader.Published()!.Warnings, stopped.Reader.Published()!.Warnings);
    }

    /// <summary>Two areas wait for each other, so they are done at the same time or never.</summary>
    [Fact]
    public async Task Small_areas_are_done_side_by_side_and_the_edition_is_the_same()
    {
        using var alone = new Programme();
        alone.Analyse();
        alone.Publish();
        using var programme = new Programme();
        using var met = new Barrier(2);
        int arrived = 0;
        programme.AnalyseSideBySide(_ => Assert.True(Interlocked.Increment(ref arrived) > 2 || met.SignalAndWait(TimeSpan.FromMinutes(1))), CancellationToken.None);
        programme.Publish();
        foreach (var what in Enum.GetValues<ExportWhat>())
            Assert.Equal(await alone.Export(what), await programme.Export(what));
    }

    [Fact]
    public void Failure_among_small_areas_is_told_as_it_was_and_what_is_finished_is_kept()
    {
        using var programme = new Programme();
        var failure = new InvalidOperationException("The eight digits.");
        Assert.Same(failure, Assert.Throws<InvalidOperationException>(() =>
            programme.AnalyseSideBySide(
                area =>
                {
                    if (area.Digits != 8)
                        return;
                    programme.WaitForAnArea();
                    throw failure;
                },
                CancellationToken.None)));
        int done = programme.Engine!.Done.Count;
        Assert.InRange(done, 1, 4);
        Assert.Equal(done, programme.Analyse().AreasTakenUp);
    }

    [Fact]
    public void Stopping_among_small_areas_keeps_what_is_finished()
    {
        using var programme = new Programme();
        using var cancel = new CancellationTokenSource();
        Assert.Throws<OperationCanceledException>(() => programme.AnalyseSideBySide(
            area =>
            {
                if (area.Digits != 8)
                    return;
                programme.WaitForAnArea();
                cancel.Cancel();
            },
            cancel.Token));
        int done = programme.Engine!.Done.Count;
        Assert.InRange(done, 1, 4);
        Assert.Equal(done, programme.Analyse().AreasTakenUp);
    }

    [Fact]
    public void Time_left_is_what_this_runs_own_pace_makes_of_the_rest()
    {
        using var programme = new Programme();
        // Areas of 2, 4, 6, 8 and 10 digits take as many seconds; the first two are done before.
        var told = programme.ProgressAfter(digits: 6);
        Assert.Equal([2, 3, 4, 5], told.Select(progress => progress.AreasDone));
        Assert.Null(told[0].Left);
        Assert.Equal([18, 10, 0], told.Skip(1).Select(progress => progress.Left!.Value.TotalSeconds), (one, other) => Math.Abs(one - other) < 1e-6);
        Assert.Equal(6 / 30.0, told[0].Share, 1e-12);
    }

    [Fact]
    public void Another_seed_starts_over()
    {
        using var programme = new Programme();
        programme.AnalyseUntil(digits: 6);
        var outcome = programme.Analyse(new AnalyseRequest { Run = new RunOptions { Seed = 2 } });
        Assert.Equal(0, outcome.AreasTakenUp);
        Assert.Equal(5, programme.Engine!.Done.Count);
    }

    [Fact]
    public void Changed_surveys_start_over()
    {
        using var programme = new Programme();
        programme.AnalyseUntil(digits: 6);
        programme.Surveys.Import(
            new ImportBatch { Surveys = [Invented.Entry(Invented.Loud with { AirTempC = 13 })] },
            Invented.Origin,
            null,
            TestContext.Current.CancellationToken);
        Assert.Equal(0, programme.Analyse().AreasTakenUp);
    }

    [Fact]
    public void Other_observers_start_over_though_no_edition_tells_of_them()
    {
        using var programme = new Programme();
        programme.AnalyseUntil(digits: 6);
        programme.Surveys.Import(
            new ImportBatch { Surveys = [Invented.Entry(Invented.Loud with { Observer = "Somebody else" })] },
            Invented.Origin,
            null,
            TestContext.Current.CancellationToken);
        Assert.Equal(0, programme.Analyse().AreasTakenUp);
    }

    [Fact]
    public void Settings_given_with_a_run_are_used_and_stored()
    {
        using var programme = new Programme();
        programme.Analyse();
        Assert.Equal(new ProgrammeSettings().Name, programme.Engine!.Settings.Name);

        var given = new ProgrammeSettings { Name = "Listeners of the invented lakes" };
        programme.Analyse(new AnalyseRequest { Settings = given, SettingsFile = "programme.json", Who = "D. Keeper" });
        Assert.Equal(given.Name, programme.Engine.Settings.Name);
        programme.Analyse();
        Assert.Equal(given.Name, programme.Engine.Settings.Name);
        Assert.Equal(SettingsText.Write(given), SettingsText.Write(programme.Editions.Draft()!.Manifest.Settings));
    }

    [Fact]
    public void Surveys_after_the_last_season_asked_for_are_not_given_away()
    {
        using var programme = new Programme();
        var late = Invented.Night("s-3", "00T1", new LocalDate(2021, 5, 1), ("wood", 1));
        programme.Surveys.Import(
            new ImportBatch { Surveys = [Invented.Entry(late)] },
            Invented.Origin,
            null,
            TestContext.Current.CancellationToken);
        programme.Analyse(new AnalyseRequest { Run = new RunOptions { ThroughSeason = 2020 } });
        long number = programme.Publish().Edition!.Number;
        Assert.Equal(["s-1", "s-2"], programme.Reader.Surveys(number).Select(survey => survey.Id.ToString()));
    }

    /// <summary>Every value of every edition table as one text, read past the reader.</summary>
    private static string EditionTables(Programme programme)
    {
        using var connection = new SqliteConnection($"Data Source={programme.File};Pooling=False");
        connection.Open();
        var tables = new List<string>();
        using (var list = connection.CreateCommand())
        {
            list.CommandText = "SELECT name FROM pragma_table_list WHERE name LIKE 'edition%' AND type = 'table'";
            using var row = list.ExecuteReader();
            while (row.Read())
                tables.Add(row.GetString(0));
        }
        var values = new List<string>();
        foreach (string table in tables)
        {
            using var command = connection.CreateCommand();
            command.CommandText = $"SELECT * FROM {table}";
            using var row = command.ExecuteReader();
            while (row.Read())
                values.AddRange(Enumerable.Range(0, row.FieldCount).Select(i => FormattableString.Invariant($"{row.GetValue(i)}")));
        }
        return string.Join('\n', values);
    }
}
