using System.Globalization;
using Indicators.SeedDemo;

// Draws the demo programme and writes it as an import folder; or says the slopes that drew it.
if (args is ["--truth"])
{
    foreach (string line in TruthTable.Lines())
        await Console.Out.WriteLineAsync(line);
    return 0;
}

if (args.Length is < 1 or > 2 || args[0].StartsWith('-'))
{
    await Console.Error.WriteLineAsync("Usage: OUTDIR [SEED]   write the demo's import folder; the committed one has seed 1\n       --truth         print the true slopes");
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
