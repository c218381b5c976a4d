using System.CommandLine;
using System.CommandLine.Invocation;
using System.Globalization;
using Indicators.Cli.Running;
using Indicators.Cli.Verbs;
using Indicators.Storage;
using Indicators.Wording;

namespace Indicators.Cli;

/// <summary>The command line: reads the verb, runs it, and turns what cannot go on into a sentence and an exit code.</summary>
public static class CommandLine
{
    /// <summary>Runs one command.</summary>
    /// <param name="args">The words after the program's name.</param>
    /// <param name="surroundings">Where it runs.</param>
    /// <returns>The exit code: 0 done, 1 something was refused, 2 could not run, 130 interrupted.</returns>
    public static async Task<int> RunAsync(string[] args, Surroundings surroundings)
    {
        // What a command says and writes is the same on every machine; languages are for pages.
        CultureInfo.CurrentCulture = CultureInfo.CurrentUICulture = CultureInfo.InvariantCulture;
        using var help = new StreamWriter(surroundings.Output, leaveOpen: true);
        var parsed = Root(surroundings).Parse(args);
        if (parsed.Action is ParseErrorAction)
        {
            foreach (var error in parsed.Errors)
                surroundings.Say(error.Message);
            surroundings.Say("Add --help to see what may stand here.");
            return ExitCode.CouldNotRun;
        }
        try
        {
            return await parsed.InvokeAsync(
                new InvocationConfiguration
                {
                    // Help that was asked for is data.
                    Output = help,
                    Error = surroundings.Messages,
                    EnableDefaultExceptionHandler = false,
                    // Signals are the program's own business: a verb may need longer than any fixed time to stop well.
                    ProcessTerminationTimeout = null,
                },
                surroundings.Stop).ConfigureAwait(false);
        }
        catch (OperationCanceledException) when (surroundings.Stop.IsCancellationRequested)
        {
            surroundings.Say(StorageEditionSentences.Stopped);
            return ExitCode.Interrupted;
        }
        catch (StorageException failure)
        {
            surroundings.Say(StorageSentences.Of(failure.Problem));
            return ExitCode.CouldNotRun;
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            // A file that cannot be read or written: the system's own sentence names it.
            surroundings.Say(failure.Message);
            return ExitCode.CouldNotRun;
        }
    }

    private static RootCommand Root(Surroundings surroundings) => new("Watches how frog and toad calling changes, from night listening surveys.")
    {
        ImportVerb.MakeImport(surroundings),
        ImportVerb.MakeCheck(surroundings),
        AnalyseVerb.Make(surroundings),
        PublishVerb.Make(surroundings),
        ExplainVerb.Make(surroundings),
        ExportVerb.Make(surroundings),
        PowerVerb.Make(surroundings),
        ServeVerb.Make(surroundings),
        DemoVerb.Make(surroundings),
        SettingsVerb.Make(surroundings),
    };
}
