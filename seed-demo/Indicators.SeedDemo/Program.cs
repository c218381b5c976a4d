using System.Globalization;
using Indicators.SeedDemo;

// Draws the demo programme and writes it as an import folder.
if (args.Length is < 1 or > 2 || args[0].StartsWith('-'))
{
    await Console.Error.WriteLineAsync("Usage: OUTDIR [SEED]   writes the demo's import folder; the committed one has seed 1");
    return 2;
}

ulong seed = Scenario.CommittedSeed;
if (args.Length == 2 && !ulong.TryParse(args[1], NumberStyles.None, CultureInfo.InvariantCulture, out seed))
{
    await Console.Error.WriteLineAsync($"'{args[1]}' is not a seed: give a whole number, 0 or more.");
    return 2;
}

FolderWriter.Write(new Scenario(seed), args[0]);
return 0;
