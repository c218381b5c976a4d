using System.Globalization;

namespace Indicators.Wording.Messages;

/// <summary>How a language writes numbers.</summary>
/// <param name="Point">What parts the whole from its decimals.</param>
/// <param name="Group">What sets thousands apart.</param>
/// <param name="GroupFrom">The number of digits from which thousands are set apart.</param>
internal sealed record Digits(string Point, string Group, int GroupFrom)
{
    private readonly NumberFormatInfo _format = new() { NumberDecimalSeparator = Point, NumberGroupSeparator = Group, NegativeSign = "\u2212" };

    /// <summary>A whole number with thousands set apart.</summary>
    public string Whole(long number) => number.ToString(Smallest(number) ? "0" : "#,0", _format);

    /// <summary>A number by a custom format, such as <c>0.0</c> or <c>0.##</c>; thousands are set apart when it asks for it.</summary>
    public string Text(double number, string format) => number.ToString(Smallest(number) ? format.Replace("#,", "", StringComparison.Ordinal) : format, _format);

    private bool Smallest(double number) => Math.Round(Math.Abs(number)) < Math.Pow(10, GroupFrom - 1);
}
