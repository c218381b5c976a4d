namespace Indicators.Storage.Editions;

/// <summary>The layout of the editions this program writes and reads.</summary>
public static class EditionLayout
{
    /// <summary>
    /// Its version. It grows when a result is added or changes its meaning; a reader refuses editions of a newer layout
    /// and says of older ones what they did not compute.
    /// </summary>
    public const int Version = 4;
}
