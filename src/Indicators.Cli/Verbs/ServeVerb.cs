using System.CommandLine;
using Indicators.Cli.Running;
using Indicators.Monitoring;
using Indicators.Storage;
using Indicators.Storage.Editions;
using Indicators.Web;
using Indicators.Wording;

namespace Indicators.Cli.Verbs;

/// <summary><c>serve [--db FILE]</c></summary>
internal static class ServeVerb
{
    private const string DefaultFile = "indicators.db";

    internal static Command Make(Surroundings surroundings)
    {
        var db = CommonOptions.Database(required: false);
        db.Description = $"The programme's database, a file. Default: {DefaultFile} in the folder INDICATORS_DATA names.";
        var verb = new Command("serve", "Shows the published edition as web pages, at the address ASPNETCORE_URLS names, else http://localhost:5080.") { db };
        verb.SetAction((parsed, _) => RunAsync(surroundings, parsed.GetValue(db) ?? Path.Combine(surroundings.DataFolder, DefaultFile)));
        return verb;
    }

    /// <summary>Serves a database until somebody stops it, which is how serving ends well.</summary>
    internal static async Task<int> RunAsync(Surroundings surroundings, string path)
    {
        // Pages only read; a file of an older version is brought up to date before that.
        if (Database.Open(path, DatabaseAccess.Read) is var opened && opened.Problem?.Kind == StorageProblemKind.OlderVersion)
        {
            using var upgraded = surroundings.Open(path, DatabaseAccess.Write);
            if (upgraded is null)
                return ExitCode.CouldNotRun;
        }
        opened.Database?.Dispose();
        using var database = surroundings.Open(path, DatabaseAccess.Read);
        if (database is null)
            return ExitCode.CouldNotRun;

        var app = WebHost.Build([], new EditionReader(database));
        await using (app.ConfigureAwait(false))
        {
            try
            {
                await app.StartAsync(surroundings.Stop).ConfigureAwait(false);
            }
            catch (Exception failure) when (failure is FormatException or InvalidOperationException)
            {
                surroundings.Say(StorageEditionSentences.BadAddress(failure.Message));
                return ExitCode.CouldNotRun;
            }
            foreach (string address in app.Urls)
                surroundings.Say(StorageEditionSentences.Serving(address));
            var warm = WebHost.WarmUp(app);
            await app.WaitForShutdownAsync(surroundings.Stop).ConfigureAwait(false);
            // It ends when the app stops; the database stays open until then.
            await warm.ConfigureAwait(false);
        }
        return ExitCode.Done;
    }
}
