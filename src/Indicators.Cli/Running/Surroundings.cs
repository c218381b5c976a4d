using NodaTime;

namespace Indicators.Cli.Running;

/// <summary>Everything a verb takes from outside: clock, environment, streams, the wish to stop.</summary>
/// <param name="Clock">Says what time it is.</param>
/// <param name="Variable">Looks up an environment variable.</param>
/// <param name="Who">Who runs the command.</param>
/// <param name="Output">Standard output: data, nothing else.</param>
/// <param name="Messages">Standard error: messages and progress.</param>
/// <param name="MessagesAreSeen">Whether a person watches the messages on a terminal, so that a progress bar makes sense.</param>
/// <param name="Stop">Asks to stop cleanly.</param>
public sealed record Surroundings(
    IClock Clock,
    Func<string, string?> Variable,
    string Who,
    Stream Output,
    TextWriter Messages,
    bool MessagesAreSeen,
    CancellationToken Stop)
{
    /// <summary>Whether the process is there for this command alone, which may then set how much memory it takes.</summary>
    public bool OwnsProcess { get; init; }

    /// <summary>Those of this process.</summary>
    public static Surroundings OfProcess(CancellationToken stop) => new(
        SystemClock.Instance,
        Environment.GetEnvironmentVariable,
        Environment.UserName,
        Console.OpenStandardOutput(),
        Console.Error,
        !Console.IsErrorRedirected,
        stop)
    {
        OwnsProcess = true,
    };

    /// <summary>Says one line.</summary>
    public void Say(string line) => Messages.WriteLine(line);

    /// <summary>The folder of databases: INDICATORS_DATA, or the user's data folder.</summary>
    public string DataFolder =>
        Variable("INDICATORS_DATA") is { Length: > 0 } folder
            ? folder
            : Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.Create), "indicators");
}
