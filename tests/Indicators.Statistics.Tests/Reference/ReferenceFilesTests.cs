using Xunit;

namespace Indicators.Statistics.Tests.Reference;

/// <summary>Every committed table is used by a test, and says where it comes from.</summary>
public class ReferenceFilesTests
{
    /// <summary>Tables read by name; cells and fits are found by looking (<see cref="FitReferenceTests.Cells"/>).</summary>
    private static readonly string[] ReadByName =
    [
        "pooling/bcg.csv", "pooling/shared.csv", "pooling/expected.csv",
        "pooled_slopes/parts.csv", "pooled_slopes/seasons.csv", "pooled_slopes/response.csv", "pooled_slopes/evidence.csv", "pooled_slopes/expected.csv",
        "smooth/counts.csv", "smooth/expected.csv",
        "adjusted/grouseticks.csv", "adjusted/visits.csv", "adjusted/multiplicities.csv", "adjusted/expected.csv",
        // The engine's own tests read these.
        "adjusted_engine/visits.csv", "adjusted_engine/expected.csv",
        "change/visits.csv", "change/expected.csv",
        "power/plans.csv", "power/expected.csv",
        "bootstrap/data.csv", "bootstrap/exact.csv", "bootstrap/law.csv",
        "bootstrap/multiplicities.csv", "bootstrap/draws.csv", "bootstrap/city_draws.csv", "bootstrap/city_published.csv", "bootstrap/intervals.csv",
        "boundaries/cases.csv", "boundaries/cells.csv", "boundaries/expected.csv",
        "group/series.csv", "group/expected.csv",
        "handbook/published.csv",
        "influence/dispersion.csv", "influence/left_out.csv", "influence/equal_stations.csv",
        "occupancy_closed/visits.csv", "occupancy_closed/presence.csv", "occupancy_closed/constant.csv", "occupancy_closed/silence.csv",
        "occupancy_single/sites.csv", "occupancy_single/visits.csv", "occupancy_single/fit.csv", "occupancy_single/profile.csv",
        "occupancy_multi/sites.csv", "occupancy_multi/visits.csv", "occupancy_multi/fit.csv", "occupancy_multi/filtered.csv", "occupancy_multi/profile.csv",
        "occupancy_engine/visits.csv", "occupancy_engine/expected.csv", "occupancy_engine/unbroken.csv",
        "occupancy_salamanders/tally.csv", "occupancy_salamanders/fit.csv",
        "quantiles/normal.csv", "quantiles/normal_cdf.csv", "quantiles/student.csv", "quantiles/student_fractional.csv",
        "quantiles/samples.csv", "quantiles/quantiles.csv",
        "random/known_answers.csv", "random/further.csv", "random/plan.csv",
        "candidates/weights.csv", "candidates/quantities.csv",
        "ships/rows.csv", "ships/conditional.csv",
        "two_way/expected.csv",
        "underlying/draws.csv", "underlying/influence.csv", "underlying/quantities.csv",
    ];

    internal static string[] All() => [.. Directory.EnumerateFiles(ReferenceTable.Folder, "*.csv", SearchOption.AllDirectories)
        .Select(f => Path.GetRelativePath(ReferenceTable.Folder, f).Replace('\\', '/')).Order(StringComparer.Ordinal)];

    [Fact]
    public void Every_committed_table_is_read_by_a_test()
    {
        string[] fits = [.. FitReferenceTests.Cells.SelectMany(row => new[] { row.Data, FitReferenceTests.FitsOf(row.Data) })];
        Assert.Equal(18, fits.Length);
        Assert.Equal([.. ReadByName.Concat(fits).Order(StringComparer.Ordinal)], All());
    }

    [Fact]
    public void Every_folder_has_a_script_and_stands_in_the_readers_table()
    {
        string readme = File.ReadAllText(Path.Combine(ReferenceTable.Folder, "README.md"));
        string[] rows = [.. readme.Split('\n').Where(line => line.StartsWith("| `", StringComparison.Ordinal))];
        string[] folders = [.. Directory.EnumerateDirectories(ReferenceTable.Folder).Select(Path.GetFileName).OfType<string>().Order(StringComparer.Ordinal)];
        string[] named = [.. rows.SelectMany(row => row.Split('|')[1].Split('`').Where((_, i) => i % 2 == 1)).Order(StringComparer.Ordinal)];
        Assert.Equal(folders, named);
        Assert.All(folders, folder => Assert.NotEmpty(Directory.EnumerateFiles(Path.Combine(ReferenceTable.Folder, folder), "make*")));
        Assert.All(rows, row => Assert.True(row.Split('|')[3].Trim().Length > 0, $"No source: {row}"));
    }

    [Fact]
    public void Every_committed_table_says_where_it_comes_from() => Assert.All(All(), file =>
    {
        string[] header = [.. File.ReadLines(Path.Combine(ReferenceTable.Folder, file)).Take(4)];
        Assert.StartsWith("# source: ", header[0], StringComparison.Ordinal);
        Assert.StartsWith("# tools: ", header[1], StringComparison.Ordinal);
        Assert.Equal($"# rerun: tests/reference/rerun {file.Split('/')[0]}", header[2]);
        Assert.StartsWith("# tolerance: ", header[3], StringComparison.Ordinal);
    });
}
