using System.CommandLine;
using System.Text;
using Indicators.Application.Editions;
using Indicators.Cli.Running;
using Indicators.Storage;
using Indicators.Storage.Surveys;

namespace Indicators.Cli.Verbs;

/// <summary><c>settings [--db FILE]</c></summary>
internal static class SettingsVerb
{
    internal static Command Make(Surroundings surroundings)
    {
        var db = CommonOptions.Database(required: false);
        db.Description = "A database, to print the settings stored in it instead of the defaults.";
        var verb = new Command("settings", "Prints the default settings as a settings file.") { db };
        verb.SetAction(parsed =>
        {
            if (parsed.GetValue(db) is not { } path)
                return Print(null);
            using var database = surroundings.Open(path, DatabaseAccess.Read);
            return database is null ? ExitCode.CouldNotRun : Print(new SurveyStore(database));
        });
        return verb;

        int Print(SurveyStore? store)
        {
            surroundings.Output.Write(Encoding.UTF8.GetBytes(ShowSettings.Text(store)));
            return ExitCode.Done;
        }
    }
}
