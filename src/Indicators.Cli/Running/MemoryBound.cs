namespace Indicators.Cli.Running;

/// <summary>
/// Holds what the runtime manages to what an analysis needs, for unasked it collects only when memory runs out. In proportion
/// to the programme above a nation's size, so that a larger one is not ended by it.
/// </summary>
internal static class MemoryBound
{
    /// <summary>What the analysis of a nation's programme was measured to do with, in bytes (docs/benchmarks.md).</summary>
    private const double Nation = 0x6C000000;

    private const double NationSurveys = 1_349_325, NationSpecies = 25, NationResamples = 1000;

    /// <summary>Room for one more resample's indices of every species of an area, in bytes.</summary>
    private const double Resample = 64 << 10;

    /// <summary>What sets the runtime a bound from outside, which then holds.</summary>
    internal const string OwnVariable = "DOTNET_GCHeapHardLimit";

    private const string Key = "GCHeapHardLimit";

    /// <summary>The bound for an analysis, in bytes.</summary>
    /// <param name="surveys">Surveys stored.</param>
    /// <param name="species">Species stored.</param>
    /// <param name="resamples">Resamples asked for.</param>
    internal static ulong Of(long surveys, long species, int resamples) =>
        (ulong)((Nation * Math.Max(1, surveys / NationSurveys * Math.Max(1, species / NationSpecies))) + (Resample * Math.Max(0, resamples - NationResamples)));

    /// <summary>Sets the bound for this process, unless there is less memory than that.</summary>
    internal static void Set(ulong bound)
    {
        if ((ulong)GC.GetGCMemoryInfo().TotalAvailableMemoryBytes <= bound)
            return;
        AppContext.SetData(Key, bound);
        GC.RefreshMemoryLimit();
    }
}
