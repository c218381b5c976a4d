namespace Indicators.SeedDemo;

/// <summary>The demo programme's own settings file.</summary>
public static class ProgrammeSettingsText
{
    public const string Json = """
        {
          "name": "Ostrel Lakes Night Listening",
          "timeZone": "America/Chicago"
        }

        """;
}
