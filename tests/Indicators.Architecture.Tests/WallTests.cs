using System.Text.RegularExpressions;
using Xunit;

namespace Indicators.Architecture.Tests;

/// <summary>What rooms may not do, found in what their assemblies name. Every scan is first shown to find a sin.</summary>
public sealed partial class WallTests
{
    private static readonly string Sinner = typeof(Sins).Assembly.Location;

    [Fact]
    public void Rooms_of_pure_thought_do_no_input_or_output()
    {
        Assert.Contains("System.IO.File", InputOrOutput(Sinner));
        Assert.Contains("System.Environment.GetEnvironmentVariable", InputOrOutput(Sinner));
        foreach (string name in House.WithoutInputOrOutput)
        {
            var allowed = House.AllowedInputOrOutput.Where(exception => exception.Room == name).Select(exception => exception.Type);
            Nothing.In(InputOrOutput(House.RoomOf(name).AssemblyPath).Except(allowed).Select(type => $"{name} uses {type}"));
        }
    }

    [Fact]
    public void Clock_ids_and_chance_come_from_outside_below_the_fourth_floor()
    {
        Assert.Equal(3, FromOutside(Sinner).Count);
        foreach (var room in House.Rooms.Where(room => room.Floor < 4))
            Nothing.In(FromOutside(room.AssemblyPath).Select(member => $"{room.Name} uses {member}"));
    }

    [Fact]
    public void Sql_lives_in_storage_and_nowhere_else()
    {
        Assert.NotEmpty(Sql(Sinner));
        foreach (var room in House.Rooms.Where(room => room.Name != "Indicators.Storage"))
            Nothing.In(Sql(room.AssemblyPath).Select(text => $"{room.Name}: {text}"));
    }

    [Theory]
    [InlineData("\n  SELECT a\n  FROM b", true)]
    [InlineData("INSERT INTO survey (", true)]
    [InlineData("UPDATE edition SET state = 1", true)]
    [InlineData("DELETE FROM edition", true)]
    [InlineData("PRAGMA journal_mode", true)]
    [InlineData("Select a watershed from the list", false)]
    [InlineData("Update the list", false)]
    public void Scan_tells_sql_from_sentences(string text, bool isSql) => Assert.Equal(isSql, SqlText().IsMatch(text));

    [Fact]
    public void Web_reads_editions_and_never_the_survey_tables()
    {
        Assert.NotEmpty(SurveyTables(Sinner));
        Nothing.In(SurveyTables(House.RoomOf("Indicators.Web").AssemblyPath));
    }

    private static List<string> InputOrOutput(string path)
    {
        using var assembly = new AssemblyNames(path);
        return
        [
            .. assembly.Types.Where(type => OutsideTypes.Contains(type) || OutsideNamespaces.Any(outside => type.StartsWith(outside, StringComparison.Ordinal)))
                .Concat(assembly.Members.Where(EnvironmentMembers.Contains))
                .Distinct(),
        ];
    }

    private static readonly string[] OutsideNamespaces = ["System.IO.", "System.Net.", "System.Data.", "Microsoft.Data.", "Microsoft.Extensions.Logging."];

    private static readonly string[] OutsideTypes = ["System.Console", "System.Diagnostics.Process", "System.Diagnostics.Stopwatch"];

    private static readonly string[] EnvironmentMembers =
        ["System.Environment.GetEnvironmentVariable", "System.Environment.GetEnvironmentVariables", "System.Environment.Exit", "System.Environment.GetFolderPath"];

    private static List<string> FromOutside(string path)
    {
        using var assembly = new AssemblyNames(path);
        return [.. assembly.Members.Where(OutsideMembers.Contains).Distinct()];
    }

    private static readonly HashSet<string> OutsideMembers =
    [
        "System.DateTime.get_Now", "System.DateTime.get_UtcNow", "System.DateTime.get_Today",
        "System.DateTimeOffset.get_Now", "System.DateTimeOffset.get_UtcNow",
        "System.TimeProvider.get_System", "NodaTime.SystemClock.get_Instance",
        "System.Guid.NewGuid", "System.Guid.CreateVersion7",
        "System.Random.get_Shared", "System.Random..ctor",
        "System.Security.Cryptography.RandomNumberGenerator.Create", "System.Security.Cryptography.RandomNumberGenerator.Fill",
        "System.Security.Cryptography.RandomNumberGenerator.GetInt32", "System.Security.Cryptography.RandomNumberGenerator.GetBytes",
    ];

    private static List<string> Sql(string path)
    {
        using var assembly = new AssemblyNames(path);
        return [.. assembly.Literals.Where(text => SqlText().IsMatch(text))];
    }

    [GeneratedRegex(@"^\s*(SELECT\s|INSERT\s+(OR\s+\w+\s+)?INTO\s|UPDATE\s+\w+\s+SET\s|DELETE\s+FROM\s|CREATE\s+(TABLE|INDEX|UNIQUE|VIEW)\s|PRAGMA\s|VACUUM\b)")]
    private static partial Regex SqlText();

    private static IEnumerable<string> SurveyTables(string path) =>
        Types(path).Where(type => type.StartsWith("Indicators.Storage.Surveys.", StringComparison.Ordinal));

    private static List<string> Types(string path)
    {
        using var assembly = new AssemblyNames(path);
        return [.. assembly.Types.Distinct()];
    }
}
