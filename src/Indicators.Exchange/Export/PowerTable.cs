using Indicators.Analysis.Power;

namespace Indicators.Exchange.Export;

/// <summary>The table of a question about power. Columns are explained in docs/running.md.</summary>
public static class PowerTable
{
    /// <summary>One row a plan of listening.</summary>
    /// <param name="question">What was asked.</param>
    /// <param name="results">What simulation says.</param>
    public static ExportTable Of(PowerQuestion question, IEnumerable<PowerResult> results) => ExportTable.Of("power", results,
    [
        new("wetlands", result => result.Plan.Wetlands),
        new("seasons", result => result.Plan.Seasons),
        new("visits", result => result.Plan.Visits),
        new("percent_per_season", _ => question.PercentPerSeason),
        new("worlds", result => result.Worlds),
        new("right_word", result => result.RightWord),
        new("right_word_error", result => result.RightWordError),
        new("wrong_word", result => result.WrongWord),
        new("right_range", result => result.RightRange),
        new("closed_form", result => result.ClosedForm),
        new("enough", result => result.RightWord >= question.Probability ? "yes" : "no"),
    ]);
}
