using Indicators.Storage.Surveys;

namespace Indicators.Cli.Running;

/// <summary>
/// Holds what the runtime manages to what an analysis needs, for unasked it collects only when memory runs out. It grows with the programme; one
/// that needs more all the same is given more, and goes on.
/// </summary>
internal sealed class MemoryBound
{
    /// <summary>
    /// What a small programme and a nation's were measured to do with, with room to spare, in bytes (docs/benchmarks.md); draws come on top of them.
    /// </summary>
    private const double Least = 200 << 20, Nation = 1542 << 20;

    private const double NationSurveys = 1_349_325, NationSpecies = 25;

    /// <summary>
    /// Bytes a resample takes for every species and season of an area: some eleven numbers of eight bytes (slopes up to it, index, residual, course), and a
    /// quarter more to spare.
    /// </summary>
    private const double Resample = 110;

    /// <summary>
    /// Bytes for every species, season squared and wetland of an area, up to as many wetlands as the engine keeps apart: influences on the residuals of past
    /// seasons, a number for every season up to every other, which is half of the square, and a quarter more to spare.
    /// </summary>
    private const double Influence = 5, MostWetlands = 1024;

    /// <summary>What sets the runtime a bound from outside, which then holds.</summary>
    internal const string OwnVariable = "DOTNET_GCHeapHardLimit";

    private const string Key = "GCHeapHardLimit";

    private readonly ulong _most;
    private readonly Action<ulong> _set;
    private ulong _bound;

    /// <summary>A bound, not set yet.</summary>
    /// <param name="bound">Its bytes at first.</param>
    /// <param name="most">How many bytes there are; with no more than the bound, none is set.</param>
    /// <param name="set">Sets it.</param>
    internal MemoryBound(ulong bound, ulong most, Action<ulong> set) => (_bound, _most, _set) = (bound, most, set);

    /// <summary>A bound on this process.</summary>
    /// <param name="bound">Its bytes at first.</param>
    internal static MemoryBound OfProcess(ulong bound) =>
        new(bound, (ulong)GC.GetGCMemoryInfo().TotalAvailableMemoryBytes, bytes =>
        {
            AppContext.SetData(Key, bytes);
            GC.RefreshMemoryLimit();
        });

    /// <summary>The bound for an analysis, in bytes.</summary>
    /// <param name="size">What is stored.</param>
    /// <param name="resamples">Resamples asked for.</param>
    internal static ulong Of(StoredSize size, int resamples) =>
        (ulong)(Least
            + ((Nation - Least) * size.Surveys / NationSurveys * Math.Max(1, size.Species / NationSpecies))
            + (size.Species * size.Seasons * (Resample * resamples + (Influence * size.Seasons * Math.Min(size.Wetlands, MostWetlands)))));

    /// <summary>
    /// Works within the bound; when that is too little, begins again with twice as much, up to all there is. Afterwards the process has all there is, for it
    /// may go on to serve pages.
    /// </summary>
    /// <param name="work">Keeps what it has finished, and takes it up when it is begun again.</param>
    /// <exception cref="OutOfMemoryException">All there is was too little.</exception>
    internal T Within<T>(Func<T> work)
    {
        if (_bound >= _most)
            return work();
        _set(_bound);
        try
        {
            while (true)
            {
                try
                {
                    return work();
                }
                catch (Exception failure) when (_bound < _most && IsWantOfMemory(failure))
                {
                    _bound = Math.Min(2 * _bound, _most);
                    _set(_bound);
                }
            }
        }
        finally
        {
            _set(_most);
        }
    }

    private static bool IsWantOfMemory(Exception failure) =>
        failure is OutOfMemoryException || (failure is AggregateException several && several.Flatten().InnerExceptions.Any(IsWantOfMemory));
}
