using System.CommandLine;
using Indicators.Application.Import;
using Indicators.Cli.Running;
using Indicators.Storage;
using Indicators.Storage.Surveys;
using Indicators.Wording;
using Indicators.Wording.Problems;

namespace Indicators.Cli.Verbs;

/// <summary>
/// <c>import FOLDER --db FILE [--partial] [--replace] [--rejects DIR] [--settings F]</c> and its twin that writes nothing,
/// <c>check FOLDER [--db FILE] [--replace] [--settings F]</c>.
/// </summary>
internal static class ImportVerb
{
    internal static Command MakeImport(Surroundings surroundings)
    {
        var folder = FolderArgument();
        var db = CommonOptions.Database(required: true);
        var partial = new Option<bool>("--partial") { Description = "Load every complete survey and refuse the rest. Default: a refusal anywhere loads nothing." };
        var replace = Replace();
        var rejects = new Option<string>("--rejects") { Description = "The folder for refused rows. Default: FOLDER-rejects, beside the folder.", HelpName = "DIR" };
        var settings = CommonOptions.Settings();
        var verb = new Command("import", "Checks a folder of surveys and loads it into a database, which is made when it is not there.")
        {
            folder, db, partial, replace, rejects, settings,
        };
        verb.SetAction(parsed =>
        {
            if (!surroundings.TryReadSettings(parsed.GetValue(settings), out var given))
                return ExitCode.CouldNotRun;
            var request = new ImportRequest
            {
                Folder = parsed.GetRequiredValue(folder),
                Who = surroundings.Who,
                Rejects = parsed.GetValue(rejects),
                Partial = parsed.GetValue(partial),
                Replace = parsed.GetValue(replace),
                Settings = given,
            };
            // A mistyped folder must not leave an empty database behind.
            if (!Directory.Exists(request.Folder))
                return Check(surroundings, request, null);
            using var database = surroundings.Open(parsed.GetRequiredValue(db), DatabaseAccess.CreateOrWrite);
            return database is null ? ExitCode.CouldNotRun : Run(surroundings, database, request);
        });
        return verb;
    }

    internal static Command MakeCheck(Surroundings surroundings)
    {
        var folder = FolderArgument();
        var db = CommonOptions.Database(required: false);
        db.Description = "A database to compare the folder with. Default: an empty one.";
        var replace = Replace();
        var settings = CommonOptions.Settings();
        settings.Description = "The programme's settings, a JSON file, to check against.";
        var verb = new Command("check", "Gives the report of an import and writes nothing.") { folder, db, replace, settings };
        verb.SetAction(parsed =>
        {
            if (!surroundings.TryReadSettings(parsed.GetValue(settings), out var given))
                return ExitCode.CouldNotRun;
            var request = new ImportRequest
            {
                Folder = parsed.GetRequiredValue(folder),
                Who = surroundings.Who,
                Replace = parsed.GetValue(replace),
                Settings = given,
            };
            if (parsed.GetValue(db) is not { } path)
                return Check(surroundings, request, null);
            using var database = surroundings.Open(path, DatabaseAccess.Read);
            return database is null ? ExitCode.CouldNotRun : Check(surroundings, request, new SurveyStore(database));
        });
        return verb;
    }

    /// <summary>Imports into an open database and says what came of it.</summary>
    internal static int Run(Surroundings surroundings, Database database, ImportRequest request) => Report(
        surroundings,
        ProgressBar.Show(surroundings, tell =>
            ImportFolder.Run(request, new SurveyStore(database), surroundings.Clock, Progress(tell), surroundings.Stop)),
        checking: false);

    private static int Check(Surroundings surroundings, ImportRequest request, SurveyStore? store) => Report(
        surroundings,
        ProgressBar.Show(surroundings, tell => ImportFolder.Check(request, store, surroundings.Clock, Progress(tell), surroundings.Stop)),
        checking: true);

    private static Argument<string> FolderArgument() => new("FOLDER") { Description = "The folder that holds surveys.csv, calls.csv and the other files." };

    private static Option<bool> Replace() => new("--replace")
    {
        Description = "Take the folder's content in place of other content stored under the same ids; the old is logged. Default: such rows are refused.",
    };

    private static Told<ImportProgress>? Progress(Action<string, double>? tell) => tell is null
        ? null
        : new Told<ImportProgress>(progress => tell(
            StorageEditionSentences.Importing(progress.Stage == ImportStage.Reading, progress.Stage == ImportStage.Storing),
            progress.Total > 0 ? (double)progress.Done / progress.Total : 1));

    private static int Report(Surroundings surroundings, ImportReport report, bool checking)
    {
        foreach (string sentence in ImportSentences.Problems(report.Problems))
            surroundings.Say(sentence);
        foreach (var file in report.Files)
        {
            surroundings.Say(ImportSentences.Counts(
                file.File, file.Read, file.Stored, file.Replaced, file.Unchanged, file.Refused, file.NotLoaded));
        }
        if (report.Outcome == ImportOutcome.Failed)
            return ExitCode.CouldNotRun;
        bool refused = report.Outcome == ImportOutcome.SomethingRefused;
        surroundings.Say(StorageEditionSentences.Imported(checking, refused, report.IsLoaded));
        if (report.Rejects is { } rejects)
            surroundings.Say(StorageEditionSentences.RejectsAt(rejects));
        return refused ? ExitCode.Refused : ExitCode.Done;
    }
}
