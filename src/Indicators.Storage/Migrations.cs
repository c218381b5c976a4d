using System.Reflection;
using DbUp;
using DbUp.Engine;
using Microsoft.Data.Sqlite;

namespace Indicators.Storage;

/// <summary>
/// The steps that make a database what this version reads: numbered SQL scripts, each run once, kept in a journal table.
/// Every script ends by setting the file's user_version to its own number.
/// </summary>
internal static class Migrations
{
    private const string Journal = "schema_migration";
    private const string Folder = ".Migrations.";

    /// <summary>The newest version of a database, which is the number of scripts.</summary>
    internal static long Latest { get; } =
        typeof(Migrations).Assembly.GetManifestResourceNames().Count(IsScript);

    /// <summary>Runs every script that has not run yet, all in one transaction.</summary>
    internal static void Upgrade(string connectionString) => Upgrade(connectionString, Latest);

    /// <summary>The same up to a version, for tests of upgrades.</summary>
    internal static void Upgrade(string connectionString, long version)
    {
        var result = DeployChanges.To
            .SqliteDatabase(connectionString)
            .JournalToSqliteTable(Journal)
            .WithScriptsEmbeddedInAssembly(Assembly.GetExecutingAssembly(), name => IsScript(name) && Number(name) <= version)
            .WithScriptNameComparer(StringComparer.Ordinal)
            .WithVariablesDisabled()
            .WithTransaction()
            .LogToNowhere()
            .Build()
            .PerformUpgrade();
        if (!result.Successful)
            throw result.Error is SqliteException failure ? failure : new InvalidOperationException("A migration failed.", result.Error);
    }

    private static bool IsScript(string resource) =>
        resource.Contains(Folder, StringComparison.Ordinal) && resource.EndsWith(".sql", StringComparison.Ordinal);

    private static long Number(string resource)
    {
        int start = resource.IndexOf(Folder, StringComparison.Ordinal) + Folder.Length;
        return long.Parse(resource.AsSpan(start, 4), System.Globalization.CultureInfo.InvariantCulture);
    }
}
