namespace Indicators.Analysis.Fits;

/// <summary>
/// Which species of an area are fitted together. What resamples are computed from takes far more room than what they give, so
/// in a large area a few species are done at a time and let go of it; results are the same.
/// </summary>
internal static class SpeciesBatches
{
    /// <summary>
    /// So many stations times species at once. With 30 seasons, windows and other responses included, one is about 5 kB: some
    /// 100 MB.
    /// </summary>
    private const int MostAtOnce = 20_000;

    /// <summary>The species by their places, in order: one batch in all but large areas.</summary>
    /// <param name="species">How many species there are.</param>
    /// <param name="stations">How many stations the area has.</param>
    public static IReadOnlyList<int[]> Of(int species, int stations) =>
        [.. Enumerable.Range(0, species).Chunk(Math.Clamp(MostAtOnce / Math.Max(1, stations), 1, Math.Max(1, species)))];
}
