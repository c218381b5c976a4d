using System.CommandLine;
using Indicators.Application.Editions;
using Indicators.Cli.Running;
using Indicators.Storage;
using Indicators.Storage.Editions;
using Indicators.Wording;

namespace Indicators.Cli.Verbs;

/// <summary><c>publish --db FILE</c></summary>
internal static class PublishVerb
{
    internal static Command Make(Surroundings surroundings)
    {
        var db = CommonOptions.Database(required: true);
        var verb = new Command("publish", "Makes the draft the edition that pages and exports show. Earlier editions stay.") { db };
        verb.SetAction(parsed =>
        {
            using var database = surroundings.Open(parsed.GetRequiredValue(db), DatabaseAccess.Write);
            return database is null ? ExitCode.CouldNotRun : Run(surroundings, database);
        });
        return verb;
    }

    /// <summary>Publishes the draft of an open database and says so.</summary>
    internal static int Run(Surroundings surroundings, Database database)
    {
        var outcome = new PublishDraft(new EditionStore(database), new EditionReader(database), surroundings.Clock).Run();
        surroundings.Say(outcome.Problem is { } problem
            ? StorageSentences.Of(problem)
            : StorageEditionSentences.Published(outcome.Edition!.Number));
        if (outcome.SeveralCausesSince is { } before)
            surroundings.Say(StorageEditionSentences.SeveralCauses(before));
        return outcome.Problem is null ? ExitCode.Done : ExitCode.CouldNotRun;
    }
}
