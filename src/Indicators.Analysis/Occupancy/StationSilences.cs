using Indicators.Analysis.Areas;
using Indicators.Analysis.Cells;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Statistics.Occupancy;

namespace Indicators.Analysis.Occupancy;

/// <summary>
/// Stations where a species has gone quiet or is newly heard. Each station is compared with itself: given how often it heard
/// the species, how often would its silent visits all fall together at the end (or the beginning) by chance?
/// </summary>
/// <remarks>
/// <see cref="SilenceByChance"/>, once over visits and once over seasons (heard in a season or not), the larger of the two:
/// nights of one season are alike, and counting them as independent would make a single bad spring look like a loss. Listed
/// are stations still listened at in the last seasons, and newly heard ones first heard in them.
/// </remarks>
internal sealed class StationSilences
{
    private readonly CellTable _cells;
    private readonly OccupancyOptions _options;
    private readonly int _since;

    /// <param name="cells">All cells and visits.</param>
    /// <param name="options">The limit of a list.</param>
    /// <param name="recentSeasons">How many last seasons count as of late.</param>
    public StationSilences(CellTable cells, OccupancyOptions options, int recentSeasons) =>
        (_cells, _options, _since) = (cells, options, cells.FirstYear + cells.Years - recentSeasons);

    /// <summary>The lists of the stations whose smallest watershed an area is, and how many were looked at.</summary>
    public (IReadOnlyList<StationSilence> Silences, IReadOnlyList<SilenceTally> Tallies) Of(AreaNode area, AreaOccupancy occupancy)
    {
        int[] stations = [.. area.Stations.Where(s => _cells.Stations[s].Watershed == area.Code)];
        if (stations.Length == 0)
            return ([], []);
        var silences = new List<StationSilence>();
        var tallies = new List<SilenceTally>();
        foreach (var kind in Enum.GetValues<SilenceKind>())
        {
            var found = new List<StationSilence>();
            int tested = 0;
            double expected = 0;
            for (int k = 0; k < _cells.Species.Count; k++)
            {
                // Where a protected species is, or was, is told of no station.
                if (_cells.Species[k].Protected)
                    continue;
                foreach (int station in stations)
                {
                    if (Course.Of(_cells, station, k, _since) is not { } course || course.LastSeason < _since)
                        continue;
                    tested++;
                    expected += course.ChanceOfListing(kind, _options.SilenceChance);
                    double chance = course.Chance(kind);
                    if (chance <= _options.SilenceChance && (kind == SilenceKind.GoneQuiet || course.FirstHeard >= _since))
                        found.Add(course.Silence(kind, chance, area.Code, _cells.Stations[station].Id, _cells.Species[k].Id) with
                        {
                            ChancePresent = kind == SilenceKind.GoneQuiet ? occupancy[k].ChanceAt(_cells.Stations[station].Wetland) : null,
                        });
                }
            }
            silences.AddRange(found
                .OrderBy(s => s.Chance).ThenByDescending(s => s.SilentVisits).ThenBy(s => s.Station).ThenBy(s => s.Species)
                .Select((s, i) => s with { Rank = i + 1 }));
            tallies.Add(new SilenceTally(area.Code, kind, tested, found.Count, expected));
        }
        return (silences, tallies);
    }

    /// <summary>One station's visits in order, as counts.</summary>
    private sealed class Course
    {
        private int _visits, _heard, _seasons, _seasonsHeard, _recentSeasons;
        private int _visitsToFirst = -1, _visitsThroughLast, _seasonsToFirst = -1, _seasonsThroughLast;

        public int FirstHeard { get; private set; }

        public int LastHeard { get; private set; }

        public int LastSeason { get; private set; } = int.MinValue;

        /// <summary>Null for a station that never heard the species.</summary>
        public static Course? Of(CellTable cells, int station, int species, int since)
        {
            if (!cells[species].EverHeard(station))
                return null;
            var (course, table) = (new Course(), cells.Visits);
            bool heardInSeason = false;
            for (int v = table.First(station); v < table.First(station + 1); v++)
            {
                if (table.Season(v, species) is not { } season)
                    continue;
                if (season != course.LastSeason)
                {
                    (course.LastSeason, heardInSeason) = (season, false);
                    course._seasons++;
                    course._recentSeasons += season >= since ? 1 : 0;
                }
                course._visits++;
                if (table.Level(v, species) == 0)
                    continue;
                if (course._heard++ == 0)
                    (course.FirstHeard, course._visitsToFirst, course._seasonsToFirst) = (season, course._visits - 1, course._seasons - 1);
                course._seasonsHeard += heardInSeason ? 0 : 1;
                heardInSeason = true;
                (course.LastHeard, course._visitsThroughLast, course._seasonsThroughLast) = (season, course._visits, course._seasons);
            }
            return course;
        }

        private (int Visits, int Seasons) Silent(SilenceKind kind) => kind == SilenceKind.GoneQuiet
            ? (_visits - _visitsThroughLast, _seasons - _seasonsThroughLast)
            : (_visitsToFirst, _seasonsToFirst);

        /// <summary>How often chance alone would leave that end silent.</summary>
        public double Chance(SilenceKind kind)
        {
            var (visits, seasons) = Silent(kind);
            return Math.Max(
                SilenceByChance.Of(_heard, _visits - visits, visits),
                SilenceByChance.Of(_seasonsHeard, _seasons - seasons, seasons));
        }

        /// <summary>
        /// At most how often chance alone comes to be listed: the largest of the attainable chances, which are steps, that is
        /// not above the limit. Both counts must come so low, so the smaller of the two holds; and for newly heard all seasons
        /// with calling must fall among the last ones too.
        /// </summary>
        public double ChanceOfListing(SilenceKind kind, double limit)
        {
            double chance = Math.Min(LargestWithin(limit, _heard, _visits), LargestWithin(limit, _seasonsHeard, _seasons));
            if (kind == SilenceKind.GoneQuiet)
                return chance;
            return _seasonsHeard > _recentSeasons
                ? 0
                : Math.Min(chance, SilenceByChance.Of(_seasonsHeard, _recentSeasons, _seasons - _recentSeasons));
        }

        private static double LargestWithin(double limit, int heard, int all)
        {
            double chance = 1;
            for (int silent = 1; silent <= all - heard; silent++)
            {
                // C(all − silent, heard) / C(all, heard), one factor at a time.
                chance *= (double)(all - heard - silent + 1) / (all - silent + 1);
                if (chance <= limit)
                    return chance;
            }
            return 0;
        }

        public StationSilence Silence(SilenceKind kind, double chance, WatershedCode area, Id<Station> station, Id<Species> species) => new()
        {
            Area = area,
            Kind = kind,
            Rank = 0,
            Station = station,
            Species = species,
            HeardSeason = kind == SilenceKind.GoneQuiet ? LastHeard : FirstHeard,
            SilentVisits = Silent(kind).Visits,
            SilentSeasons = Silent(kind).Seasons,
            Visits = _visits,
            VisitsHeard = _heard,
            Chance = chance,
        };
    }
}
