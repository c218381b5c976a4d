using System.Globalization;
using Xunit;

namespace Indicators.Cli.Tests;

/// <summary>The verb power, from surveys to a table and a sentence.</summary>
public sealed class PowerTests
{
    private static readonly string[] Heading =
    [
        "wetlands", "seasons", "visits", "percent_per_season", "worlds", "right_word", "right_word_error", "wrong_word", "right_range", "closed_form", "enough",
    ];

    [Fact]
    public async Task Table_has_a_row_a_plan_and_the_sentence_names_the_cheapest_that_is_enough()
    {
        using var bench = new Bench();
        await bench.Run("import", bench.Folder, "--db", bench.Db);

        var ran = await bench.Run("power", "--db", bench.Db, "--species", "peeper", "--change", "-20", "--wetlands", "6,30", "--seasons", "7,12", "--worlds", "60");

        Assert.Equal(0, ran.Code);
        string[][] rows = [.. ran.Output.Split('\n')[..^1].Select(line => line.Split(','))];
        Assert.Equal(Heading, rows[0]);
        // Two visits a season in the folder, so two in every plan.
        Assert.Equal(["6,7,2", "6,12,2", "30,7,2", "30,12,2"], rows.Skip(1).Select(row => string.Join(',', row[..3])));
        Assert.All(rows.Skip(1), row => Assert.Equal(["-20", "60"], row[3..5]));
        var cheapest = rows.Skip(1).Where(row => row[^1] == "yes").OrderBy(row => Whole(row[0]) * Whole(row[1])).First();
        Assert.Contains($"is {cheapest[0]} wetlands, {cheapest[1]} seasons and 2 surveys", ran.Messages.Replace('\u00A0', ' '), StringComparison.Ordinal);
        Assert.Contains("heard the spring peeper, 2018 to 2024", ran.Messages, StringComparison.Ordinal);
        Assert.Contains("takes for granted", ran.Messages, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Same_question_gives_the_same_answer_on_any_number_of_threads_and_another_seed_another()
    {
        using var bench = new Bench();
        await bench.Run("import", bench.Folder, "--db", bench.Db);
        async Task<string> Of(params string[] more)
        {
            var ran = await bench.Run(["power", "--db", bench.Db, "--species", "wood", "--change", "-8", "--wetlands", "12", "--seasons", "9", "--visits", "2", "--worlds", "80", .. more]);
            Assert.Equal(0, ran.Code);
            return ran.Output;
        }

        string one = await Of("--threads", "1");
        Assert.Equal(one, await Of("--threads", "2"));
        Assert.NotEqual(one, await Of("--seed", "2"));
    }

    [Theory]
    [InlineData("--species owl", "There is no species 'owl'. The programme has hidden, peeper and wood.")]
    [InlineData("--species wood --watershed 9905", "No station with an accepted survey lies in watershed '9905'.")]
    [InlineData("--species wood --watershed x", "No station with an accepted survey lies in watershed 'x'.")]
    [InlineData("--species wood --watershed 990101010102", "Too few wetlands or seasons in watershed 990101010102")]
    [InlineData("--species hidden --watershed 990101010102", "'hidden' is protected, and nothing is told of it in watershed 990101010102.")]
    public async Task What_cannot_be_answered_is_a_sentence_and_ends_with_2(string question, string said)
    {
        using var bench = new Bench();
        await bench.Run("import", bench.Folder, "--db", bench.Db);

        var ran = await bench.Run(["power", "--db", bench.Db, "--change", "-3", .. question.Split(' ')]);

        Assert.Equal((2, ""), (ran.Code, ran.Output));
        Assert.Contains(said, ran.Messages, StringComparison.Ordinal);
    }

    private static int Whole(string text) => int.Parse(text, CultureInfo.InvariantCulture);
}
