using Indicators.Analysis.Areas;
using Indicators.Analysis.Cells;
using Indicators.Analysis.Options;
using Indicators.Monitoring;

namespace Indicators.Analysis.Occupancy;

/// <summary>
/// Occupancy of one area's wetlands by every species. The site is the wetland: neighbouring stations of one wetland hear the
/// same animals, and presence is told of wetlands; a visit is one eligible survey at any of its stations.
/// </summary>
internal sealed class AreaOccupancy
{
    private readonly SpeciesOccupancy[] _species;

    private AreaOccupancy(SpeciesOccupancy[] species) => _species = species;

    /// <summary>One species, by its place in the cell table.</summary>
    public SpeciesOccupancy this[int species] => _species[species];

    /// <summary>Fits every species.</summary>
    /// <param name="cells">All cells and the visits behind them.</param>
    /// <param name="area">The area.</param>
    /// <param name="options">How.</param>
    /// <param name="confidence">Of the intervals.</param>
    /// <param name="draws">Keys every draw: the run's seed and the area's stream.</param>
    /// <param name="parallel">How many threads may work; changes nothing but the time.</param>
    public static AreaOccupancy Of(CellTable cells, AreaNode area, OccupancyOptions options, double confidence, DrawKey draws, ParallelOptions parallel)
    {
        Id<Wetland>[] wetlands = [.. area.Stations.Select(s => cells.Stations[s].Wetland).Distinct().Order()];
        int[] siteOf = [.. area.Stations.Select(s => Array.BinarySearch(wetlands, cells.Stations[s].Wetland))];
        var species = new SpeciesOccupancy[cells.Species.Count];
        Parallel.For(0, species.Length, parallel, k =>
        {
            var visits = WetlandVisits.Gather(cells, area, k, wetlands, siteOf);
            species[k] = SpeciesOccupancy.Of(visits, options, confidence, draws.OfParameters(k));
            visits.LetGo();
        });
        return new AreaOccupancy(species);
    }
}
