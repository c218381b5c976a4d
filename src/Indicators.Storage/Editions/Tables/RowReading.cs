using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Microsoft.Data.Sqlite;

namespace Indicators.Storage.Editions.Tables;

/// <summary>Reads columns by name as the field's own types.</summary>
internal static class RowReading
{
    internal static string Text(this SqliteDataReader row, string column) => row.GetString(row.GetOrdinal(column));

    internal static string? TextOrNull(this SqliteDataReader row, string column) =>
        row.GetOrdinal(column) is var at && row.IsDBNull(at) ? null : row.GetString(at);

    internal static int Whole(this SqliteDataReader row, string column) => row.GetInt32(row.GetOrdinal(column));

    internal static int? WholeOrNull(this SqliteDataReader row, string column) =>
        row.GetOrdinal(column) is var at && row.IsDBNull(at) ? null : row.GetInt32(at);

    internal static double Real(this SqliteDataReader row, string column) => row.GetDouble(row.GetOrdinal(column));

    internal static double? RealOrNull(this SqliteDataReader row, string column) =>
        row.GetOrdinal(column) is var at && row.IsDBNull(at) ? null : row.GetDouble(at);

    internal static byte[] Bytes(this SqliteDataReader row, string column) => row.GetFieldValue<byte[]>(row.GetOrdinal(column));

    internal static bool Flag(this SqliteDataReader row, string column) => row.Whole(column) != 0;

    internal static WatershedCode Area(this SqliteDataReader row) => StoredText.Code(row.Text("area"));

    internal static Id<Species> Species(this SqliteDataReader row) => StoredText.Id<Species>(row.Text("species_id"));

    internal static Id<Wetland> Wetland(this SqliteDataReader row) => StoredText.Id<Wetland>(row.Text("wetland_id"));

    internal static T Coded<T>(this SqliteDataReader row, string column)
        where T : struct, Enum => ResultCode.Read<T>(row.Text(column));
}
