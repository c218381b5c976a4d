using System.CommandLine;
using Indicators.Application.Editions;
using Indicators.Cli.Running;
using Indicators.Exchange.Export;
using Indicators.Storage;
using Indicators.Storage.Editions;
using Indicators.Wording;

namespace Indicators.Cli.Verbs;

/// <summary><c>export WHAT --db FILE --format csv|json [--edition N] [--since N] [--out FILE]</c></summary>
internal static class ExportVerb
{
    internal static Command Make(Surroundings surroundings)
    {
        string[] names = [.. Enum.GetValues<ExportWhat>().Select(ExportEdition.Name)];
        var what = new Argument<string>("WHAT") { HelpName = "WHAT", Description = $"One of {string.Join(", ", names)}." }.AcceptOnlyFromAmong(names);
        var db = CommonOptions.Database(required: true);
        var format = new Option<string>("--format") { Description = "csv or json. Default csv.", HelpName = "csv|json", DefaultValueFactory = _ => "csv" };
        format.AcceptOnlyFromAmong("csv", "json");
        var edition = CommonOptions.Whole("--edition", "The number of an edition published now or earlier. Default: the published one.", 1L, long.MaxValue);
        var since = CommonOptions.Whole("--since", "For moves: the number of the earlier edition. Default: the one published before.", 1L, long.MaxValue);
        var output = new Option<string>("--out") { Description = "The file to write. Default: standard output.", HelpName = "FILE" };
        var verb = new Command("export", "Writes one table of the published edition.") { what, db, format, edition, since, output };
        verb.SetAction(async (parsed, cancel) =>
        {
            using var database = surroundings.Open(parsed.GetRequiredValue(db), DatabaseAccess.Read);
            if (database is null)
                return ExitCode.CouldNotRun;
            var wanted = ExportEdition.ByName(parsed.GetRequiredValue(what))!.Value;
            var outcome = new ExportEdition(new EditionReader(database)).Run(wanted, parsed.GetValue(edition), new ExportFilter { Since = parsed.GetValue(since) });
            if (outcome.Problem is { } problem)
            {
                surroundings.Say(StorageSentences.Of(problem));
                return ExitCode.CouldNotRun;
            }
            if (outcome.Table is not { } table)
            {
                surroundings.Say("--since takes the number of an edition published before the one exported, and only for moves.");
                return ExitCode.CouldNotRun;
            }
            var written = parsed.GetValue(format) == "json" ? ExportFormat.Json : ExportFormat.Csv;
            await WriteAsync(table, written, parsed.GetValue(output), surroundings, cancel).ConfigureAwait(false);
            return ExitCode.Done;
        });
        return verb;
    }

    private static async Task WriteAsync(ExportTable table, ExportFormat format, string? path, Surroundings surroundings, CancellationToken cancel)
    {
        if (path is null)
        {
            await TableWriter.WriteAsync(table, format, surroundings.Output, cancel).ConfigureAwait(false);
            return;
        }
        // Written beside and then moved, so that a file of this name is always a whole one.
        string part = path + ".part";
        try
        {
            var file = File.Create(part);
            await using (file.ConfigureAwait(false))
                await TableWriter.WriteAsync(table, format, file, cancel).ConfigureAwait(false);
            File.Move(part, path, overwrite: true);
        }
        catch
        {
            File.Delete(part);
            throw;
        }
    }
}
