using Indicators.Analysis.Results;
using Indicators.Exchange.Export;
using Xunit;

namespace Indicators.Application.Tests.Export;

public sealed class DataDictionaryTests
{
    private static readonly ExportTable[] Tables =
    [
        ExportTables.Trends([]),
        ExportTables.TrendChecks([]),
        ExportTables.Influence([]),
        ExportTables.Indices([]),
        ExportTables.Effects([]),
        ExportTables.Smooth([]),
        ExportTables.Changes([]),
        ExportTables.Conditions([]),
        ExportTables.ConditionLines([]),
        ExportTables.Group([]),
        ExportTables.GroupTrends([]),
        PoolingExports.Pooled([]),
        PoolingExports.Shrunken([]),
        PoolingExports.RollUp([]),
        ExportTables.Effort([]),
        ExportTables.Surveys([]),
        ExportTables.Occupancy([]),
        ExportTables.OccupancyRates([]),
        ExportTables.Detection([]),
        ExportTables.Silence([]),
        ExportTables.SilenceTally([]),
        PlaceExports.CallingTimes([]),
        PlaceExports.Gazetteer([]),
        PlaceExports.Wetlands([]),
        PlaceExports.WetlandSeasons([]),
        PlaceExports.WetlandCalls([]),
        ChangeExports.Change([]),
        ChangeExports.ScoreChange([]),
        ChangeExports.Gaps([]),
        MoveExports.Moves(null, 1, []),
    ];

    [Fact]
    public void Every_table_and_column_is_explained_in_the_data_dictionary()
    {
        foreach (var table in Tables)
        {
            string section = Section(table.Name);
            Assert.All(table.Columns, column => Assert.Contains($"`{column}`", section, StringComparison.Ordinal));
        }
    }

    /// <summary>A column keeps its place, so the place is part of what is promised; nothing is promised that is not there.</summary>
    [Fact]
    public void Columns_stand_in_the_data_dictionary_in_the_order_in_which_they_are_written() =>
        Assert.All(Tables, table => Assert.Equal(table.Columns, ExplainedIn(Section(table.Name))));

    [Fact]
    public void Every_column_of_all_trends_is_explained_there_or_where_the_trends_are() =>
        Assert.All(
            ExportTables.TrendsAll([]).Columns,
            column => Assert.Contains($"`{column}`", Section("trends_all") + Section("trends"), StringComparison.Ordinal));

    [Fact]
    public void Every_code_of_an_interval_is_explained() =>
        Assert.All(Enum.GetValues<IntervalKind>(), kind => Assert.Contains($"| `{ResultCode.Of(kind)}` |", Section("trends"), StringComparison.Ordinal));

    [Fact]
    public void Every_status_of_a_raw_trend_is_explained() =>
        Assert.All(
            Enum.GetValues<TrendStatus>().Except([TrendStatus.TooLittle, TrendStatus.Separated]),
            status => Assert.Contains($"| `{ResultCode.Of(status)}` |", Section("trend_checks"), StringComparison.Ordinal));

    [Fact]
    public void Every_code_of_a_model_of_occupancy_is_explained() =>
        Assert.All(Enum.GetValues<OccupancyBasis>(), basis => Assert.Contains($"| `{ResultCode.Of(basis)}` |", Section("occupancy"), StringComparison.Ordinal));

    [Fact]
    public void Every_code_of_the_adjusted_and_smooth_tables_is_explained()
    {
        Assert.All(Enum.GetValues<VisitCovariate>(), code => Assert.Contains($"| `{ResultCode.Of(code)}` |", Section("effects"), StringComparison.Ordinal));
        Assert.All(Enum.GetValues<EffectStatus>(), code => Assert.Contains($"`{ResultCode.Of(code)}`", Section("effects"), StringComparison.Ordinal));
        Assert.All(Enum.GetValues<SmoothBend>(), code => Assert.Contains($"`{ResultCode.Of(code)}`", Section("smooth"), StringComparison.Ordinal));
        Assert.All(Enum.GetValues<SmoothChangeKind>(), code => Assert.Contains($"`{ResultCode.Of(code)}`", Section("changes"), StringComparison.Ordinal));
    }

    [Fact]
    public void Every_code_of_the_changes_is_explained()
    {
        Assert.All(Enum.GetValues<ChangeSince>(), code => Assert.Contains($"`{ResultCode.Of(code)}`", Section("change"), StringComparison.Ordinal));
        Assert.All(Enum.GetValues<ChangeStop>(), code => Assert.Contains($"`{ResultCode.Of(code)}`", Section("change"), StringComparison.Ordinal));
        Assert.All(Enum.GetValues<ListeningStep>(), code => Assert.Contains($"`{ResultCode.Of(code)}`", Section("change"), StringComparison.Ordinal));
    }

    [Fact]
    public void Every_grade_and_reason_of_evidence_is_explained()
    {
        string section = Section("influence");
        Assert.All(Enum.GetValues<Evidence>(), grade => Assert.Contains($"`{ResultCode.Of(grade)}`", section, StringComparison.Ordinal));
        Assert.All(
            Enum.GetValues<EvidenceReason>().Where(reason => reason != EvidenceReason.None),
            reason => Assert.Contains($"| `{ResultCode.Of(reason)}` |", section, StringComparison.Ordinal));
    }

    /// <summary>The names in the first cells of a section's table of columns.</summary>
    private static IEnumerable<string> ExplainedIn(string section) => section
        .Split('\n')
        .SkipWhile(line => !line.StartsWith("| column |", StringComparison.Ordinal))
        .Skip(2)
        .TakeWhile(line => line.StartsWith('|'))
        .SelectMany(line => line[1..line.IndexOf('|', 1)].Split('`').Where((_, place) => place % 2 == 1));

    private static string Section(string name)
    {
        string text = File.ReadAllText(Path.Combine(Root(), "docs", "data-dictionary.md")).ReplaceLineEndings("\n");
        int start = text.IndexOf($"\n## {name}\n", StringComparison.Ordinal);
        Assert.True(start >= 0, $"The data dictionary has no section {name}.");
        int end = text.IndexOf("\n## ", start + 1, StringComparison.Ordinal);
        return end < 0 ? text[start..] : text[start..end];
    }

    private static string Root()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder.FullName, "Indicators.sln")))
            folder = folder.Parent ?? throw new InvalidOperationException("The tests do not run inside the checkout.");
        return folder.FullName;
    }
}
