using System.Globalization;
using Indicators.Benchmarks;

const string Usage = """
    make-state DIR       write a state's programme as an import folder
    fits [RESAMPLES]     time the refits of one of its watersheds (default 2000)
    """;

switch (args)
{
    case ["make-state", string folder]:
        var (surveys, calls) = new StateProgramme(1).Write(folder);
        await Console.Out.WriteLineAsync(string.Create(CultureInfo.InvariantCulture, $"{surveys} surveys, {calls} calls in {folder}"));
        return 0;
    case ["fits"]:
        FitsPerSecond.Run(2000, Console.Out);
        return 0;
    case ["fits", string text] when int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int resamples) && resamples > 0:
        FitsPerSecond.Run(resamples, Console.Out);
        return 0;
    default:
        await Console.Error.WriteLineAsync(Usage);
        return 2;
}
