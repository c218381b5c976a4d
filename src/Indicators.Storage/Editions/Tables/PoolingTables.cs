using System.Buffers.Binary;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Statistics.Pooling;
using Microsoft.Data.Sqlite;

namespace Indicators.Storage.Editions.Tables;

/// <summary>What pooling needs of each area, and what it gives: pooled and shrunken trends.</summary>
internal static class PoolingTables
{
    private const int BytesOfNumber = 8;
    private const int BytesOfSeason = 3 * BytesOfNumber;

    internal static readonly ResultTable<SlopeForPooling> Parts = new(
        "edition_slope_part",
        "area, species_id",
        row => new SlopeForPooling
        {
            Area = row.Area(),
            Species = row.Species(),
            Slope = row.Real("slope"),
            Information = row.Real("information"),
            OwnVariance = row.RealOrNull("own_variance"),
            Clusters = row.Whole("clusters"),
            ResidualVariance = row.RealOrNull("residual_variance"),
            ResponseNorm = row.Real("response_norm"),
            Seasons = Unpacked(row.Bytes("seasons")),
        },
        [
            new("area", part => part.Area.ToString()),
            new("species_id", part => part.Species.ToString()),
            new("slope", part => part.Slope),
            new("information", part => part.Information),
            new("own_variance", part => part.OwnVariance),
            new("clusters", part => part.Clusters),
            new("residual_variance", part => part.ResidualVariance),
            new("response_norm", part => part.ResponseNorm),
            new("seasons", part => Packed(part.Seasons)),
        ]);

    internal static readonly ResultTable<PooledTrend> Pooled = new(
        "edition_pooled",
        "parent, level, species_id, method",
        row => new PooledTrend
        {
            Parent = row.Parent(),
            Level = row.Whole("level"),
            Species = row.Species(),
            Method = row.Coded<BetweenVarianceMethod>("method"),
            Areas = row.Whole("areas"),
            PercentPerSeason = row.Real("percent_per_season"),
            Lower = row.Real("lower"),
            Upper = row.Real("upper"),
            PredictionLower = row.Real("prediction_lower"),
            PredictionUpper = row.Real("prediction_upper"),
            Tau = row.Real("tau"),
            TauLower = row.Real("tau_lower"),
            TauUpper = row.Real("tau_upper"),
            ISquared = row.Real("i_squared"),
            Q = row.Real("q"),
            SharedSeasonSd = row.Real("shared_season_sd"),
        },
        [
            new("parent", trend => trend.Parent?.ToString() ?? ""),
            new("level", trend => trend.Level),
            new("species_id", trend => trend.Species.ToString()),
            new("method", trend => ResultCode.Of(trend.Method)),
            new("areas", trend => trend.Areas),
            new("percent_per_season", trend => trend.PercentPerSeason),
            new("lower", trend => trend.Lower),
            new("upper", trend => trend.Upper),
            new("prediction_lower", trend => trend.PredictionLower),
            new("prediction_upper", trend => trend.PredictionUpper),
            new("tau", trend => trend.Tau),
            new("tau_lower", trend => trend.TauLower),
            new("tau_upper", trend => trend.TauUpper),
            new("i_squared", trend => trend.ISquared),
            new("q", trend => trend.Q),
            new("shared_season_sd", trend => trend.SharedSeasonSd),
        ]);

    internal static readonly ResultTable<ShrunkenTrend> Shrunken = new(
        "edition_shrunken",
        "parent, area, species_id",
        row => new ShrunkenTrend
        {
            Parent = row.Parent(),
            Area = row.Area(),
            Species = row.Species(),
            RawPercent = row.Real("raw_percent"),
            RawLower = row.RealOrNull("raw_lower"),
            RawUpper = row.RealOrNull("raw_upper"),
            PercentPerSeason = row.Real("percent_per_season"),
            Lower = row.Real("lower"),
            Upper = row.Real("upper"),
            OwnShare = row.Real("own_share"),
        },
        [
            new("parent", trend => trend.Parent?.ToString() ?? ""),
            new("area", trend => trend.Area.ToString()),
            new("species_id", trend => trend.Species.ToString()),
            new("raw_percent", trend => trend.RawPercent),
            new("raw_lower", trend => trend.RawLower),
            new("raw_upper", trend => trend.RawUpper),
            new("percent_per_season", trend => trend.PercentPerSeason),
            new("lower", trend => trend.Lower),
            new("upper", trend => trend.Upper),
            new("own_share", trend => trend.OwnShare),
        ]);

    private static WatershedCode? Parent(this SqliteDataReader row) =>
        row.Text("parent") is { Length: > 0 } code ? StoredText.Code(code) : null;

    private static byte[] Packed(IReadOnlyList<SeasonForPooling> seasons)
    {
        var bytes = new byte[seasons.Count * BytesOfSeason];
        for (int t = 0; t < seasons.Count; t++)
        {
            var at = bytes.AsSpan(t * BytesOfSeason);
            BinaryPrimitives.WriteDoubleLittleEndian(at, seasons[t].Season);
            BinaryPrimitives.WriteDoubleLittleEndian(at[BytesOfNumber..], seasons[t].Leverage);
            BinaryPrimitives.WriteDoubleLittleEndian(at[(2 * BytesOfNumber)..], seasons[t].Residual);
        }
        return bytes;
    }

    private static SeasonForPooling[] Unpacked(byte[] bytes)
    {
        var seasons = new SeasonForPooling[bytes.Length / BytesOfSeason];
        for (int t = 0; t < seasons.Length; t++)
        {
            var at = bytes.AsSpan(t * BytesOfSeason);
            seasons[t] = new SeasonForPooling(
                (int)BinaryPrimitives.ReadDoubleLittleEndian(at),
                BinaryPrimitives.ReadDoubleLittleEndian(at[BytesOfNumber..]),
                BinaryPrimitives.ReadDoubleLittleEndian(at[(2 * BytesOfNumber)..]));
        }
        return seasons;
    }
}
