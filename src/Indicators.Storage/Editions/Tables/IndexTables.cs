using Indicators.Analysis.Results;

namespace Indicators.Storage.Editions.Tables;

/// <summary>Indices of one species and of groups of species together. "index" is a word of SQL, so the column is index_value.</summary>
internal static class IndexTables
{
    internal static readonly ResultTable<IndexPoint> Indices = new(
        "edition_index",
        "area, species_id, season",
        row => new IndexPoint
        {
            Area = row.Area(),
            Species = row.Species(),
            Season = row.Whole("season"),
            Status = row.Coded<IndexStatus>("status"),
            Index = row.RealOrNull("index_value"),
            Lower = row.RealOrNull("lower"),
            Upper = row.RealOrNull("upper"),
            InBaseline = row.Flag("in_baseline"),
            MeanCallLevel = row.RealOrNull("mean_call_level"),
            Stations = row.WholeOrNull("stations"),
            Surveys = row.WholeOrNull("surveys"),
        },
        [
            new("area", point => point.Area.ToString()),
            new("species_id", point => point.Species.ToString()),
            new("season", point => point.Season),
            new("status", point => ResultCode.Of(point.Status)),
            new("index_value", point => point.Index),
            new("lower", point => point.Lower),
            new("upper", point => point.Upper),
            new("in_baseline", point => point.InBaseline),
            new("mean_call_level", point => point.MeanCallLevel),
            new("stations", point => point.Stations),
            new("surveys", point => point.Surveys),
        ]);

    internal static readonly ResultTable<GroupIndexPoint> Group = new(
        "edition_group",
        "area, species_group, season",
        row => new GroupIndexPoint
        {
            Area = row.Area(),
            Season = row.Whole("season"),
            Index = row.RealOrNull("index_value"),
            Lower = row.RealOrNull("lower"),
            Upper = row.RealOrNull("upper"),
            Species = row.Whole("species"),
            Group = row.Coded<SpeciesGroup>("species_group"),
        },
        [
            new("area", point => point.Area.ToString()),
            new("season", point => point.Season),
            new("index_value", point => point.Index),
            new("lower", point => point.Lower),
            new("upper", point => point.Upper),
            new("species", point => point.Species),
            new("species_group", point => ResultCode.Of(point.Group)),
        ]);
}
