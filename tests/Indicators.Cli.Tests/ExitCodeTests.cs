using Xunit;

namespace Indicators.Cli.Tests;

public sealed class ExitCodeTests
{
    [Theory]
    [InlineData("", "Required command was not provided.")]
    [InlineData("fly", "fly")]
    [InlineData("analyse", "--db")]
    [InlineData("import --db x.db", "FOLDER")]
    [InlineData("export weather --db x.db", "weather")]
    [InlineData("export trends --db x.db --format xml", "xml")]
    [InlineData("analyse --db x.db --seed -1", "'-1' is no good for --seed")]
    [InlineData("analyse --db x.db --seed 1.5", "'1.5' is no good for --seed")]
    [InlineData("analyse --db x.db --resamples 38", "'38' is no good for --resamples")]
    [InlineData("analyse --db x.db --through last", "'last' is no good for --through")]
    [InlineData("analyse --db x.db --from 2022 --to 2015", "The window from 2022 to 2015 ends before it begins")]
    [InlineData("analyse --db x.db --threads 0", "'0' is no good for --threads")]
    [InlineData("export trends --db x.db --edition 0", "'0' is no good for --edition")]
    [InlineData("power --db x.db --species wood", "--change")]
    [InlineData("power --db x.db --change -3", "--species")]
    [InlineData("power --db x.db --species wood --change 0", "'0' is no good for --change")]
    [InlineData("power --db x.db --species wood --change down", "'down' is no good for --change")]
    [InlineData("power --db x.db --species wood --change -3 --wetlands 10,ten", "'ten' is no good for --wetlands")]
    [InlineData("power --db x.db --species wood --change -3 --seasons 1", "'1' is no good for --seasons")]
    [InlineData("power --db x.db --species wood --change -3 --probability 80", "'80' is no good for --probability")]
    public async Task Wrong_usage_is_said_and_ends_with_2(string args, string said)
    {
        using var bench = new Bench();
        var ran = await bench.Run(args.Split(' ', StringSplitOptions.RemoveEmptyEntries));
        Assert.Equal((2, ""), (ran.Code, ran.Output));
        Assert.Contains(said, ran.Messages, StringComparison.Ordinal);
        Assert.False(File.Exists("x.db"));
    }

    [Theory]
    [InlineData("analyse --db")]
    [InlineData("publish --db")]
    [InlineData("export trends --db")]
    [InlineData("serve --db")]
    [InlineData("settings --db")]
    [InlineData("power --species wood --change -3 --db")]
    public async Task Database_that_is_not_there_or_no_database_is_a_sentence(string args)
    {
        using var bench = new Bench();
        string[] words = args.Split(' ');
        var missing = await bench.Run([.. words, bench.File("none.db")]);
        Assert.Equal((2, ""), (missing.Code, missing.Output));
        Assert.StartsWith($"There is no file {bench.File("none.db")}.", missing.Messages, StringComparison.Ordinal);
        Assert.False(File.Exists(bench.File("none.db")));

        await File.WriteAllTextAsync(bench.File("text.db"), new string('x', 5000), TestContext.Current.CancellationToken);
        var text = await bench.Run([.. words, bench.File("text.db")]);
        Assert.Equal((2, ""), (text.Code, text.Output));
        Assert.Contains("is not a database", text.Messages, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Folder_that_is_not_there_makes_no_database()
    {
        using var bench = new Bench();
        var ran = await bench.Run("import", bench.File("nowhere"), "--db", bench.Db);
        Assert.Equal((2, ""), (ran.Code, ran.Output));
        Assert.Contains("nowhere", ran.Messages, StringComparison.Ordinal);
        Assert.False(File.Exists(bench.Db));
        Assert.Equal(2, (await bench.Run("check", bench.File("nowhere"))).Code);
    }

    [Fact]
    public async Task Settings_file_that_is_missing_or_wrong_ends_with_2_and_loads_nothing()
    {
        using var bench = new Bench();
        await File.WriteAllTextAsync(bench.File("p.json"), """{ "nmae": "typo" }""", TestContext.Current.CancellationToken);
        var wrong = await bench.Run("import", bench.Folder, "--db", bench.Db, "--settings", bench.File("p.json"));
        Assert.Equal(2, wrong.Code);
        Assert.Contains("nmae", wrong.Messages, StringComparison.Ordinal);
        Assert.Equal(2, (await bench.Run("import", bench.Folder, "--db", bench.Db, "--settings", bench.File("q.json"))).Code);
        Assert.False(File.Exists(bench.Db));
    }

    [Fact]
    public async Task Nothing_to_do_is_a_sentence_that_says_what_to_do_first()
    {
        using var bench = new Bench();
        await bench.Run("import", bench.Folder, "--db", bench.Db);
        var publish = await bench.Run("publish", "--db", bench.Db);
        Assert.Equal((2, "There is no draft to publish. Run an analysis first.\n"), (publish.Code, publish.Messages.ReplaceLineEndings("\n")));
        var export = await bench.Run("export", "trends", "--db", bench.Db);
        Assert.Equal((2, "Nothing has been published yet. Run an analysis, then publish its draft.\n"), (export.Code, export.Messages.ReplaceLineEndings("\n")));
        var early = await bench.Run("analyse", "--db", bench.Db, "--through", "1950");
        Assert.Equal((2, "There are no accepted surveys up to the season 1950, so there is nothing to analyse.\n"), (early.Code, early.Messages.ReplaceLineEndings("\n")));
        await bench.Published();
        var number = await bench.Run("export", "trends", "--db", bench.Db, "--edition", "99");
        Assert.Equal((2, "There is no published edition 99.\n"), (number.Code, number.Messages.ReplaceLineEndings("\n")));
        Assert.Equal(2, (await bench.Run("export", "trends", "--db", bench.Db, "--out", bench.File("no/such/folder.csv"))).Code);
    }

    [Theory]
    [InlineData("")]
    [InlineData("import")]
    [InlineData("check")]
    [InlineData("analyse")]
    [InlineData("publish")]
    [InlineData("export")]
    [InlineData("serve")]
    [InlineData("demo")]
    [InlineData("settings")]
    public async Task Help_is_data_and_ends_with_0(string verb)
    {
        using var bench = new Bench();
        var ran = await bench.Run([.. verb.Split(' ', StringSplitOptions.RemoveEmptyEntries), "--help"]);
        Assert.Equal((0, ""), (ran.Code, ran.Messages));
        Assert.Contains("Usage:", ran.Output, StringComparison.Ordinal);
        Assert.Contains(verb, ran.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Settings_print_the_defaults_or_the_stored_ones_as_a_file_that_reads_back()
    {
        using var bench = new Bench();
        string defaults = (await bench.Run("settings")).Output;
        Assert.Contains("Our listening programme", defaults, StringComparison.Ordinal);
        await File.WriteAllTextAsync(
            bench.File("p.json"),
            defaults.Replace("Our listening programme", "Invented listeners", StringComparison.Ordinal),
            TestContext.Current.CancellationToken);
        Assert.Equal(0, (await bench.Run("import", bench.Folder, "--db", bench.Db, "--settings", bench.File("p.json"))).Code);
        var stored = await bench.Run("settings", "--db", bench.Db);
        Assert.Equal((0, await File.ReadAllTextAsync(bench.File("p.json"), TestContext.Current.CancellationToken)), (stored.Code, stored.Output));
    }

    [Fact]
    public async Task Interrupted_analysis_ends_with_130_and_goes_on_to_the_same_bytes()
    {
        using var whole = await new Bench().Published();
        using var bench = new Bench();
        await bench.Run("import", bench.Folder, "--db", bench.Db);
        using var stop = new CancellationTokenSource();
        // The clock is looked at once to begin with and twice an area, so this rings within the second area or the third. One thread, for side by side
        // others may end meanwhile.
        var stopped = await bench.Run(stop, new Bench.Clock(5, stop.Cancel), "analyse", "--db", bench.Db, "--resamples", "60", "--threads", "1");
        Assert.Equal((130, ""), (stopped.Code, stopped.Output));
        Assert.Contains("goes on from here", stopped.Messages, StringComparison.Ordinal);
        Assert.Equal(2, (await bench.Run("publish", "--db", bench.Db)).Code);

        var again = await bench.Run("analyse", "--db", bench.Db, "--resamples", "60");
        Assert.Equal(0, again.Code);
        Assert.Contains("Taken up where the last run stopped, with 2 watersheds done.", again.Messages, StringComparison.Ordinal);
        await bench.Run("publish", "--db", bench.Db);
        foreach (string what in new[] { "trends", "indices", "condition", "surveys" })
            Assert.Equal(await whole.Export(what), await bench.Export(what));
    }

    [Fact]
    public async Task Interrupted_import_ends_with_130_and_leaves_the_database_as_it_was()
    {
        using var bench = new Bench();
        using var stopped = new CancellationTokenSource();
        await stopped.CancelAsync();
        var ran = await bench.Run(stopped, new Bench.Clock(), "import", bench.Folder, "--db", bench.Db);
        Assert.Equal(130, ran.Code);
        Assert.Contains("nothing to analyse", (await bench.Run("analyse", "--db", bench.Db)).Messages, StringComparison.Ordinal);
    }
}
