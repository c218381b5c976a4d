using System.Globalization;
using System.Text.Json;
using Indicators.Cli.Running;
using Xunit;

namespace Indicators.Cli.Tests;

public sealed class EndToEndTests
{
    private static readonly string[] Everything = ["trends", "indices", "condition", "surveys", "condition_lines", "group", "effort", "effects", "smooth", "changes"];

    [Fact]
    public async Task Folder_becomes_a_published_edition_and_its_tables()
    {
        using var bench = new Bench();
        var import = await bench.Run("import", bench.Folder, "--db", bench.Db);
        Assert.Equal((0, ""), (import.Code, import.Output));
        Assert.Contains("surveys.csv: 196 read; 196 stored.", import.Messages, StringComparison.Ordinal);

        var analyse = await bench.Run("analyse", "--db", bench.Db, "--resamples", "60");
        Assert.Equal((0, ""), (analyse.Code, analyse.Output));
        Assert.Contains("196 surveys, 14 stations, 14 wetlands, 3 species", analyse.Messages, StringComparison.Ordinal);

        var early = await bench.Run("export", "trends", "--db", bench.Db);
        Assert.Equal((2, ""), (early.Code, early.Output));

        var publish = await bench.Run("publish", "--db", bench.Db);
        Assert.Equal((0, ""), (publish.Code, publish.Output));

        var trends = await bench.Run("export", "trends", "--db", bench.Db);
        Assert.Equal((0, ""), (trends.Code, trends.Messages));
        string[] lines = trends.Output.Split('\n');
        Assert.Equal("watershed_code,species_id,first_season,last_season,percent_per_season,lower,upper,direction,interval,clusters,stations,surveys,lower_underlying,upper_underlying,season_sd", lines[0]);
        // Five enclosing levels and two smallest watersheds with two species each; the protected third is told in the
        // five enclosing ones, but in neither of the two, of which one has three wetlands only.
        Assert.Equal(7 * 2 + 5, lines.Length - 2);
        Assert.Contains(lines, line => line.StartsWith("990101010101,wood,2018,2024,", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Counts_in_the_trends_equal_an_independent_count_of_the_files()
    {
        using var bench = new Bench();
        await bench.Published();
        // Straight from the files: stations of one watershed that ever heard the species, and all their surveys, for every
        // survey lies inside the windows.
        var station = File.ReadLines(bench.File("spring/stations.csv")).Skip(1).Select(line => line.Split(',')).ToDictionary(row => row[0], row => row[2]);
        var where = File.ReadLines(bench.File("spring/surveys.csv")).Skip(1).Select(line => line.Split(',')).ToDictionary(row => row[0], row => row[1]);
        var heard = File.ReadLines(bench.File("spring/calls.csv")).Skip(1).Select(line => line.Split(','))
            .Where(row => row[1] == "wood").Select(row => where[row[0]]).Where(id => station[id] == "990101010101").ToHashSet();
        int surveys = where.Values.Count(heard.Contains);

        string row = (await bench.Export("trends")).Split('\n').Single(line => line.StartsWith("990101010101,wood,", StringComparison.Ordinal));
        string[] cells = row.Split(',');
        string count = heard.Count.ToString(CultureInfo.InvariantCulture);
        Assert.Equal([count, count, surveys.ToString(CultureInfo.InvariantCulture)], cells[9..12]);
    }

    [Fact]
    public async Task Same_folder_twice_changes_no_byte_of_any_table()
    {
        using var bench = await new Bench().Published();
        var before = await Tables(bench);
        var again = await bench.Run("import", bench.Folder, "--db", bench.Db);
        Assert.Equal(0, again.Code);
        Assert.Contains("surveys.csv: 196 read; 196 unchanged.", again.Messages, StringComparison.Ordinal);
        await bench.Published();
        Assert.Equal(before, await Tables(bench));
    }

    [Fact]
    public async Task One_thread_and_two_write_the_same_bytes_and_both_work()
    {
        using var one = await new Bench().Published("--resamples", "2000", "--threads", "1");
        using var two = await new Bench().Published("--resamples", "2000", "--threads", "2");
        Assert.Contains("Fitted with 1 thread.", one.Said, StringComparison.Ordinal);
        Assert.Contains(
            Environment.ProcessorCount > 1 ? "Fitted with 2 threads." : "Fitted with", two.Said, StringComparison.Ordinal);
        Assert.Equal(await Tables(one), await Tables(two));
    }

    [Fact]
    public async Task Comma_decimal_culture_changes_no_byte()
    {
        using var plain = await new Bench().Published();
        var expected = await Tables(plain);
        var culture = CultureInfo.CurrentCulture;
        CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo("de-DE");
        try
        {
            Assert.Equal("0,5", 0.5.ToString(CultureInfo.CurrentCulture));
            using var german = await new Bench().Published();
            Assert.Equal(expected, await Tables(german));
        }
        finally
        {
            CultureInfo.CurrentCulture = culture;
        }
    }

    [Fact]
    public async Task Progress_bar_of_a_terminal_changes_no_byte()
    {
        using var plain = await new Bench().Published();
        using var watched = new Bench { MessagesAreSeen = true };
        await watched.Run("import", watched.Folder, "--db", watched.Db);
        var analyse = await watched.Run("analyse", "--db", watched.Db, "--resamples", "60");
        Assert.Equal((0, ""), (analyse.Code, analyse.Output));
        Assert.Contains("is a draft now", analyse.Messages, StringComparison.Ordinal);
        await watched.Run("publish", "--db", watched.Db);
        Assert.Equal(await Tables(plain), await Tables(watched));
    }

    [Fact]
    public async Task Csv_and_json_say_the_same()
    {
        using var bench = await new Bench().Published();
        foreach (string what in Everything)
        {
            string[] csv = (await bench.Export(what)).Split('\n')[..^1];
            using var json = JsonDocument.Parse(await bench.Export(what, "json"));
            string[] columns = csv[0].Split(',');
            Assert.Equal(csv.Length - 1, json.RootElement.GetArrayLength());
            Assert.True(csv.Length > 1, what);
            foreach (var (line, row) in csv.Skip(1).Zip(json.RootElement.EnumerateArray()))
            {
                Assert.Equal(columns, row.EnumerateObject().Select(property => property.Name));
                Assert.Equal(line.Split(','), row.EnumerateObject().Select(property => property.Value.ValueKind switch
                {
                    JsonValueKind.Null => "",
                    JsonValueKind.Number => property.Value.GetRawText(),
                    _ => property.Value.GetString()!,
                }));
            }
        }
    }

    [Fact]
    public async Task Nothing_given_away_places_the_protected_species_or_names_a_person()
    {
        using var bench = await new Bench().Published();
        Assert.DoesNotContain("hidden", await bench.Export("surveys"), StringComparison.Ordinal);
        foreach (string what in Everything)
        {
            string table = await bench.Export(what);
            Assert.DoesNotContain(table.Split('\n'), line => line.Contains("hidden", StringComparison.Ordinal) && line.StartsWith("9901010101", StringComparison.Ordinal) && line[10] != ',');
            foreach (string secret in new[] { "Invented Person", "a note", "E. Operator", "45.0" })
                Assert.DoesNotContain(secret, table, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Earlier_edition_stays_readable_by_its_number()
    {
        using var bench = await new Bench().Published();
        string first = await bench.Export("trends");
        await bench.Published("--seed", "2");
        Assert.NotEqual(first, await bench.Export("trends"));
        var earlier = await bench.Run("export", "trends", "--db", bench.Db, "--edition", "1", "--out", bench.File("one.csv"));
        Assert.Equal((0, ""), (earlier.Code, earlier.Output));
        Assert.Equal(first, await File.ReadAllTextAsync(bench.File("one.csv"), TestContext.Current.CancellationToken));
        Assert.False(File.Exists(bench.File("one.csv.part")));
    }

    [Fact]
    public async Task Broken_folder_names_every_fault_and_loads_nothing_unless_asked()
    {
        using var bench = new Bench();
        InventedFolder.Replace(bench.Folder, "surveys.csv", "S2018-00-0,T00,2018-04-10", "S2018-00-0,T00,2018-04-31");
        InventedFolder.Replace(bench.Folder, "surveys.csv", "S2018-01-0,T01,", "S2018-01-0,T99,");
        InventedFolder.Replace(bench.Folder, "surveys.csv", "S2018-02-0,T02,2018-04-10,21:12,5,", "S2018-02-0,T02,2018-04-10,21:12,five,");
        InventedFolder.Replace(bench.Folder, "calls.csv", "S2018-03-0,wood,1", "S2018-03-0,wood,7");
        InventedFolder.Replace(bench.Folder, "calls.csv", "S2018-04-0,peeper,2", "nobody,peeper,2");

        var check = await bench.Run("check", bench.Folder);
        Assert.Equal((1, ""), (check.Code, check.Output));
        Assert.False(Directory.Exists(bench.Folder + "-rejects"));

        var import = await bench.Run("import", bench.Folder, "--db", bench.Db);
        Assert.Equal(1, import.Code);
        foreach (string fault in new[] { "surveys.csv line 2, date: '2018-04-31'", "surveys.csv line 4, station_id: There is no station 'T99'", "surveys.csv line 6, minutes: 'five'", "'7'", "'nobody'" })
            Assert.Contains(fault, import.Messages, StringComparison.Ordinal);
        Assert.True(File.Exists(Path.Combine(bench.Folder + "-rejects", "surveys.csv")));
        Assert.Equal(2, (await bench.Run("analyse", "--db", bench.Db)).Code);

        var partial = await bench.Run("import", bench.Folder, "--db", bench.Db, "--partial");
        Assert.Equal(1, partial.Code);
        Assert.Contains("surveys.csv: 196 read; 192 stored; 4 refused.", partial.Messages, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Demo_is_made_once_and_left_as_it_is()
    {
        using var bench = new Bench();
        var text = (await bench.Run("settings")).Output;
        await File.WriteAllTextAsync(Path.Combine(bench.Folder, "programme.json"), text, TestContext.Current.CancellationToken);
        using var messages = new StringWriter();
        var surroundings = new Surroundings(new Bench.Clock(), _ => null, "E. Operator", Stream.Null, messages, false, CancellationToken.None);
        Assert.Equal(0, Verbs.DemoVerb.Make(surroundings, bench.Db, bench.Folder));
        Assert.Contains("Edition 1 is published", messages.ToString(), StringComparison.Ordinal);
        messages.GetStringBuilder().Clear();
        Assert.Equal(0, Verbs.DemoVerb.Make(surroundings, bench.Db, bench.Folder));
        Assert.Equal("", messages.ToString());
    }

    private static async Task<string> Tables(Bench bench)
    {
        var tables = new List<string>();
        foreach (string what in Everything)
            tables.Add(await bench.Export(what));
        return string.Join("\n\n", tables);
    }
}
