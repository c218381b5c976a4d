using Indicators.Analysis.Results;
using Indicators.Monitoring;

namespace Indicators.Storage.Editions.Tables;

/// <summary>Stations gone quiet and newly heard, and how many were looked at.</summary>
internal static class SilenceTables
{
    internal static readonly ResultTable<StationSilence> Silences = new(
        "edition_silence",
        "area, kind, place",
        row => new StationSilence
        {
            Area = row.Area(),
            Kind = row.Coded<SilenceKind>("kind"),
            Rank = row.Whole("place"),
            Station = StoredText.Id<Station>(row.Text("station_id")),
            Species = row.Species(),
            HeardSeason = row.Whole("heard_season"),
            SilentVisits = row.Whole("silent_visits"),
            SilentSeasons = row.Whole("silent_seasons"),
            Visits = row.Whole("visits"),
            VisitsHeard = row.Whole("visits_heard"),
            Chance = row.Real("chance"),
            ChancePresent = row.RealOrNull("chance_present"),
        },
        [
            new("area", silence => silence.Area.ToString()),
            new("kind", silence => ResultCode.Of(silence.Kind)),
            new("place", silence => silence.Rank),
            new("station_id", silence => silence.Station.ToString()),
            new("species_id", silence => silence.Species.ToString()),
            new("heard_season", silence => silence.HeardSeason),
            new("silent_visits", silence => silence.SilentVisits),
            new("silent_seasons", silence => silence.SilentSeasons),
            new("visits", silence => silence.Visits),
            new("visits_heard", silence => silence.VisitsHeard),
            new("chance", silence => silence.Chance),
            new("chance_present", silence => silence.ChancePresent),
        ]);

    internal static readonly ResultTable<SilenceTally> Tallies = new(
        "edition_silence_tally",
        "area, kind",
        row => new SilenceTally(
            row.Area(),
            row.Coded<SilenceKind>("kind"),
            row.Whole("tested"),
            row.Whole("listed"),
            row.Real("expected_by_chance")),
        [
            new("area", tally => tally.Area.ToString()),
            new("kind", tally => ResultCode.Of(tally.Kind)),
            new("tested", tally => tally.Tested),
            new("listed", tally => tally.Listed),
            new("expected_by_chance", tally => tally.ExpectedByChance),
        ]);
}
