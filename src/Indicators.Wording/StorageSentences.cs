using System.Globalization;
using Indicators.Analysis.Results;
using Indicators.Monitoring;

namespace Indicators.Wording;

/// <summary>Says why a database or an edition cannot be used, and what to do. For the people who run a programme.</summary>
public static class StorageSentences
{
    /// <summary>What is wrong with a database, in a sentence or two that name the file.</summary>
    public static string Of(StorageProblem problem)
    {
        string file = problem.Path;
        return problem.Kind switch
        {
            StorageProblemKind.MissingFile => $"There is no file {file}. Give the database that an import made.",
            StorageProblemKind.MissingFolder => $"The folder for {file} does not exist. Make it first, or give another place.",
            StorageProblemKind.IsFolder => $"{file} is a folder. Give a file in it.",
            StorageProblemKind.NotADatabase => $"{file} is not a database. It has been left as it is.",
            StorageProblemKind.NotOurs => $"{file} is a database, but not one of a listening programme. It has been left as it is.",
            StorageProblemKind.Damaged => $"{file} is damaged. Keep the file, and go back to your last good copy.",
            StorageProblemKind.NewerVersion => Invariant(
                $"{file} was written by a newer version of this program (its layout is number {problem.Found}; this program reads up to {problem.Supported}). Use the newer version. The file has been left as it is."),
            StorageProblemKind.OlderVersion => Invariant(
                $"{file} was written by an older version of this program (its layout is number {problem.Found}; this program reads {problem.Supported}). Keep a copy, then run an import or an analysis on it: that brings it up to date."),
            StorageProblemKind.ReadOnly => $"{file} cannot be written: the file or its folder is read-only.",
            StorageProblemKind.Locked => $"{file} is in use: another program, or another run of this one, is writing to it. Wait for it to end, then try again.",
            StorageProblemKind.DiskFull => $"There is no room left on the disk for {file}. Nothing of this step was kept.",
            StorageProblemKind.Unreadable => $"{file} cannot be opened or read. Check that the disk is there and that you may use the file.",
            StorageProblemKind.NewerEdition => Invariant(
                $"Edition {problem.Edition} in {file} was made by a newer version of this program. Use the newer version to read it."),
            _ => throw new ArgumentOutOfRangeException(nameof(problem), problem.Kind, "Not a storage problem."),
        };
    }

    /// <summary>Why there is no edition to make, publish or read, and what to do.</summary>
    public static string Of(EditionProblem problem) => problem.Kind switch
    {
        EditionProblemKind.NothingToAnalyse when problem.Number is { } season => Invariant(
            $"There are no accepted surveys up to the season {season}, so there is nothing to analyse."),
        EditionProblemKind.NothingToAnalyse => "There are no accepted surveys yet, so there is nothing to analyse. Import a folder of surveys first.",
        EditionProblemKind.NoDraft => "There is no draft to publish. Run an analysis first.",
        EditionProblemKind.NothingPublished => "Nothing has been published yet. Run an analysis, then publish its draft.",
        EditionProblemKind.UnknownEdition => Invariant($"There is no published edition {problem.Number}."),
        EditionProblemKind.NoEditionBefore => Invariant($"No edition was published before edition {problem.Number}, so there is nothing to set it beside."),
        EditionProblemKind.NotBefore => Invariant($"Edition {problem.Number} is not the earlier of the two. Give the earlier one with --before."),
        EditionProblemKind.OtherEngine => Invariant(
            $"Another version of this program, or another machine, made edition {problem.Number}, so runs in between would not lead up to it. Run the analysis again, publish it, and ask then."),
        EditionProblemKind.OtherSurveys => Invariant(
            $"The stations, names or lists that edition {problem.Number} rests on have been changed since. Run the analysis again, publish it, and ask then."),
        EditionProblemKind.NotApart => Invariant(
            $"What edition {problem.Number} rested on cannot be had any more as it was, so its causes cannot be told apart."),
        _ => throw new ArgumentOutOfRangeException(nameof(problem), problem.Kind, "Not an edition problem."),
    };

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
