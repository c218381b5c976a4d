using System.Globalization;
using Indicators.Analysis.Results;
using Indicators.Storage;
using Indicators.Storage.Editions;
using Xunit;

namespace Indicators.Cli.Tests;

/// <summary>
/// Two editions with everything changed between them, told apart. What each step must come to is known from outside of it: from
/// a programme in which the same things were changed one after another, each with an edition of its own.
/// </summary>
public sealed class ExplainTests
{
    private const string NewSeason = "2025";

    private readonly Bench.Clock _clock = new();

    /// <summary>Corrects nights of two wetlands: a chorus that was never written down, and a night that was at another station.</summary>
    private static void Correct(Bench bench)
    {
        File.AppendAllText(Path.Combine(bench.Folder, "calls.csv"), "S2024-01-1,wood,3\nS2024-02-1,wood,3\n");
        InventedFolder.Replace(bench.Folder, "surveys.csv", "S2019-06-0,T06", "S2019-06-0,T07");
        InventedFolder.Replace(bench.Folder, "species.csv", "wood,Lithobates sylvaticus,Wood frog,03-15,05-31,7", "wood,Lithobates sylvaticus,Wood frog,03-15,05-31,9");
    }

    /// <summary>A new season with a new station, and no wood frog.</summary>
    private static void Add(Bench bench)
    {
        File.AppendAllText(Path.Combine(bench.Folder, "stations.csv"), "T90,W90,990101010101,45.5,-90.5\n");
        var wetlands = Enumerable.Range(0, 14).Select(w => w.ToString("00", CultureInfo.InvariantCulture)).Append("90").ToList();
        File.AppendAllLines(Path.Combine(bench.Folder, "surveys.csv"), wetlands.Select(w => $"S{NewSeason}-{w}-0,T{w},{NewSeason}-04-12,21:00,5,Invented Person,8,1,1,0,"));
        File.AppendAllLines(Path.Combine(bench.Folder, "calls.csv"), wetlands.Select(w => $"S{NewSeason}-{w}-0,peeper,1"));
    }

    private static string Settings(Bench bench)
    {
        string file = bench.File("programme.json");
        File.WriteAllText(file, """{ "trend": { "practical_change_percent": 4 }, "baseline": { "first_seasons": 3, "seasons": [2019, 2020] }, "score": { "good_from": 60 } }""");
        return file;
    }

    private async Task<string> Do(Bench bench, params string[] args)
    {
        using var never = new CancellationTokenSource();
        var ran = await bench.Run(never, _clock, args);
        Assert.True(ran.Code == 0, ran.Messages);
        return ran.Messages;
    }

    private async Task<string> Edition(Bench bench, params string[] options)
    {
        await Do(bench, "import", bench.Folder, "--db", bench.Db, "--replace");
        await Do(bench, ["analyse", "--db", bench.Db, "--resamples", "60", .. options]);
        return await Do(bench, "publish", "--db", bench.Db);
    }

    private static T Read<T>(Bench bench, Func<EditionReader, T> read)
    {
        using var database = Database.Open(bench.Db, DatabaseAccess.Read).Database!;
        return read(new EditionReader(database));
    }

    /// <summary>The programme changed all at once, from edition 1 to 2.</summary>
    private async Task<Bench> AllAtOnce()
    {
        var bench = new Bench();
        await Edition(bench);
        bench.Sql("UPDATE edition SET engine_version = '0.0.9'");
        Correct(bench);
        Add(bench);
        string said = await Edition(bench, "--settings", Settings(bench), "--seed", "2");
        Assert.Contains("More than one thing changed since edition 1.", said, StringComparison.Ordinal);
        return bench;
    }

    /// <summary>The same programme changed step by step, an edition each.</summary>
    private async Task<Bench> OneByOne()
    {
        var bench = new Bench();
        Assert.DoesNotContain("More than one thing", await Edition(bench), StringComparison.Ordinal);
        Correct(bench);
        Assert.DoesNotContain("More than one thing", await Edition(bench), StringComparison.Ordinal);
        Add(bench);
        await Edition(bench);
        await Edition(bench, "--settings", Settings(bench));
        await Edition(bench, "--seed", "2");
        return bench;
    }

    [Fact]
    public async Task Each_step_is_what_an_edition_with_just_that_changed_says()
    {
        using var bench = await AllAtOnce();
        using var gold = await OneByOne();
        Assert.Contains("Found out in 5 steps what moved between editions 1 and 2.", await Do(bench, "explain", "--db", bench.Db), StringComparison.Ordinal);

        var steps = Read(bench, reader => reader.Steps(1, 2));
        Assert.Equal(
            [EditionCauses.NewEngine, EditionCauses.CorrectedData, EditionCauses.NewData, EditionCauses.NewSettings, EditionCauses.NewRun],
            steps.Select(step => step.Causes));
        Assert.Empty(steps[^1].Trends);
        for (int step = 0; step < steps.Count - 1; step++)
        {
            var (trends, conditions) = Read(gold, reader => (
                reader.Trends(step + 1),
                reader.Areas(step + 1).Select(area => reader.Conditions(step + 1, area.Code, area.LastSeason).Single() with { Lines = [] }).ToList()));
            Assert.Equal(trends, steps[step].Trends);
            Assert.Equal(conditions, steps[step].Conditions.Select(condition => condition with { Lines = conditions[0].Lines }));
            if (step > 0)
                Assert.NotEqual(steps[step - 1].Conditions.Select(condition => condition.Score), steps[step].Conditions.Select(condition => condition.Score));
        }
        // The way ends where the later edition is.
        Assert.Equal(Read(gold, reader => reader.Trends(5)), Read(bench, reader => reader.Trends(2)));
    }

    [Fact]
    public async Task Asking_twice_keeps_one_answer_and_two_editions_with_one_cause_need_none()
    {
        using var bench = new Bench();
        await Edition(bench);
        await Edition(bench, "--seed", "2");
        Assert.Contains("There is nothing to find out.", await Do(bench, "explain", "--db", bench.Db), StringComparison.Ordinal);
        Assert.Empty(Read(bench, reader => reader.Steps(1, 2)));
        await Edition(bench, "--settings", Settings(bench), "--seed", "2");
        await Do(bench, "explain", "--db", bench.Db, "--edition", "3", "--before", "1", "--threads", "1");
        var steps = Read(bench, reader => reader.Steps(1, 3));
        long kept = Read(bench, reader => reader.StepsKept());
        Assert.Equal([EditionCauses.NewSettings], steps.SkipLast(1).Select(step => step.Causes));
        await Do(bench, "explain", "--db", bench.Db, "--edition", "3", "--before", "1");
        Assert.Equal(steps.SelectMany(step => step.Trends), Read(bench, reader => reader.Steps(1, 3)).SelectMany(step => step.Trends));
        Assert.True(Read(bench, reader => reader.StepsKept()) > kept);
    }

    [Fact]
    public async Task Earlier_surveys_that_differ_from_the_log_leave_the_engine_together_with_corrections()
    {
        using var bench = await AllAtOnce();
        // The copy in edition 1 says that a survey took longer than any that is stored or logged.
        bench.Sql("UPDATE edition_survey SET minutes = 9 WHERE edition = 1 AND survey_id = 'S2020-03-0'");
        await Do(bench, "explain", "--db", bench.Db);
        Assert.Equal(EditionCauses.NewEngine | EditionCauses.CorrectedData, Read(bench, reader => reader.Steps(1, 2))[0].Causes);
    }

    [Theory]
    [InlineData("There is no published edition 9.", "--edition", "9")]
    [InlineData("No edition was published before edition 1", "--edition", "1")]
    [InlineData("'0' is no good for --before", "--before", "0")]
    [InlineData("Edition 2 is not the earlier of the two. Give the earlier one with --before.", "--before", "2")]
    public async Task Editions_that_cannot_be_set_side_by_side_are_named(string sentence, params string[] options)
    {
        using var bench = new Bench();
        await Edition(bench);
        await Edition(bench, "--seed", "2");
        var ran = await bench.Run(["explain", "--db", bench.Db, .. options]);
        Assert.Equal(2, ran.Code);
        Assert.Contains(sentence, ran.Messages, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("moves", "2")]
    [InlineData("moves", "9")]
    [InlineData("trends", "1")]
    public async Task Export_since_what_is_no_earlier_edition_or_of_another_table_is_said(string what, string since)
    {
        using var bench = new Bench();
        await Edition(bench);
        await Edition(bench, "--seed", "2");
        Assert.StartsWith("from_edition,to_edition,", (await bench.Run("export", "moves", "--db", bench.Db, "--since", "1")).Output, StringComparison.Ordinal);
        var ran = await bench.Run("export", what, "--db", bench.Db, "--since", since);
        Assert.Equal((2, ""), (ran.Code, ran.Output));
        Assert.Contains("--since takes the number of an edition published before the one exported", ran.Messages, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Stopped_it_keeps_nothing_and_says_so()
    {
        using var bench = await AllAtOnce();
        using var stop = new CancellationTokenSource();
        await stop.CancelAsync();
        var ran = await bench.Run(stop, _clock, "explain", "--db", bench.Db);
        Assert.Equal(130, ran.Code);
        Assert.Contains("Nothing of it was kept", ran.Messages, StringComparison.Ordinal);
        Assert.Equal(0, Read(bench, reader => reader.StepsKept()));
    }

    [Fact]
    public async Task Nothing_published_another_engine_and_changed_stations_are_said()
    {
        using var bench = new Bench();
        await Do(bench, "import", bench.Folder, "--db", bench.Db);
        Assert.Contains("Nothing has been published yet.", (await bench.Run("explain", "--db", bench.Db)).Messages, StringComparison.Ordinal);
        await Edition(bench);
        await Edition(bench, "--seed", "2", "--settings", Settings(bench));
        InventedFolder.Replace(bench.Folder, "watersheds.csv", "Upper Invented", "Highest Invented");
        await Do(bench, "import", bench.Folder, "--db", bench.Db, "--replace");
        var changed = await bench.Run("explain", "--db", bench.Db);
        Assert.Equal(2, changed.Code);
        Assert.Contains("edition 2 rests on have been changed since.", changed.Messages, StringComparison.Ordinal);
        bench.Sql("UPDATE edition SET engine_version = '9.9' WHERE number = 2");
        var other = await bench.Run("explain", "--db", bench.Db);
        Assert.Equal(2, other.Code);
        Assert.Contains("made edition 2, so runs in between would not lead up to it.", other.Messages, StringComparison.Ordinal);
    }
}
