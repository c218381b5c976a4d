using Indicators.Analysis.Results;

namespace Indicators.Storage.Editions.Tables;

/// <summary>Smooth courses and their fastest changes.</summary>
internal static class SmoothTables
{
    internal static readonly ResultTable<SmoothPoint> Points = new(
        "edition_smooth",
        "area, species_id, season",
        row => new SmoothPoint
        {
            Area = row.Area(),
            Species = row.Species(),
            Season = row.Whole("season"),
            Value = row.Real("value"),
            Lower = row.RealOrNull("lower"),
            Upper = row.RealOrNull("upper"),
            Bend = row.Coded<SmoothBend>("bend"),
            FallShare = row.Real("fall_share"),
            RiseShare = row.Real("rise_share"),
        },
        [
            new("area", point => point.Area.ToString()),
            new("species_id", point => point.Species.ToString()),
            new("season", point => point.Season),
            new("value", point => point.Value),
            new("lower", point => point.Lower),
            new("upper", point => point.Upper),
            new("bend", point => ResultCode.Of(point.Bend)),
            new("fall_share", point => point.FallShare),
            new("rise_share", point => point.RiseShare),
        ]);

    internal static readonly ResultTable<SmoothChange> Changes = new(
        "edition_change",
        "area, species_id, kind",
        row => new SmoothChange
        {
            Area = row.Area(),
            Species = row.Species(),
            Kind = row.Coded<SmoothChangeKind>("kind"),
            Season = row.RealOrNull("season"),
            SeasonLower = row.RealOrNull("season_lower"),
            SeasonUpper = row.RealOrNull("season_upper"),
            PercentPerSeason = row.Real("percent_per_season"),
            Lower = row.Real("lower"),
            Upper = row.Real("upper"),
            Freedom = row.Real("freedom"),
        },
        [
            new("area", change => change.Area.ToString()),
            new("species_id", change => change.Species.ToString()),
            new("kind", change => ResultCode.Of(change.Kind)),
            new("season", change => change.Season),
            new("season_lower", change => change.SeasonLower),
            new("season_upper", change => change.SeasonUpper),
            new("percent_per_season", change => change.PercentPerSeason),
            new("lower", change => change.Lower),
            new("upper", change => change.Upper),
            new("freedom", change => change.Freedom),
        ]);
}
