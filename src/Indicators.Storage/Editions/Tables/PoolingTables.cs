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
    private const int NumbersOfSeason = 3;

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
            ResponseByLag = Numbers(row.Bytes("response")),
            CarryOverEvidence = Numbers(row.Bytes("carry_over")),
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
            new("response", part => Packed(part.ResponseByLag)),
            new("carry_over", part => Packed(part.CarryOverEvidence)),
            new("seasons", part => Packed([.. part.Seasons.SelectMany(s => new[] { s.Season, s.Leverage, s.Residual })])),
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
            SeasonCorrelation = row.RealOrNull("season_correlation"),
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
            new("season_correlation", trend => trend.SeasonCorrelation),
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

    private static byte[] Packed(IReadOnlyList<double> numbers)
    {
        var bytes = new byte[numbers.Count * BytesOfNumber];
        for (int i = 0; i < numbers.Count; i++)
            BinaryPrimitives.WriteDoubleLittleEndian(bytes.AsSpan(i * BytesOfNumber), numbers[i]);
        return bytes;
    }

    private static double[] Numbers(byte[] bytes) =>
        [.. Enumerable.Range(0, bytes.Length / BytesOfNumber).Select(i => BinaryPrimitives.ReadDoubleLittleEndian(bytes.AsSpan(i * BytesOfNumber)))];

    private static SeasonForPooling[] Unpacked(byte[] bytes) =>
        [.. Numbers(bytes).Chunk(NumbersOfSeason).Select(season => new SeasonForPooling((int)season[0], season[1], season[2]))];
}
