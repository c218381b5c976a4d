using System.Text.Json;

namespace Indicators.Analysis.Results;

/// <summary>
/// The code of an enumeration's value in tables and files: its name in lower snake case, so <c>observed_change</c>.
/// A code once written into an edition is never given another meaning.
/// </summary>
public static class ResultCode
{
    /// <summary>The code of a value.</summary>
    public static string Of<T>(T value)
        where T : struct, Enum => Codes<T>.ByValue[value];

    /// <summary>The value of a code.</summary>
    /// <exception cref="FormatException">No value has this code: the text was written by a newer version or by hand.</exception>
    public static T Read<T>(string code)
        where T : struct, Enum => Codes<T>.ByCode.TryGetValue(code, out var value)
            ? value
            : throw new FormatException($"'{code}' is not a code of {typeof(T).Name}.");

    private static class Codes<T>
        where T : struct, Enum
    {
        internal static readonly Dictionary<T, string> ByValue =
            Enum.GetValues<T>().ToDictionary(value => value, value => JsonNamingPolicy.SnakeCaseLower.ConvertName(value.ToString()));

        internal static readonly Dictionary<string, T> ByCode =
            ByValue.ToDictionary(pair => pair.Value, pair => pair.Key, StringComparer.Ordinal);
    }
}
