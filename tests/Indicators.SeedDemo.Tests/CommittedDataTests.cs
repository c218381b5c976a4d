using Xunit;

namespace Indicators.SeedDemo.Tests;

public sealed class CommittedDataTests
{
    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "data");

    [Fact]
    public void Generator_with_the_committed_seed_rewrites_the_committed_folder_byte_for_byte()
    {
        string drawn = Directory.CreateTempSubdirectory("indicators-demo-").FullName;
        try
        {
            FolderWriter.Write(new Scenario(Scenario.CommittedSeed), drawn);

            string[] names = [.. Directory.GetFiles(drawn).Select(Path.GetFileName).Order(StringComparer.Ordinal)!];
            Assert.Equal(Directory.GetFiles(Folder).Select(Path.GetFileName).Order(StringComparer.Ordinal), names);
            foreach (string name in names)
                Assert.Equal(File.ReadAllBytes(Path.Combine(Folder, name)), File.ReadAllBytes(Path.Combine(drawn, name)));
        }
        finally
        {
            Directory.Delete(drawn, recursive: true);
        }
    }

    [Fact]
    public void Another_seed_draws_another_programme()
    {
        var first = FolderWriter.Files(new Scenario(1)).ToDictionary(file => file.Name, file => file.Text);
        var second = FolderWriter.Files(new Scenario(2)).ToDictionary(file => file.Name, file => file.Text);

        Assert.NotEqual(first["calls.csv"], second["calls.csv"]);
        Assert.NotEqual(first["stations.csv"], second["stations.csv"]);
        Assert.Equal(first["species.csv"], second["species.csv"]);
    }

    [Fact]
    public void Demo_is_an_invented_district_of_the_promised_size()
    {
        var data = new Scenario(Scenario.CommittedSeed).Data();
        var smallest = data.Stations.Select(station => station.Watershed).Distinct().ToList();

        Assert.All(data.Watersheds, watershed => Assert.StartsWith("99", watershed.Code.ToString(), StringComparison.Ordinal));
        Assert.True(smallest.Count(code => code.Digits == 12) >= 6);
        Assert.Equal(2, smallest.Select(code => code.AtLevel(10)).Distinct().Count());
        Assert.Single(smallest.Select(code => code.AtLevel(8)).Distinct());
        Assert.True(data.Stations.Count >= 48);
        Assert.True(data.Wetlands.Count >= 40);
        Assert.Equal(10, data.Species.Count);
        Assert.Single(data.Species, species => species.Protected);
        Assert.Equal(Enumerable.Range(2012, 15), data.Surveys.Select(survey => survey.Date.Year).Distinct().Order());
        Assert.Equal(3, data.Surveys.GroupBy(survey => (survey.Station, survey.Date.Year)).Max(season => season.Count()));
        Assert.Contains(data.Surveys, survey => survey.WindBeaufort > 3);
        Assert.True(data.Surveys.Select(survey => survey.Observer).Distinct().Count() > 20);
    }

    [Fact]
    public void Silent_nights_and_gaps_are_part_of_the_demo()
    {
        var scenario = new Scenario(Scenario.CommittedSeed);
        int possible = scenario.Programme.Stations.Count * District.Seasons * DemoRun.All.Count;

        Assert.Contains(scenario.Surveys.All, survey => survey.Calls.Count == 0);
        Assert.InRange(scenario.Surveys.All.Count, 0.6 * possible, 0.95 * possible);
        Assert.Contains(scenario.Programme.Stations, station => station.FirstSeason > District.FirstSeason);
        Assert.Contains(scenario.Programme.Stations, station => station.LastSeason < District.LastSeason);
    }

    [Fact]
    public void Every_run_lies_in_a_window_whole_or_not_at_all()
    {
        foreach (var species in DemoSpecies.All)
        {
            foreach (var run in DemoRun.All)
            {
                bool first = species.Window.Contains(run.First.InYear(2019));
                Assert.Equal(first, species.Window.Contains(run.Last.InYear(2019)));
            }

            Assert.NotEmpty(species.Runs);
        }
    }
}
