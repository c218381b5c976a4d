using System.CommandLine;
using Indicators.Application.Editions;
using Indicators.Cli.Running;
using Indicators.Storage;
using Indicators.Storage.Editions;
using Indicators.Storage.Surveys;
using Indicators.Wording;

namespace Indicators.Cli.Verbs;

/// <summary><c>explain --db FILE [--edition N] [--before N] [--threads N]</c></summary>
internal static class ExplainVerb
{
    internal static Command Make(Surroundings surroundings)
    {
        var db = CommonOptions.Database(required: true);
        var edition = CommonOptions.Whole("--edition", "The later edition. Default: the published one.", 1L, long.MaxValue);
        var before = CommonOptions.Whole("--before", "The earlier edition. Default: the one published before it.", 1L, long.MaxValue);
        var threads = CommonOptions.Threads();
        var verb = new Command("explain", "Finds out what each of several causes moved between two editions, by running the analysis again with one thing changed at a time.")
        {
            db, edition, before, threads,
        };
        verb.SetAction(parsed =>
        {
            using var database = surroundings.Open(parsed.GetRequiredValue(db), DatabaseAccess.Write);
            if (database is null)
                return ExitCode.CouldNotRun;
            try
            {
                return Run(surroundings, database, new ApartRequest
                {
                    After = parsed.GetValue(edition),
                    Before = parsed.GetValue(before),
                    MaxThreads = parsed.GetValue(threads) ?? Environment.ProcessorCount,
                });
            }
            catch (OperationCanceledException) when (surroundings.Stop.IsCancellationRequested)
            {
                surroundings.Say(StorageEditionSentences.StoppedWithNothing);
                return ExitCode.Interrupted;
            }
        });
        return verb;
    }

    private static int Run(Surroundings surroundings, Database database, ApartRequest request)
    {
        var apart = new TellCausesApart(new SurveyStore(database), new EditionReader(database), new StepStore(database), EngineAnalysis.Prepare);
        var outcome = ProgressBar.Show(surroundings, tell => apart.Run(
            request,
            tell is null ? null : new Told<AnalyseProgress>(progress => tell(StorageEditionSentences.Fitting(progress.AreasDone, progress.Areas, null), progress.Share)),
            surroundings.Stop), tellsTime: true);
        surroundings.Say(outcome.Problem is { } problem
            ? StorageSentences.Of(problem)
            : StorageEditionSentences.Explained(outcome.Before, outcome.After, outcome.Steps.Count));
        return outcome.Problem is null ? ExitCode.Done : ExitCode.CouldNotRun;
    }
}
