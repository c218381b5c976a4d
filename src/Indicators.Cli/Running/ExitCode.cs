namespace Indicators.Cli.Running;

/// <summary>What the program ends with.</summary>
internal static class ExitCode
{
    /// <summary>Done.</summary>
    internal const int Done = 0;

    /// <summary>Done, but something was refused, or nothing was loaded because of it.</summary>
    internal const int Refused = 1;

    /// <summary>Could not run: usage, file, database.</summary>
    internal const int CouldNotRun = 2;

    /// <summary>Interrupted; 128 and the number of the signal, as shells have it.</summary>
    internal const int Interrupted = 130;
}
