using System.CommandLine;
using System.Globalization;
using System.Numerics;
using Indicators.Analysis.Options;
using Indicators.Cli.Running;
using Indicators.Exchange.Settings;
using Indicators.Storage;
using Indicators.Wording;
using Indicators.Wording.Problems;

namespace Indicators.Cli.Verbs;

/// <summary>Options that several verbs share, and what they come to.</summary>
internal static class CommonOptions
{
    internal static Option<string> Database(bool required) => new("--db")
    {
        Description = "The programme's database, a file.",
        HelpName = "FILE",
        Required = required,
    };

    internal static Option<string> Settings() => new("--settings")
    {
        Description = "The programme's settings, a JSON file; they are stored with the database.",
        HelpName = "FILE",
    };

    internal static Option<int?> Threads() =>
        Whole("--threads", "How many threads may work; changes nothing but the time. Default: all processors.", 1, 1024);

    /// <summary>An option that takes a whole number from one limit to another.</summary>
    internal static Option<T?> Whole<T>(string name, string description, T least, T most)
        where T : struct, IBinaryInteger<T> => new(name)
        {
            Description = description,
            HelpName = "N",
            CustomParser = result =>
            {
                string text = result.Tokens[0].Value;
                if (T.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number >= least && number <= most)
                    return number;
                result.AddError(string.Create(CultureInfo.InvariantCulture, $"'{text}' is no good for {name}: give a whole number from {least} to {most}."));
                return null;
            },
        };

    /// <summary>Opens a database, or says why not.</summary>
    internal static Database? Open(this Surroundings surroundings, string path, DatabaseAccess access)
    {
        var opened = Storage.Database.Open(path, access);
        if (!opened.Succeeded)
            surroundings.Say(StorageSentences.Of(opened.Problem));
        return opened.Database;
    }

    /// <summary>Reads a file of settings; says what is wrong with it.</summary>
    /// <returns>False when there is a file and it is no good.</returns>
    internal static bool TryReadSettings(this Surroundings surroundings, string? path, out ProgrammeSettings? settings)
    {
        settings = null;
        if (path is null)
            return true;
        if (!File.Exists(path))
        {
            surroundings.Say($"There is no settings file {path}.");
            return false;
        }
        var read = SettingsJson.Read(File.ReadAllText(path), Path.GetFileName(path));
        foreach (var problem in read.Problems)
            surroundings.Say(ProblemSentences.Sentence(problem));
        settings = read.Settings;
        return settings is not null;
    }
}
