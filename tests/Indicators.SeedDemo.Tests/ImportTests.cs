using Indicators.Application.Import;
using Indicators.Exchange.Settings;
using Indicators.Monitoring;
using NodaTime;
using Xunit;

namespace Indicators.SeedDemo.Tests;

/// <summary>The committed folder through the importer's own eyes.</summary>
public sealed class ImportTests
{
    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "data");
    private static readonly Instant AfterTheLastSeason = Instant.FromUtc(2026, 8, 1, 12, 0);

    [Fact]
    public void Settings_of_the_demo_are_read_without_a_problem()
    {
        var read = SettingsJson.Read(File.ReadAllText(Path.Combine(Folder, SettingsJson.FileName)));

        Assert.Empty(read.Problems);
        Assert.Equal("Ostrel Lakes Night Listening", read.Settings!.Name);
        Assert.Equal(DemoRun.All.Select(run => (run.First, run.Last)), read.Settings.Protocol.Runs.Select(run => (run.First, run.Last)));
    }

    [Fact]
    public void Import_takes_every_row_and_warns_of_nothing_but_weather_and_minutes()
    {
        var settings = SettingsJson.Read(File.ReadAllText(Path.Combine(Folder, SettingsJson.FileName))).Settings;
        var request = new ImportRequest { Folder = Folder, Who = "test", Settings = settings };

        var report = ImportFolder.Check(request, null, new StoppedClock(AfterTheLastSeason), null, TestContext.Current.CancellationToken);

        Assert.Equal(ImportOutcome.NothingRefused, report.Outcome);
        Assert.Equal(7, report.Files.Count);
        Assert.All(report.Files, file => Assert.Equal(file.Read, file.NotLoaded));
        Assert.All(report.Problems, problem => Assert.Equal(ProblemKind.ProtocolNotKept, problem.Kind));
        Assert.Equal(
            [ProtocolBreach.TooShort, ProtocolBreach.TooWindy, ProtocolBreach.TooCold],
            report.Problems.Select(problem => problem.Breach!.Value).Order());
    }

    private sealed class StoppedClock(Instant now) : IClock
    {
        public Instant GetCurrentInstant() => now;
    }
}
