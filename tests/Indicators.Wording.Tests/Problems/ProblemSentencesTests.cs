using Indicators.Monitoring;
using Indicators.Wording.Problems;
using Xunit;

namespace Indicators.Wording.Tests.Problems;

public class ProblemSentencesTests
{
    /// <summary>A problem of each kind with everything that any kind may speak of.</summary>
    private static Problem Any(ProblemKind kind) => new(kind, "surveys.csv")
    {
        Line = 12,
        Column = "date",
        Value = "given",
        Thing = "station",
        Rule = "what is right",
        Stored = "stored",
        OtherFile = "stations.csv",
        OtherLine = 34,
        Count = 56,
        Breach = ProtocolBreach.TooShort,
        Names = ["first", "second", "third"],
        Found = ["found"],
    };

    [Fact]
    public void Every_kind_of_problem_has_its_own_whole_sentence()
    {
        var sentences = Enum.GetValues<ProblemKind>().Select(kind => ProblemSentences.Sentence(Any(kind))).ToList();
        Assert.All(sentences, s => Assert.StartsWith("surveys.csv line 12, date: ", s, StringComparison.Ordinal));
        Assert.All(sentences, s => Assert.EndsWith(".", s, StringComparison.Ordinal));
        Assert.DoesNotContain(sentences, s => s.Contains("''", StringComparison.Ordinal) || s.Contains("  ", StringComparison.Ordinal));
        // Bytes that are not UTF-8 are mended the same way in a heading and in a row.
        Assert.Equal(sentences.Count - 1, sentences.Distinct(StringComparer.Ordinal).Count());
    }

    [Fact]
    public void Every_breach_has_its_own_words()
    {
        var sentences = Enum.GetValues<ProtocolBreach>().Select(b => ProblemSentences.Sentence(Any(ProblemKind.ProtocolNotKept) with { Breach = b })).ToList();
        Assert.Equal(sentences.Count, sentences.Distinct(StringComparer.Ordinal).Count());
    }

    [Fact]
    public void Wrong_value_is_named_with_its_place_and_what_would_be_right()
    {
        var problem = Problem.OfValue("calls.csv", 12, "call_index", CallLevel.Parse("7").Problem!);
        Assert.Equal(
            "calls.csv line 12, call_index: '7' is not a call level: give 0 (not heard), 1 (calls with gaps), 2 (calls overlap) or 3 (full chorus).",
            ProblemSentences.Sentence(problem));
        Assert.Equal(
            "call_index: '7' is not a call level: give 0 (not heard), 1 (calls with gaps), 2 (calls overlap) or 3 (full chorus).",
            ProblemSentences.Reason(problem));
    }

    [Fact]
    public void Missing_value_is_said_to_be_missing() =>
        Assert.Equal(
            "surveys.csv line 2, survey_id: A survey id is missing: give 1 to 64 letters, digits or signs.",
            ProblemSentences.Sentence(Problem.OfValue("surveys.csv", 2, "survey_id", Id<Survey>.Parse("").Problem!)));

    [Fact]
    public void Reference_to_a_refused_row_names_its_line()
    {
        var problem = new Problem(ProblemKind.ReferenceRefused, "surveys.csv") { Line = 5, Column = "station_id", Value = "ST9", Thing = "station", OtherFile = "stations.csv", OtherLine = 7 };
        Assert.Equal(
            "surveys.csv line 5, station_id: The station 'ST9' was itself refused, on line 7 of stations.csv: mend that row first.",
            ProblemSentences.Sentence(problem));
    }

    [Fact]
    public void Missing_columns_come_with_what_was_found()
    {
        var problem = new Problem(ProblemKind.ColumnsMissing, "calls.csv") { Names = ["species_id (or taxonID)", "call_index (or organismQuantity)"], Found = ["survey_id", "species"] };
        Assert.Equal(
            "calls.csv: The heading lacks species_id (or taxonID) and call_index (or organismQuantity): add them. Found: survey_id and species.",
            ProblemSentences.Sentence(problem));
        Assert.EndsWith("Found: nothing.", ProblemSentences.Sentence(problem with { Found = [""] }), StringComparison.Ordinal);
    }

    [Fact]
    public void Protocol_warning_counts_names_the_first_and_gives_the_source()
    {
        var problem = new Problem(ProblemKind.ProtocolNotKept, "surveys.csv")
        {
            Breach = ProtocolBreach.TooEarly,
            Count = 7,
            Names = ["S1 on line 2", "S4 on line 5"],
            Rule = "30",
            Thing = "a data sheet",
        };
        Assert.Equal(
            "surveys.csv: 7 surveys began sooner than 30 minutes after sunset (a data sheet): S1 on line 2, S4 on line 5 and 5 more. They are taken all the same.",
            ProblemSentences.Sentence(problem));
        Assert.Equal(
            "surveys.csv: 1 survey began sooner than 30 minutes after sunset (a data sheet): S1 on line 2. It is taken all the same.",
            ProblemSentences.Sentence(problem with { Count = 1, Names = ["S1 on line 2"] }));
    }

    [Fact]
    public void Long_values_are_cut_and_stay_on_one_line()
    {
        var problem = new Problem(ProblemKind.Value, "a.csv") { Value = "x\n" + new string('y', 100), Thing = "a date", Rule = "one" };
        string sentence = ProblemSentences.Sentence(problem);
        Assert.DoesNotContain('\n', sentence);
        Assert.Contains("'x " + new string('y', 57) + "…'", sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Very_many_problems_are_counted_instead_of_said()
    {
        var cause = new Problem(ProblemKind.TextAfterQuote, "surveys.csv") { Line = 2 };
        var effect = new Problem(ProblemKind.CallOfRefusedSurvey, "calls.csv") { Line = 3, Value = "S1", OtherFile = "surveys.csv", OtherLine = 2 };
        Problem[] few = [cause, effect, effect];
        Assert.Equal(few.Select(ProblemSentences.Sentence), ImportSentences.Problems(few, 3));
        Problem[] many = [cause, cause, cause, effect, effect, effect with { File = "other.csv" }];
        Assert.Equal(
            [
                ProblemSentences.Sentence(cause),
                ProblemSentences.Sentence(cause),
                "surveys.csv: 1 more like these.",
                "calls.csv: 2 more rows are refused because of rows or files named here.",
                "other.csv: 1 more row is refused because of rows or files named here.",
            ],
            ImportSentences.Problems(many, 2));
    }

    [Fact]
    public void Counts_leave_out_what_is_zero()
    {
        Assert.Equal("calls.csv: 3 read; 3 unchanged.", ImportSentences.Counts("calls.csv", 3, 0, 0, 3, 0, 0));
        Assert.Equal("calls.csv: 9 read; 4 stored, 1 of them in place of others; 2 refused; 3 good but not loaded.", ImportSentences.Counts("calls.csv", 9, 4, 1, 0, 2, 3));
    }
}
