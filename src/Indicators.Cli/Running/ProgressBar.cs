using Spectre.Console;

namespace Indicators.Cli.Running;

/// <summary>A bar on the messages' terminal; nothing at all when nobody watches.</summary>
internal static class ProgressBar
{
    /// <summary>Runs some work that tells how far it is, as a share from 0 to 1 and a word for what it is busy with.</summary>
    /// <param name="surroundings">Where messages go.</param>
    /// <param name="work">The work.</param>
    /// <param name="tellsTime">Whether the bar guesses the time left by its own pace; not where the words say it.</param>
    internal static T Show<T>(Surroundings surroundings, Func<Action<string, double>?, T> work, bool tellsTime = true)
    {
        if (!surroundings.MessagesAreSeen)
            return work(null);
        var console = AnsiConsole.Create(new AnsiConsoleSettings { Out = new AnsiConsoleOutput(surroundings.Messages) });
        return console.Progress()
            .AutoClear(true)
            .Columns([new TaskDescriptionColumn(), new ProgressBarColumn(), new PercentageColumn(), .. tellsTime ? [new RemainingTimeColumn()] : Array.Empty<ProgressColumn>()])
            .Start(context =>
            {
                var bar = context.AddTask("Starting", maxValue: 1);
                return work((word, share) =>
                {
                    bar.Description = Markup.Escape(word);
                    bar.Value = share;
                });
            });
    }
}

/// <summary>Reports at once and on the same thread.</summary>
internal sealed class Told<T>(Action<T> then) : IProgress<T>
{
    public void Report(T value) => then(value);
}
