using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Xunit;

namespace Indicators.Wording.Tests;

public sealed class StorageSentencesTests
{
    public static TheoryData<StorageProblemKind> StorageKinds => [.. Enum.GetValues<StorageProblemKind>()];

    public static TheoryData<EditionProblemKind> EditionKinds => [.. Enum.GetValues<EditionProblemKind>()];

    [Theory]
    [MemberData(nameof(StorageKinds))]
    public void Every_storage_problem_names_the_file_and_ends_like_a_sentence(StorageProblemKind kind)
    {
        string sentence = StorageSentences.Of(new StorageProblem(kind, "lakes.db") { Found = 9, Supported = 2, Edition = 4 });
        Assert.Contains("lakes.db", sentence, StringComparison.Ordinal);
        Assert.EndsWith(".", sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_storage_problem_has_a_sentence_of_its_own()
    {
        var sentences = Enum.GetValues<StorageProblemKind>().Select(kind => StorageSentences.Of(new StorageProblem(kind, "lakes.db"))).ToList();
        Assert.Equal(sentences.Count, sentences.Distinct().Count());
    }

    [Fact]
    public void Versions_are_told_by_number()
    {
        var newer = new StorageProblem(StorageProblemKind.NewerVersion, "lakes.db") { Found = 9, Supported = 2 };
        Assert.Equal(
            "lakes.db was written by a newer version of this program (its layout is number 9; this program reads up to 2). Use the newer version. The file has been left as it is.",
            StorageSentences.Of(newer));
        var edition = new StorageProblem(StorageProblemKind.NewerEdition, "lakes.db") { Edition = 4 };
        Assert.StartsWith("Edition 4 in lakes.db was made by a newer version", StorageSentences.Of(edition), StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(EditionKinds))]
    public void Every_edition_problem_ends_like_a_sentence(EditionProblemKind kind) =>
        Assert.EndsWith(".", StorageSentences.Of(new EditionProblem(kind, 7)), StringComparison.Ordinal);

    [Fact]
    public void Draft_is_told_with_right_singulars() => Assert.Equal(
        "Edition 3 is a draft now: 1 survey, 1 station, 2 wetlands, 4 species, 1 watershed, seasons 2012 to 2026. Publish it to show it.",
        StorageEditionSentences.Drafted(3, new EditionCounts(1, 1, 2, 4, 1, 2012, 2026)));

    [Fact]
    public void Import_as_a_whole_is_told_by_what_was_done()
    {
        Assert.Equal("Nothing was refused.", StorageEditionSentences.Imported(checking: false, refused: false, loaded: true));
        Assert.Contains("nothing was loaded", StorageEditionSentences.Imported(checking: false, refused: true, loaded: false), StringComparison.Ordinal);
        Assert.Contains("the rest is loaded", StorageEditionSentences.Imported(checking: false, refused: true, loaded: true), StringComparison.Ordinal);
        Assert.Contains("Nothing was written", StorageEditionSentences.Imported(checking: true, refused: true, loaded: false), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(null, "12 of 2111 watersheds analysed")]
    [InlineData(20, "12 of 2111 watersheds analysed, less than a minute left")]
    [InlineData(60, "12 of 2111 watersheds analysed, about 1 minute left")]
    [InlineData(90, "12 of 2111 watersheds analysed, about 2 minutes left")]
    [InlineData(75 * 60, "12 of 2111 watersheds analysed, about 75 minutes left")]
    [InlineData(3 * 3600, "12 of 2111 watersheds analysed, about 3 hours left")]
    public void Progress_says_how_long_the_rest_takes(int? seconds, string expected) =>
        Assert.Equal(expected, StorageEditionSentences.Fitting(12, 2111, seconds is { } s ? TimeSpan.FromSeconds(s) : null));

    [Fact]
    public void Once_all_watersheds_are_done_no_time_is_told()
    {
        Assert.Equal("76 of 76 watersheds analysed, now putting them together and writing", StorageEditionSentences.Fitting(76, 76, TimeSpan.Zero));
    }
}
