using System.Globalization;

namespace Indicators.Architecture.Tests;

/// <summary>
/// Everything the walls forbid, done once, so that each scan can be seen to find it. Nothing here is ever called.
/// </summary>
internal static class Sins
{
#pragma warning disable RS0030 // Banned: that is what this is for.
    internal static string Clock() => DateTime.UtcNow.ToString(CultureInfo.InvariantCulture);

    internal static Guid Id() => Guid.NewGuid();

    internal static int Chance() => Random.Shared.Next();
#pragma warning restore RS0030

    internal static string Sql(string table) => $"SELECT count(*) FROM {table}";

    internal static void Output() => File.WriteAllText("name", "text");

    internal static string? Surroundings() => Environment.GetEnvironmentVariable("name");

    internal static Type SurveyTables() => typeof(Storage.Surveys.ISurveyStore);
}
