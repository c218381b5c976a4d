using Indicators.Analysis.Areas;
using Indicators.Analysis.Cells;
using Indicators.Analysis.Results;

namespace Indicators.Analysis.Fits;

/// <summary>Who listened for one species in one area, and how, as numbers that name nobody.</summary>
/// <param name="Observers">Different observers; null when too few to tell of.</param>
/// <param name="NewObserverShare">Share of the last seasons' surveys by new observers, or null.</param>
/// <param name="OutsideProtocolShare">Share of surveys outside the protocol, or null.</param>
internal readonly record struct ListeningFacts(int? Observers, double? NewObserverShare, double? OutsideProtocolShare)
{
    /// <summary>How many seasons are the last ones, and how many before them they are set beside.</summary>
    private const int Span = 3;

    /// <summary>Looks at the eligible surveys of all the area's stations, whether they heard the species or not.</summary>
    public static ListeningFacts Of(CellTable cells, VisitFacts facts, AreaNode area, int species)
    {
        var visits = cells.Visits;
        int[] years = [.. Enumerable.Range(0, cells.Years).Where(y => area.Stations.Any(s => cells[species].Effort(s, y) > 0)).Select(y => y + cells.FirstYear)];
        bool longEnough = years.Length >= 2 * Span;
        int last = longEnough ? years[^Span] : int.MaxValue, before = longEnough ? years[^(2 * Span)] : int.MaxValue;

        var ever = new bool[facts.ObserverCount];
        var then = new bool[facts.ObserverCount];
        var recent = new int[facts.ObserverCount];
        int nameless = 0, namelessThen = 0, namedThen = 0, kept = 0, broken = 0;
        foreach (int station in area.Stations)
        {
            for (int visit = visits.First(station); visit < visits.First(station + 1); visit++)
            {
                if (visits.Season(visit, species) is not { } season)
                    continue;
                kept += facts.Protocol(visit) == Kept.Yes ? 1 : 0;
                broken += facts.Protocol(visit) == Kept.No ? 1 : 0;
                int observer = facts.Observer(visit);
                if (observer == VisitFacts.NobodyNamed)
                {
                    nameless += season >= last ? 1 : 0;
                    namelessThen += season >= before && season < last ? 1 : 0;
                    continue;
                }
                ever[observer] = true;
                if (season >= last)
                {
                    recent[observer]++;
                }
                else if (season >= before)
                {
                    then[observer] = true;
                    namedThen++;
                }
            }
        }

        int known = ever.Count(e => e), named = recent.Sum();
        int inBoth = Enumerable.Range(0, recent.Length).Count(o => then[o] || recent[o] > 0);
        // Most surveys must name somebody, or "not seen before" means "not written down before".
        bool canTell = longEnough && inBoth >= EvidenceRule.FewestObservers && named > nameless && namedThen > namelessThen;
        int byNew = Enumerable.Range(0, recent.Length).Where(o => !then[o]).Sum(o => recent[o]);
        return new ListeningFacts(
            known >= EvidenceRule.FewestObservers ? known : null,
            canTell ? (double)byNew / named : null,
            kept + broken > 0 ? (double)broken / (kept + broken) : null);
    }
}
