using System.Diagnostics;
using System.Globalization;
using Indicators.SeedDemo;
using Indicators.SeedDemo.Tests;

namespace Indicators.Benchmarks;

/// <summary>Prints the coverage study as the Markdown table that the demo's README shows.</summary>
public static class DemoTruth
{
    public static void Run(int programmes, int resamples, TextWriter to)
    {
        foreach (string area in new[] { District.Code, "9901020302", "990102030101" })
        {
            long start = Stopwatch.GetTimestamp();
            var rows = CoverageStudy.Run(area, programmes, resamples, Environment.ProcessorCount);
            to.WriteLine(Line($"Area {area}, {programmes} programmes, {resamples} resamples, {Stopwatch.GetElapsedTime(start).TotalSeconds:0.0} s\n"));
            to.WriteLine("| species | true % a season | mean estimate | programmes with an interval | observed interval held the slope of those seasons | underlying interval held the slope beneath | a word said | word wrong |");
            to.WriteLine("|---|--:|--:|--:|--:|--:|--:|--:|");
            foreach (var row in rows)
            {
                to.WriteLine(Line(
                    $"| {row.Species.CommonName} | {row.Truth:0.00} | {(double.IsNaN(row.MeanEstimate) ? "" : Line($"{row.MeanEstimate:0.00}"))} | {row.Intervals} | {Share(row.Held, row.Intervals)} | {Share(row.HeldUnderlying, row.Intervals)} | {row.Words} | {row.WrongWords} |"));
            }

            int intervals = rows.Sum(row => row.Intervals);
            to.WriteLine(Line(
                $"| all | | | {intervals} | {Share(rows.Sum(row => row.Held), intervals)} | {Share(rows.Sum(row => row.HeldUnderlying), intervals)} | {rows.Sum(row => row.Words)} | {rows.Sum(row => row.WrongWords)} |\n"));
        }
    }

    private static string Share(int part, int whole) => whole == 0 ? "" : Line($"{(double)part / whole:0.000}");

    private static string Line(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
