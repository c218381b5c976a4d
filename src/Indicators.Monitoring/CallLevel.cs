using System.Globalization;

namespace Indicators.Monitoring;

/// <summary>
/// How much of one species was heard on one survey, 0 to 3: 0 not heard; 1 individuals countable, with gaps between
/// calls; 2 individuals distinguishable, but calls overlap; 3 full chorus, continuous and overlapping.
/// </summary>
/// <remarks>
/// The call index of the North American calling-survey protocol (USGS data sheet, 2014). It says how much calling
/// was heard; single values do not tell how many animals there are (Corn et al. 2011, Copeia 2011:365).
/// </remarks>
public readonly record struct CallLevel : IComparable<CallLevel>
{
    /// <summary>The level of a full chorus, and the scale's ceiling.</summary>
    public const int FullChorus = 3;

    private readonly byte _level;
    private CallLevel(byte level) => _level = level;

    /// <summary>Reads a level: one of the digits 0, 1, 2, 3.</summary>
    public static Parsed<CallLevel> Parse(string text) =>
        int.TryParse(text.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out int level) ? Of(level, text) : Problem(text);

    /// <summary>The level of a number from 0 to 3.</summary>
    public static Parsed<CallLevel> Of(int level) => Of(level, level.ToString(CultureInfo.InvariantCulture));

    private static Parsed<CallLevel> Of(int level, string given) =>
        level is >= 0 and <= FullChorus ? new CallLevel((byte)level) : Problem(given);

    private static FieldProblem Problem(string given) =>
        new(given, "a call level", "0 (not heard), 1 (calls with gaps), 2 (calls overlap) or 3 (full chorus)");

    /// <summary>The level as a number, 0 to 3.</summary>
    public int Value => _level;

    /// <inheritdoc/>
    public int CompareTo(CallLevel other) => _level.CompareTo(other._level);

    /// <summary>The digit.</summary>
    public override string ToString() => _level.ToString(CultureInfo.InvariantCulture);
}
