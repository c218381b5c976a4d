using System.CommandLine;
using Indicators.Application.Editions;
using Indicators.Application.Import;
using Indicators.Cli.Running;
using Indicators.Exchange.Settings;
using Indicators.Storage;
using Indicators.Storage.Editions;
using Indicators.Wording;

namespace Indicators.Cli.Verbs;

/// <summary><c>demo</c>: an invented lake district, imported, analysed and published once, then served.</summary>
internal static class DemoVerb
{
    private const string DatabaseFile = "demo.db";

    internal static Command Make(Surroundings surroundings)
    {
        var verb = new Command("demo", "Makes the demo database when it is not there, then shows it as web pages.");
        verb.SetAction(async (_, _) =>
        {
            string path = Path.Combine(Directory.CreateDirectory(surroundings.DataFolder).FullName, DatabaseFile);
            int code = Make(surroundings, path, Path.Combine(AppContext.BaseDirectory, "seed-demo"));
            return code == ExitCode.Done ? await ServeVerb.RunAsync(surroundings, path).ConfigureAwait(false) : code;
        });
        return verb;
    }

    /// <summary>Makes what is still missing of a published demo; a made one is left as it is.</summary>
    internal static int Make(Surroundings surroundings, string path, string folder)
    {
        using var database = surroundings.Open(path, DatabaseAccess.CreateOrWrite);
        if (database is null)
            return ExitCode.CouldNotRun;
        if (new EditionReader(database).Published() is not null)
            return ExitCode.Done;

        surroundings.Say(StorageEditionSentences.MakingDemo);
        if (!surroundings.TryReadSettings(Path.Combine(folder, SettingsJson.FileName), out var settings))
            return ExitCode.CouldNotRun;
        int code = ImportVerb.Run(surroundings, database, new ImportRequest { Folder = folder, Who = surroundings.Who, Settings = settings });
        if (code == ExitCode.Done)
            code = AnalyseVerb.Run(surroundings, database, new AnalyseRequest { Who = surroundings.Who });
        return code == ExitCode.Done ? PublishVerb.Run(surroundings, database) : code;
    }
}
