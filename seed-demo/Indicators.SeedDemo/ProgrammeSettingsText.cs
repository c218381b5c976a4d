namespace Indicators.SeedDemo;

/// <summary>The demo programme's own settings file. What it does not name keeps its default.</summary>
public static class ProgrammeSettingsText
{
    public const string Json = """
        {
          "name": "Ostrel Lakes Night Listening",
          "time_zone": "America/Chicago",
          "protocol": {
            "name": "Ostrel Lakes evening rounds",
            "minimum_minutes": { "value": 5, "source": "Handbook of the Ostrel Lakes, invented for the demo" },
            "earliest_minutes_after_sunset": { "value": 30, "source": "Handbook of the Ostrel Lakes, invented for the demo" },
            "latest_start": { "value": "01:00", "source": "Handbook of the Ostrel Lakes, invented for the demo" },
            "maximum_wind_beaufort": { "value": 4, "source": "Handbook of the Ostrel Lakes, invented for the demo" },
            "runs": [
              { "name": "early", "first": "04-12", "last": "04-30", "minimum_air_temp_c": { "value": 4, "source": "Handbook of the Ostrel Lakes, invented for the demo" } },
              { "name": "middle", "first": "05-18", "last": "06-04", "minimum_air_temp_c": { "value": 9, "source": "Handbook of the Ostrel Lakes, invented for the demo" } },
              { "name": "late", "first": "06-22", "last": "07-10", "minimum_air_temp_c": { "value": 13, "source": "Handbook of the Ostrel Lakes, invented for the demo" } }
            ]
          }
        }

        """;
}
