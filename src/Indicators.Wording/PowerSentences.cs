using System.Globalization;
using Indicators.Analysis.Power;

namespace Indicators.Wording;

/// <summary>Says how surely a plan of listening would show a change. For the people who run a programme.</summary>
public static class PowerSentences
{
    /// <summary>What the answer rests on.</summary>
    public static string Basis(CallingSpread spread, SpreadBasis basis, string species) => Invariant(
        $"From {EffortSentences.Listening(basis.Surveys, basis.Stations, basis.Wetlands)} that heard the {species}, {Phrases.Seasons(basis.FirstSeason, basis.LastSeason)}: a survey hears {spread.Mean:0.00} on average; on the log scale wetlands differ by {spread.LevelSd:0.00} in level and {spread.SlopeSd:0.000} in change each season, a wetland's seasons by {spread.CellSd:0.00}, springs shared by all by {spread.SeasonSd:0.00} (standard deviations).");

    /// <summary>The answer: the plan with the fewest surveys that is enough, or how far the best one comes.</summary>
    public static string Answer(PowerQuestion question, IReadOnlyList<PowerResult> results)
    {
        string change = Invariant($"a change of {question.PercentPerSeason:+0.##;-0.##}{Phrases.HardSpace}% each season");
        var enough = results.Where(r => r.RightWord >= question.Probability).OrderBy(r => r.Plan.Surveys).FirstOrDefault();
        if (enough is not null)
            return $"Of the plans asked about, the one with the fewest surveys that would show {change} at least {Phrases.Share(question.Probability)} of the time is {Plan(enough)}.";
        var best = results.OrderByDescending(r => r.RightWord).ThenBy(r => r.Plan.Surveys).First();
        return $"None of the plans asked about would show {change} {Phrases.Share(question.Probability)} of the time. The nearest is {Plan(best)}.";
    }

    /// <summary>What full choruses hide from any plan, however large; null where they are not common.</summary>
    public static string? Ceiling(SpreadBasis basis) => basis.CeilingShare is { } share
        ? $"{Phrases.Share(share)} of these surveys heard a full chorus, the top of the scale. A chorus that swells or shrinks above it does not show, so the change in call levels is smaller than the change there is: ask about a smaller one too."
        : null;

    /// <summary>What the answer takes for granted.</summary>
    public static string Assumptions =>
        "This takes for granted that the wetlands to come are like those listened to, that the change is the same rate every season, that no wetland skips a season, and that good and bad springs do not last. Ask for more than the least.";

    /// <summary>How far the simulation is, beside a bar.</summary>
    public static string Simulating(int done, int all) => Invariant($"{done} of {all} plans simulated");

    /// <summary>Why there is no answer, and what to do.</summary>
    /// <param name="problem">What is wrong.</param>
    /// <param name="species">The species asked about.</param>
    /// <param name="watershed">The watershed asked about, or null for all.</param>
    /// <param name="known">The ids of all species.</param>
    public static string Of(PowerProblem problem, string species, string? watershed, IReadOnlyList<string> known)
    {
        string where = watershed is null ? "in this programme" : $"in watershed {watershed}";
        return problem switch
        {
            PowerProblem.UnknownSpecies when known.Count == 0 => NoSurveys,
            PowerProblem.UnknownWatershed when watershed is null => NoSurveys,
            PowerProblem.UnknownSpecies => $"There is no species '{species}'. The programme has {Phrases.Join(known)}.",
            PowerProblem.UnknownWatershed => $"No station with an accepted survey lies in watershed '{watershed}'.",
            PowerProblem.NeverHeard => $"'{species}' was never heard {where}, so there is nothing to plan from.",
            PowerProblem.TooLittle => $"Too few wetlands or seasons {where} say anything about '{species}' to estimate how its calling varies. Ask about a larger watershed, or all of them.",
            PowerProblem.KeptBack => $"'{species}' is protected, and nothing is told of it {where}. Ask about a larger watershed.",
            _ => throw new ArgumentOutOfRangeException(nameof(problem), problem, "Not a problem of planning."),
        };
    }

    private const string NoSurveys = "There are no accepted surveys yet. Import a folder of surveys first.";

    private static string Plan(PowerResult result) => Invariant(
        $"{Phrases.Count(result.Plan.Wetlands, "wetland", "wetlands")}, {Phrases.Count(result.Plan.Seasons, "season", "seasons")} and {Phrases.Count(result.Plan.Visits, "survey", "surveys")} a wetland each season: the right word in {Phrases.Share(result.RightWord)} of {Phrases.Count(result.Worlds)} simulated programmes, give or take {200 * result.RightWordError:0}{Phrases.HardSpace}%");

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
