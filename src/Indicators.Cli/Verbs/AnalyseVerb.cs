using System.CommandLine;
using System.Globalization;
using Indicators.Analysis.Options;
using Indicators.Application.Editions;
using Indicators.Cli.Running;
using Indicators.Storage;
using Indicators.Storage.Editions;
using Indicators.Storage.Surveys;
using Indicators.Wording;

namespace Indicators.Cli.Verbs;

/// <summary><c>analyse --db FILE [--seed N] [--resamples N] [--through SEASON] [--from SEASON] [--to SEASON] [--settings F] [--threads N]</c></summary>
internal static class AnalyseVerb
{
    /// <summary>With fewer resamples no quantile at 2.5 % exists: type 6 needs (n + 1) · 0.025 ≥ 1 (Hyndman and Fan 1996).</summary>
    private const int FewestResamples = 39;

    /// <summary>Programmes of fewer surveys are read, and mostly done, before a rehearsal would be.</summary>
    private const int WorthARehearsal = 20_000;

    internal static Command Make(Surroundings surroundings)
    {
        var db = CommonOptions.Database(required: true);
        var seed = CommonOptions.Whole("--seed", "The seed of every random draw. Default 1.", 0UL, ulong.MaxValue);
        var resamples = CommonOptions.Whole("--resamples", "How many bootstrap resamples. Default 2000.", FewestResamples, 1_000_000);
        var through = CommonOptions.Whole("--through", "The last season to use. Default: all.", 1900, 9998);
        var from = CommonOptions.Whole("--from", "The first season of one more window for trends. Default: the series' first.", 1900, 9998);
        var to = CommonOptions.Whole("--to", "The last season of that window. Default: the series' last.", 1900, 9998);
        var threads = CommonOptions.Threads();
        var settings = CommonOptions.Settings();
        var verb = new Command("analyse", "Fits all areas and species and writes a draft edition. Stopped with Ctrl-C, it goes on where it was the next time.")
        {
            db, seed, resamples, through, from, to, settings, threads,
        };
        verb.Validators.Add(result =>
        {
            if (result.GetValue(from) is { } first && result.GetValue(to) is { } last && first > last)
                result.AddError(string.Create(CultureInfo.InvariantCulture, $"The window from {first} to {last} ends before it begins: give the earlier season to --from."));
        });
        verb.SetAction(parsed =>
        {
            if (!surroundings.TryReadSettings(parsed.GetValue(settings), out var given))
                return ExitCode.CouldNotRun;
            using var database = surroundings.Open(parsed.GetRequiredValue(db), DatabaseAccess.Write);
            if (database is null)
                return ExitCode.CouldNotRun;
            var defaults = new RunOptions();
            return Run(surroundings, database, new AnalyseRequest
            {
                Run = new RunOptions
                {
                    Seed = parsed.GetValue(seed) ?? defaults.Seed,
                    Resamples = parsed.GetValue(resamples) ?? defaults.Resamples,
                    ThroughSeason = parsed.GetValue(through),
                    WindowFrom = parsed.GetValue(from),
                    WindowTo = parsed.GetValue(to),
                },
                Settings = given,
                SettingsFile = Path.GetFileName(parsed.GetValue(settings)) ?? "",
                Who = surroundings.Who,
                MaxThreads = parsed.GetValue(threads) ?? Environment.ProcessorCount,
            });
        });
        return verb;
    }

    /// <summary>Analyses an open database and says what came of it.</summary>
    internal static int Run(Surroundings surroundings, Database database, AnalyseRequest request)
    {
        var surveys = new SurveyStore(database);
        var size = surveys.Size();
        if (surroundings.OwnsProcess && request.MaxThreads > 1 && size.Surveys >= WorthARehearsal)
            _ = Task.Run(() => Rehearse(surroundings.Stop));
        var analyse = new AnalyseProgramme(surveys, new EditionStore(database), EngineAnalysis.Prepare, surroundings.Clock);
        var outcome = surroundings.OwnsProcess && surroundings.Variable(MemoryBound.OwnVariable) is null
            ? MemoryBound.OfProcess(MemoryBound.Of(size, request.Run.Resamples)).Within(Work)
            : Work();
        if (outcome.Problem is { } problem)
        {
            surroundings.Say(StorageSentences.Of(problem));
            return ExitCode.CouldNotRun;
        }
        foreach (string sentence in Sentences(outcome))
            surroundings.Say(sentence);
        return ExitCode.Done;

        AnalyseOutcome Work() => ProgressBar.Show(surroundings, tell => analyse.Run(
            request,
            tell is null ? null : new Told<AnalyseProgress>(progress => tell(StorageEditionSentences.Fitting(progress.AreasDone, progress.Areas, progress.Left?.ToTimeSpan()), progress.Share)),
            surroundings.Stop), tellsTime: false);
    }

    /// <summary>What is said of an analysis with a draft.</summary>
    private static IEnumerable<string> Sentences(AnalyseOutcome outcome)
    {
        var draft = outcome.Draft!;
        if (outcome.AreasTakenUp > 0)
            yield return StorageEditionSentences.TakenUp(outcome.AreasTakenUp);
        yield return StorageEditionSentences.Worked(outcome.ThreadsUsed);
        yield return StorageEditionSentences.Drafted(draft.Number, draft.Counts);
        foreach (var warning in draft.Warnings)
            yield return EditionSentences.Warning(warning);
    }

    /// <summary>Goes through everything once on a made-up programme, so that it is compiled when the surveys are there.</summary>
    private static void Rehearse(CancellationToken cancel)
    {
        using var database = Database.InMemory();
        _ = Sentences(Rehearsal.Run(database, cancel)).Count();
    }
}
