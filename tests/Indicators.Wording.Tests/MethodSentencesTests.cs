using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Xunit;

namespace Indicators.Wording.Tests;

public sealed class MethodSentencesTests
{
    private static readonly ResponseOptions OwnWeights = new() { Kind = ResponseKind.Weighted, Weights = [1, 2.5, 9] };

    private static Dictionary<string, string> Choices(ProgrammeSettings settings, RunOptions run) => MethodSentences
        .Choices(new EditionManifest { SchemaVersion = 1, Settings = settings, Run = run, InputsSha256 = "0", EngineVersion = "1", Runtime = ".NET", Processor = "X64" })
        .ToDictionary(choice => choice.Name, choice => choice.Value.Replace('\u00A0', ' '));

    [Theory]
    [InlineData(ResponseKind.CallLevel, "its call level, 0 to 3")]
    [InlineData(ResponseKind.Heard, "1 when it heard the species, at any level")]
    [InlineData(ResponseKind.FullChorus, "1 when it heard a full chorus, else 0")]
    [InlineData(ResponseKind.Weighted, "1 for call level 1, 2.5 for 2 and 9 for 3")]
    public void Edition_says_what_a_survey_counts(ResponseKind kind, string said)
    {
        var response = OwnWeights with { Kind = kind };

        Assert.Equal(said, Choices(new ProgrammeSettings { Response = response }, new RunOptions())["What a survey counts"]);
        Assert.Equal(kind == ResponseKind.CallLevel ? null : $"In this edition a survey counts {said}.", EditionSentences.Counts(response));
    }

    [Fact]
    public void It_says_so_in_Spanish() => Assert.Equal(
        "En esta edición un muestreo cuenta 1 con nivel de canto 1, 2,5 con 2 y 9 con 3.",
        LanguageTests.In("es", () => EditionSentences.Counts(OwnWeights)!));

    [Theory]
    [InlineData(2015, 2022, "2015 to 2022")]
    [InlineData(2015, null, "from 2015")]
    [InlineData(null, 2022, "up to 2022")]
    [InlineData(null, null, null)]
    public void Window_that_was_asked_for_is_named(int? from, int? to, string? said) =>
        Assert.Equal(said, Choices(new ProgrammeSettings(), new RunOptions { WindowFrom = from, WindowTo = to }).GetValueOrDefault("One more window for trends"));
}
