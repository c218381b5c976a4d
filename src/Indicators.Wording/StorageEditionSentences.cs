using System.Globalization;
using Indicators.Analysis.Results;

namespace Indicators.Wording;

/// <summary>Says what an analysis or a publication came to. For the people who run a programme.</summary>
public static class StorageEditionSentences
{
    /// <summary>That a draft was made, and from how much.</summary>
    /// <param name="number">The draft's number.</param>
    /// <param name="counts">How much went into it.</param>
    public static string Drafted(long number, EditionCounts counts) => Invariant(
        $"Edition {number} is a draft now: {Count(counts.Surveys, "survey")}, {Count(counts.Stations, "station")}, {Count(counts.Wetlands, "wetland")}, {counts.Species} species, {Count(counts.Areas, "watershed")}, seasons {counts.FirstSeason} to {counts.LastSeason}. Publish it to show it.");

    /// <summary>What an import is busy with, beside a bar.</summary>
    public static string Importing(bool reading, bool storing) => reading ? "Reading" : storing ? "Storing" : "Checking";

    /// <summary>What an import or a check came to as a whole.</summary>
    /// <param name="checking">Whether it was only a check.</param>
    /// <param name="refused">Whether anything was refused.</param>
    /// <param name="loaded">Whether what could be taken was loaded.</param>
    public static string Imported(bool checking, bool refused, bool loaded) => (checking, refused, loaded) switch
    {
        (true, false, _) => "Nothing would be refused.",
        (true, true, _) => "Some rows would be refused. Nothing was written.",
        (false, false, _) => "Nothing was refused.",
        (false, true, true) => "Some rows were refused; the rest is loaded.",
        (false, true, false) => "Some rows were refused, so nothing was loaded. Mend them, or load the complete surveys with --partial.",
    };

    /// <summary>Where refused rows are.</summary>
    public static string RejectsAt(string folder) => $"The refused rows are in {folder}, each with its reason, ready to mend and load again.";

    /// <summary>How far an analysis is, beside a bar.</summary>
    /// <param name="done">Watersheds done.</param>
    /// <param name="all">All watersheds.</param>
    /// <param name="left">How long the rest takes, or null.</param>
    public static string Fitting(int done, int all, TimeSpan? left)
    {
        string said = Invariant($"{done} of {Count(all, "watershed")} analysed");
        // What is left then takes a nation some minutes, of which nobody can tell from the areas.
        if (done == all)
            return said + ", now putting them together and writing";
        return left switch
        {
            null => said,
            { TotalSeconds: < 50 } => $"{said}, less than a minute left",
            { TotalMinutes: < 90 } time => Invariant($"{said}, about {Count((int)Math.Ceiling(time.TotalMinutes - 1.0 / 3), "minute")} left"),
            { } time => Invariant($"{said}, about {Count((int)Math.Round(time.TotalHours), "hour")} left"),
        };
    }

    /// <summary>That an interrupted run was taken up.</summary>
    /// <param name="areas">How many areas it had left finished, greater than 0.</param>
    public static string TakenUp(int areas) => Invariant($"Taken up where the last run stopped, with {Count(areas, "watershed")} done.");

    /// <summary>How many threads worked.</summary>
    /// <param name="threads">The most at once; 0 when there was nothing left to do.</param>
    public static string Worked(int threads) =>
        threads == 0 ? "All watersheds were done already." : Invariant($"Fitted with {Count(threads, "thread")}.");

    /// <summary>That an edition was published.</summary>
    public static string Published(long number) => Invariant($"Edition {number} is published: pages and exports show it from now on.");

    /// <summary>That more than one thing changed since another edition, and how to find out what each of them moved.</summary>
    /// <param name="before">The edition published before.</param>
    public static string SeveralCauses(long before) => Invariant(
        $"More than one thing changed since edition {before}. To find out what each of them moved: indicators explain --db FILE");

    /// <summary>What was found out about two editions.</summary>
    /// <param name="before">The earlier one.</param>
    /// <param name="after">The later one.</param>
    /// <param name="steps">How many steps lead from one to the other; 0 where no more than one thing changed.</param>
    public static string Explained(long before, long after, int steps) => steps == 0
        ? Invariant($"No more than one thing changed between editions {before} and {after}, so it is behind all that moved. There is nothing to find out.")
        : Invariant($"Found out in {steps} steps what moved between editions {before} and {after}. The page that shows them side by side tells it row by row.");

    /// <summary>Where the pages are.</summary>
    public static string Serving(string address) => $"Serving {address} - stop with Ctrl-C.";

    /// <summary>That the address to serve at is no good.</summary>
    /// <param name="reason">What the server says of it.</param>
    public static string BadAddress(string reason) => $"The pages cannot be served at the address asked for. {reason}";

    /// <summary>That the demo is being made, which takes a moment the first time.</summary>
    public static string MakingDemo => "Making the demo, an invented lake district. This takes a moment the first time.";

    /// <summary>That a run was stopped and how to go on.</summary>
    public static string Stopped => "Stopped. The database is whole. The same command again goes on from here.";

    /// <summary>That a run was stopped which keeps nothing until it is whole.</summary>
    public static string StoppedWithNothing => "Stopped. Nothing of it was kept; the editions are as they were.";

    private static string Count(int number, string thing) => Invariant($"{number} {thing}{(number == 1 ? "" : "s")}");

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
