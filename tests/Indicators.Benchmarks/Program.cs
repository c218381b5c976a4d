using System.Globalization;
using Indicators.Benchmarks;
using Indicators.Benchmarks.Coverage;

const string Usage = """
    make-state DIR       write a state's programme as an import folder
    make-nation DIR      write a nation's
    demo-truth [PROGRAMMES RESAMPLES]
                         how often the intervals hold the demo's true slopes (default 200 1000)
    coverage slopes WORLDS RESAMPLES FILE
                         how often the intervals of a slope hold known slopes, over a grid of programmes; goes on with FILE
    coverage engine WORLDS RESAMPLES FILE [CELL...]
                         the same for indices, the group index and the condition score, through the whole engine; in these cells alone
    coverage ranges WORLDS RESAMPLES FILE [CELL...]
                         the engine's two intervals of a slope alone, in the same worlds; in these cells alone
    coverage renew SLOPES RANGES
                         put them in their places in the table of slopes
    coverage draw SLOPES ENGINE FOLDER
                         draw both tables
    coverage tables SLOPES ENGINE
                         print what stands in docs/coverage.md
    pooled-coverage WORLDS RESAMPLES
                         how often pooled means and shrunken slopes hold the known ones
    smooth-coverage WORLDS RESAMPLES
                         how often the bands of smooth courses hold known courses
    expansion WATERSHEDS RESAMPLES
                         how far adjusted intervals read off the expansion lie from those of full refits
    occupancy WORLDS     what is said of occupancy, of species not heard and of silent stations, where the truth is known
    peak                 multiply-adds a second of the annual model's fit, beside those of registers alone
    first-render DB [ROUNDS]
                         time the first rendering of every page of a published edition (default 5)
    bare HEADERS BODY URL
                         answer every request with the bytes and headers of these two files, for wire.sh
    fits [RESAMPLES]     time the refits of one of its watersheds (default 2000)
    """;

switch (args)
{
    case ["make-state" or "make-nation", string folder]:
        var (surveys, calls) = new StateProgramme(1, args[0] == "make-nation").Write(folder);
        await Console.Out.WriteLineAsync(string.Create(CultureInfo.InvariantCulture, $"{surveys} surveys, {calls} calls in {folder}"));
        return 0;
    case ["demo-truth"]:
        DemoTruth.Run(200, 1000, Console.Out);
        return 0;
    case ["demo-truth", string first, string second] when IsCount(first, out int programmes) && IsCount(second, out int resamples):
        DemoTruth.Run(programmes, resamples, Console.Out);
        return 0;
    case ["coverage", "slopes", string many, string each, string file] when IsCount(many, out int worlds) && IsCount(each, out int resamples):
        return SlopeStudy.Run(worlds, resamples, file, [], false, Console.Error) ? 0 : 2;
    case ["coverage", "engine", string many, string each, string file, .. var cells] when IsCount(many, out int worlds) && IsCount(each, out int resamples):
        return EngineStudy.Run(worlds, resamples, file, cells, Console.Error) ? 0 : 2;
    case ["coverage", "ranges", string many, string each, string file, .. var cells] when IsCount(many, out int worlds) && IsCount(each, out int resamples):
        return SlopeStudy.Run(worlds, resamples, file, cells, true, Console.Error) ? 0 : 2;
    case ["coverage", "renew", string slopes, string ranges]:
        SlopeStudy.Renew(slopes, ranges);
        return 0;
    case ["coverage", "tables", string slopes, string engine]:
        CoverageTables.Write(slopes, engine, Console.Out);
        return 0;
    case ["coverage", "draw", string slopes, string engine, string pictures]:
        CoverageFigures.Write(slopes, engine, pictures);
        return 0;
    case ["pooled-coverage", string many, string each] when IsCount(many, out int worlds) && IsCount(each, out int resamples):
        PooledCoverage.Run(worlds, resamples, Console.Out);
        return 0;
    case ["smooth-coverage", string many, string each] when IsCount(many, out int worlds) && IsCount(each, out int resamples):
        SmoothCoverage.Run(worlds, resamples, Console.Out);
        return 0;
    case ["expansion", string many, string each] when IsCount(many, out int watersheds) && IsCount(each, out int resamples):
        ExpansionStudy.Run(watersheds, resamples, Console.Out);
        return 0;
    case ["peak"]:
        Peak.Run(Console.Out);
        return 0;
    case ["occupancy", string many] when IsCount(many, out int worlds):
        OccupancyStudy.Run(worlds, Console.Out);
        return 0;
    case ["first-render", string database]:
        return await FirstRender.Run(database, 5, Console.Out);
    case ["first-render", string database, string many] when IsCount(many, out int rounds):
        return await FirstRender.Run(database, rounds, Console.Out);
    case ["bare", string headers, string body, string url]:
        await BareEndpoint.Run(headers, body, url);
        return 0;
    case ["fits"]:
        FitsPerSecond.Run(2000, Console.Out);
        return 0;
    case ["fits", string text] when IsCount(text, out int resamples):
        FitsPerSecond.Run(resamples, Console.Out);
        return 0;
    default:
        await Console.Error.WriteLineAsync(Usage);
        return 2;
}

static bool IsCount(string text, out int count) => int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out count) && count > 0;
