using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using Indicators.Web.Serving;
using Xunit;

namespace Indicators.Web.Tests;

/// <summary>
/// The colours of both themes, as the style sheet names them, by the contrast of WCAG 2.2 and as people with the three kinds of
/// colour blindness see them.
/// </summary>
/// <remarks>
/// Contrast: relative luminance and ratio as WCAG 2.2 defines them; 4.5 for text (1.4.3), 3 for graphics (1.4.11).
/// Simulation: Viénot, Brettel and Mollon 1999 (protanopia, deuteranopia) through their matrix from linear RGB to cone
/// responses; Brettel, Viénot and Mollon 1997 (tritanopia) in its two half-planes worked out for sRGB, as openly published with
/// several implementations. Difference: CIE 1976 L*a*b*. That 8 units of it are enough for neighbouring steps is ours, no source.
/// </remarks>
public sealed partial class ColourTests
{
    private const double Text = 4.5, Graphics = 3, NeighbouringSteps = 8;

    private static readonly Dictionary<string, Dictionary<string, string>> Themes = Read();

    public static TheoryData<string, string, string, double> Pairs()
    {
        var pairs = new TheoryData<string, string, string, double>();
        foreach (string theme in new[] { "day", "night" })
        {
            foreach (string ground in new[] { "paper", "paper-raised" })
            {
                foreach (string text in new[] { "ink", "ink-soft", "link", "accent" })
                    pairs.Add(theme, text, ground, Text);
                // Lines, points, edges of bands, of boxes and of watersheds, marks that need a look.
                foreach (string mark in new[] { "water", "ink-soft", "amount-4", "accent" })
                    pairs.Add(theme, mark, ground, Graphics);
            }
            // The line over its band, the days heard over the calling season, the numbers on the map.
            pairs.Add(theme, "water", "band", Graphics);
            pairs.Add(theme, "ink-soft", "band", Graphics);
        }
        return pairs;
    }

    [Theory]
    [MemberData(nameof(Pairs))]
    public void Colour_stands_out_from_what_is_behind_it(string theme, string colour, string ground, double least)
    {
        double found = Contrast(Themes[theme][colour], Themes[theme][ground]);
        Assert.True(found >= least, FormattableString.Invariant($"{colour} on {ground} by {theme}: {found:0.00}, {least} wanted."));
    }

    [Theory]
    [InlineData("day")]
    [InlineData("night")]
    public void Steps_of_amount_differ_and_keep_their_order_for_everybody(string theme)
    {
        foreach (var (vision, see) in Visions)
        {
            var steps = Enumerable.Range(1, 5).Select(step => Lab(see(Linear(Themes[theme][$"amount-{step}"])))).ToList();
            for (int step = 1; step < steps.Count; step++)
            {
                double apart = Apart(steps[step - 1], steps[step]);
                Assert.True(apart >= NeighbouringSteps, FormattableString.Invariant($"amount-{step} and {step + 1} by {theme}, {vision}: {apart:0.0} apart."));
            }
            var lightness = steps.Select(step => step.L).ToList();
            Assert.True(lightness.SequenceEqual(theme == "day" ? lightness.OrderDescending() : lightness.Order()), $"{theme}, {vision}: {string.Join(", ", lightness)}");
        }
    }

    [Theory]
    [InlineData("day")]
    [InlineData("night")]
    public void What_needs_a_look_differs_from_lines_and_text_for_everybody(string theme)
    {
        foreach (var (vision, see) in Visions)
        {
            var accent = Lab(see(Linear(Themes[theme]["accent"])));
            foreach (string other in new[] { "water", "ink", "band" })
                Assert.True(Apart(accent, Lab(see(Linear(Themes[theme][other])))) >= 2 * NeighbouringSteps, $"accent and {other} by {theme}, {vision}");
        }
    }

    [Fact]
    public void Contrast_and_luminance_are_those_of_the_standard()
    {
        // WCAG 2.2: black on white is 21 to 1; #767676 on white is the palest grey that reaches 4.5 (Understanding SC 1.4.3 names 4.54).
        Assert.Equal(21, Contrast("#000000", "#ffffff"), 1e-9);
        Assert.Equal(4.54, Contrast("#767676", "#ffffff"), 0.005);
        Assert.True(Contrast("#777777", "#ffffff") < 4.5);
    }

    [Fact]
    public void Simulation_leaves_what_each_kind_sees_alone_and_merges_what_it_confuses()
    {
        foreach (var (vision, see) in Visions)
        {
            // Greys look the same to everybody.
            foreach (double grey in new[] { 0, 0.2, 1.0 })
                Assert.All(Each(see((grey, grey, grey))), value => Assert.Equal(grey, value, 2e-3));
            // What has been seen once looks the same the second time, inside the screen's colours.
            var once = see((0.5, 0.4, 0.45));
            Assert.All(Each(see(once)).Zip(Each(once)), pair => Assert.Equal(pair.Second, pair.First, 0.02));
            Assert.NotEqual("", vision);
        }
        // Red and green of the same brightness fall together for the first two, and not for the third.
        (double, double, double) red = (0.5, 0, 0), green = (0, 0.0635, 0);
        Assert.True(Apart(Lab(Protan(red)), Lab(Protan((0, 0.5 * 0.1127 / 0.8876, 0)))) < 8);
        Assert.True(Apart(Lab(Deutan(red)), Lab(Deutan((0, 0.5 * 0.2928 / 0.7072, 0)))) < 8);
        Assert.True(Apart(Lab(Tritan(red)), Lab(Tritan(green))) > 40);
    }

    private static readonly (string Name, Func<(double R, double G, double B), (double R, double G, double B)> See)[] Visions =
        [("typical", colour => colour), ("protanopia", Protan), ("deuteranopia", Deutan), ("tritanopia", Tritan)];

    // Viénot, Brettel and Mollon 1999, Color Research and Application 24: 243-252: cones from linear RGB, and the missing cone from the others.
    private static readonly double[][] ConesFromRgb = [[17.8824, 43.5161, 4.11935], [3.45565, 27.1554, 3.86714], [0.0299566, 0.184309, 1.46709]];

    private static (double R, double G, double B) Protan((double R, double G, double B) colour)
    {
        var (_, m, s) = Times(ConesFromRgb, colour);
        return Times(Inverse(ConesFromRgb), ((2.02344 * m) - (2.52581 * s), m, s));
    }

    private static (double R, double G, double B) Deutan((double R, double G, double B) colour)
    {
        var (l, _, s) = Times(ConesFromRgb, colour);
        return Times(Inverse(ConesFromRgb), (l, (0.494207 * l) + (1.24827 * s), s));
    }

    // Brettel, Viénot and Mollon 1997, Journal of the Optical Society of America A 14: 2647-2655, for sRGB.
    private static (double R, double G, double B) Tritan((double R, double G, double B) colour) => Times(
        (0.03901 * colour.R) - (0.02788 * colour.G) - (0.01113 * colour.B) >= 0
            ? [[1.01277, 0.13548, -0.14826], [-0.01243, 0.86812, 0.14431], [0.07589, 0.80500, 0.11911]]
            : [[0.93678, 0.18979, -0.12657], [0.06154, 0.81526, 0.12320], [-0.37562, 1.12767, 0.24796]],
        colour);

    private static (double, double, double) Times(double[][] matrix, (double X, double Y, double Z) vector)
    {
        double Row(int row) => (matrix[row][0] * vector.X) + (matrix[row][1] * vector.Y) + (matrix[row][2] * vector.Z);
        return (Row(0), Row(1), Row(2));
    }

    private static double[][] Inverse(double[][] a)
    {
        double Minor(int row, int column)
        {
            int r1 = (row + 1) % 3, r2 = (row + 2) % 3, c1 = (column + 1) % 3, c2 = (column + 2) % 3;
            return (a[r1][c1] * a[r2][c2]) - (a[r1][c2] * a[r2][c1]);
        }
        double whole = Enumerable.Range(0, 3).Sum(column => a[0][column] * Minor(0, column));
        return [.. Enumerable.Range(0, 3).Select(row => Enumerable.Range(0, 3).Select(column => Minor(column, row) / whole).ToArray())];
    }

    private static double[] Each((double R, double G, double B) colour) => [colour.R, colour.G, colour.B];

    private static double Contrast(string one, string other)
    {
        double Luminance(string colour)
        {
            var (r, g, b) = Linear(colour);
            return (0.2126 * r) + (0.7152 * g) + (0.0722 * b);
        }
        double a = Luminance(one), z = Luminance(other);
        return (Math.Max(a, z) + 0.05) / (Math.Min(a, z) + 0.05);
    }

    private static (double R, double G, double B) Linear(string colour)
    {
        double Channel(int at)
        {
            double value = int.Parse(colour.AsSpan(at, 2), NumberStyles.HexNumber, CultureInfo.InvariantCulture) / 255.0;
            return value <= 0.04045 ? value / 12.92 : Math.Pow((value + 0.055) / 1.055, 2.4);
        }
        return (Channel(1), Channel(3), Channel(5));
    }

    // CIE 1976 L*a*b* under D65, from linear sRGB (IEC 61966-2-1).
    private static (double L, double A, double B) Lab((double R, double G, double B) colour)
    {
        var (r, g, b) = (Math.Clamp(colour.R, 0, 1), Math.Clamp(colour.G, 0, 1), Math.Clamp(colour.B, 0, 1));
        double x = F(((0.4124 * r) + (0.3576 * g) + (0.1805 * b)) / 0.95047);
        double y = F((0.2126 * r) + (0.7152 * g) + (0.0722 * b));
        double z = F(((0.0193 * r) + (0.1192 * g) + (0.9505 * b)) / 1.08883);
        return ((116 * y) - 16, 500 * (x - y), 200 * (y - z));

        static double F(double t) => t > 216.0 / 24389 ? Math.Cbrt(t) : ((24389.0 / 27 * t) + 16) / 116;
    }

    private static double Apart((double L, double A, double B) one, (double L, double A, double B) other) =>
        Math.Sqrt(Math.Pow(one.L - other.L, 2) + Math.Pow(one.A - other.A, 2) + Math.Pow(one.B - other.B, 2));

    private static Dictionary<string, Dictionary<string, string>> Read()
    {
        string css = Encoding.UTF8.GetString(new Assets().Find("css/site.css")!.Plain);
        var roots = Root().Matches(css).Select(match => match.Groups[1].Value).ToList();
        Assert.Equal(2, roots.Count);
        return new() { ["day"] = Tokens(roots[0]), ["night"] = Tokens(roots[1]) };

        static Dictionary<string, string> Tokens(string block) => Token().Matches(block).ToDictionary(match => match.Groups[1].Value, match => match.Groups[2].Value);
    }

    [GeneratedRegex(@":root \{([^}]*)\}")]
    private static partial Regex Root();

    [GeneratedRegex(@"--([a-z0-9-]+): (#[0-9a-f]{6});")]
    private static partial Regex Token();
}
