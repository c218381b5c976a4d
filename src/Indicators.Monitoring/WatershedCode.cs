namespace Indicators.Monitoring;

/// <summary>
/// A nested watershed code: 2 to 12 digits, an even number of them, in which every code's parent is the code
/// without its last two digits. Text, so that leading zeros stay.
/// </summary>
/// <remarks>
/// The nesting is that of the U.S. Watershed Boundary Dataset, whose hydrologic unit codes have
/// 2 (region), 4 (subregion), 6 (basin), 8 (subbasin), 10 (watershed) and 12 (subwatershed) digits:
/// 170601020101 lies in 1706010201, 17060102, 170601, 1706 and 17.
/// Ordered by ordinal text, so a parent comes directly before what lies in it.
/// </remarks>
public readonly record struct WatershedCode : IComparable<WatershedCode>
{
    /// <summary>The fewest digits of a code.</summary>
    public const int MinimumDigits = 2;

    /// <summary>The most digits of a code.</summary>
    public const int MaximumDigits = 12;

    private readonly string? _digits;
    private WatershedCode(string digits) => _digits = digits;

    /// <summary>Reads a code, trimming space at both ends.</summary>
    public static Parsed<WatershedCode> Parse(string text)
    {
        string trimmed = text.Trim();
        bool valid = trimmed.Length is >= MinimumDigits and <= MaximumDigits
            && trimmed.Length % 2 == 0
            && trimmed.All(char.IsAsciiDigit);
        return valid
            ? new WatershedCode(trimmed)
            : new FieldProblem(text, "a watershed code", "2, 4, 6, 8, 10 or 12 digits, as text so that leading zeros stay");
    }

    /// <summary>How many digits the code has: 2, 4, 6, 8, 10 or 12. More digits are a smaller watershed.</summary>
    public int Digits => _digits?.Length ?? 0;

    /// <summary>The watershed this one lies in, or null for a code of two digits.</summary>
    public WatershedCode? Parent => Digits > MinimumDigits ? new WatershedCode(_digits![..^2]) : null;

    /// <summary>The code itself and every watershed it lies in, smallest first.</summary>
    public IEnumerable<WatershedCode> SelfAndAncestors()
    {
        for (WatershedCode? code = this; code is { } c; code = c.Parent)
            yield return c;
    }

    /// <summary>Whether this watershed is <paramref name="outer"/> or lies in it.</summary>
    public bool IsWithin(WatershedCode outer) => ToString().StartsWith(outer.ToString(), StringComparison.Ordinal);

    /// <summary>The enclosing watershed with so many digits, itself when it has as many, null when it has fewer.</summary>
    public WatershedCode? AtLevel(int digits) =>
        Digits >= digits && digits is >= MinimumDigits and <= MaximumDigits && digits % 2 == 0
            ? new WatershedCode(_digits![..digits])
            : null;

    /// <inheritdoc/>
    public int CompareTo(WatershedCode other) => string.CompareOrdinal(_digits, other._digits);

    /// <summary>The digits.</summary>
    public override string ToString() => _digits ?? "";
}
