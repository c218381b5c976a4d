using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;
using Indicators.Analysis.Power;
using Indicators.Application.Planning;
using Indicators.Cli.Running;
using Indicators.Exchange.Export;
using Indicators.Storage;
using Indicators.Storage.Surveys;
using Indicators.Wording;

namespace Indicators.Cli.Verbs;

/// <summary>
/// <c>power --db FILE --species ID --change PERCENT [--watershed CODE] [--probability P] [--wetlands N,…] [--seasons N,…]
/// [--visits N,…] [--worlds N] [--seed N] [--threads N]</c>
/// </summary>
internal static class PowerVerb
{
    private const int MostWetlands = 2000, MostSeasons = 100, MostVisits = 50;

    internal static Command Make(Surroundings surroundings)
    {
        var db = CommonOptions.Database(required: true);
        var species = new Option<string>("--species") { Description = "The species, by its id.", HelpName = "ID", Required = true };
        var watershed = new Option<string>("--watershed") { Description = "A watershed of any level to estimate from. Default: all stations.", HelpName = "CODE" };
        var change = Real("--change", "The change to see, percent each season, such as -3.", required: true, x => x is > -100 and <= 1000 and not 0, "above -100, up to 1000, and not 0");
        var probability = Real("--probability", "How likely the right word should be. Default 0.8.", required: false, x => x is > 0 and < 1, "between 0 and 1");
        var wetlands = List("--wetlands", "How many wetlands, one number or several. Default 10,20,40.", MostWetlands);
        var seasons = List("--seasons", "How many seasons. Default 8,12,20.", MostSeasons, least: 2);
        var visits = List("--visits", "How many surveys a wetland and season. Default: as many as it has been.", MostVisits);
        var worlds = CommonOptions.Whole("--worlds", "How many programmes to simulate for each plan. Default 500.", 50, 100_000);
        var seed = CommonOptions.Whole("--seed", "The seed of every random draw. Default 1.", 0UL, ulong.MaxValue - 100_001);
        var threads = CommonOptions.Threads();
        var verb = new Command("power", "How surely ways to listen would show a change, judged from the programme's own surveys. Writes nothing.")
        {
            db, species, watershed, change, probability, wetlands, seasons, visits, worlds, seed, threads,
        };
        verb.SetAction(async (parsed, cancel) =>
        {
            using var database = surroundings.Open(parsed.GetRequiredValue(db), DatabaseAccess.Read);
            if (database is null)
                return ExitCode.CouldNotRun;
            var request = new PowerRequest
            {
                Species = parsed.GetRequiredValue(species),
                Watershed = parsed.GetValue(watershed),
                Wetlands = parsed.GetValue(wetlands) is { Length: > 0 } w ? w : [10, 20, 40],
                Seasons = parsed.GetValue(seasons) is { Length: > 0 } s ? s : [8, 12, 20],
                Visits = parsed.GetValue(visits) ?? [],
                Question = new PowerQuestion
                {
                    PercentPerSeason = parsed.GetRequiredValue(change)!.Value,
                    Probability = parsed.GetValue(probability) ?? 0.8,
                    Worlds = parsed.GetValue(worlds) ?? 500,
                    Seed = parsed.GetValue(seed) ?? 1,
                },
                MaxThreads = parsed.GetValue(threads) ?? Environment.ProcessorCount,
            };
            return await AskAsync(surroundings, database, request, cancel).ConfigureAwait(false);
        });
        return verb;
    }

    private static async Task<int> AskAsync(Surroundings surroundings, Database database, PowerRequest request, CancellationToken cancel)
    {
        var outcome = ProgressBar.Show(surroundings, tell => new AskPower(new SurveyStore(database)).Run(
            request,
            tell is null ? null : new Told<PowerProgress>(p => tell(PowerSentences.Simulating(p.Done, p.All), (double)p.Done / p.All)),
            surroundings.Stop));
        if (outcome.Programme is not { Spread: { } spread, Basis: { } basis })
        {
            surroundings.Say(PowerSentences.Of(outcome.Programme.Problem!.Value, request.Species, request.Watershed, outcome.KnownSpecies));
            return ExitCode.CouldNotRun;
        }
        await TableWriter.WriteAsync(PowerTable.Of(request.Question, outcome.Results), ExportFormat.Csv, surroundings.Output, cancel).ConfigureAwait(false);
        surroundings.Say(PowerSentences.Basis(spread, basis, SpeciesNames.Inside(outcome.Species!)));
        surroundings.Say(PowerSentences.Answer(request.Question, outcome.Results));
        if (PowerSentences.Ceiling(basis) is { } ceiling)
            surroundings.Say(ceiling);
        surroundings.Say(PowerSentences.Assumptions);
        return ExitCode.Done;
    }

    private static Option<double?> Real(string name, string description, bool required, Func<double, bool> good, string wanted) => new(name)
    {
        Description = description,
        HelpName = "X",
        Required = required,
        CustomParser = result =>
        {
            string text = result.Tokens[0].Value;
            if (double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) && double.IsFinite(number) && good(number))
                return number;
            result.AddError($"'{text}' is no good for {name}: give a number {wanted}.");
            return null;
        },
    };

    private static Option<int[]?> List(string name, string description, int most, int least = 1) => new(name)
    {
        Description = description,
        HelpName = "N,…",
        CustomParser = result => Numbers(result, name, least, most),
    };

    private static int[]? Numbers(ArgumentResult result, string name, int least, int most)
    {
        var numbers = new List<int>();
        foreach (string text in result.Tokens[0].Value.Split(','))
        {
            if (!int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int number) || number < least || number > most)
            {
                result.AddError(string.Create(CultureInfo.InvariantCulture, $"'{text}' is no good for {name}: give whole numbers from {least} to {most}, with commas between them."));
                return null;
            }
            numbers.Add(number);
        }
        return [.. numbers.Distinct()];
    }
}
