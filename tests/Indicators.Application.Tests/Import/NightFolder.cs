using System.Text;
using Indicators.Application.Import;
using Indicators.Storage.Surveys;
using NodaTime;
using Xunit;

namespace Indicators.Application.Tests.Import;

/// <summary>A small invented import folder on disk, good until a test spoils it, that lives as long as the test.</summary>
internal sealed class NightFolder : IDisposable
{
    public const string Watersheds = """
        watershed_code,name
        99010101,Upper Sedge River
        9901010101,Reed Lakes
        9901010102,Alder Creek

        """;

    public const string Stations = """
        station_id,name,wetland_id,watershed_code,latitude,longitude,wetland_name,weight
        ST1,Boat landing,W1,9901010101,45.10,-90.10,Long Marsh,
        ST2,Culvert,W1,9901010101,45.11,-90.11,,
        ST3,Old dam,W2,9901010102,45.20,-90.20,Dam Pond,2

        """;

    public const string Species = """
        species_id,scientific_name,common_name,window_start,window_end,sensitivity,sensitive_location
        PSCR,Pseudacris crucifer,spring peeper,04-01,05-31,5,
        LISY,Lithobates sylvaticus,wood frog,03-20,05-10,7,
        ACCR,Acris blanchardi,Blanchard's cricket frog,05-15,07-15,8,true

        """;

    public const string Expected = """
        watershed_code,species_id,window_start,window_end
        99010101,PSCR,,
        9901010101,LISY,03-25,05-15

        """;

    public const string Surveys = """
        survey_id,station_id,date,start_time,minutes,observer,air_temp_c,wind_beaufort,notes
        S1,ST1,2024-04-20,21:15,5,An Observer,9.5,2,"calm, clear"
        S2,ST2,2024-04-20,21:40,5,An Observer,9,2,
        S3,ST3,2024-04-21,21:30,5,A. Nother,8,3,
        S4,ST1,2025-04-22,21:20,5,An Observer,11,1,

        """;

    public const string Calls = """
        survey_id,species_id,call_index
        S1,PSCR,3
        S1,LISY,1
        S2,PSCR,2
        S3,PSCR,1
        S3,LISY,0
        S4,PSCR,3

        """;

    public static readonly Instant Now = Instant.FromUtc(2026, 6, 1, 18, 0);

    private readonly DirectoryInfo _root = Directory.CreateTempSubdirectory("indicators-");

    public NightFolder() => Directory.CreateDirectory(Folder);

    public static NightFolder Good() => new NightFolder()
        .With("watersheds.csv", Watersheds)
        .With("stations.csv", Stations)
        .With("species.csv", Species)
        .With("expected.csv", Expected)
        .With("surveys.csv", Surveys)
        .With("calls.csv", Calls);

    public string Folder => Path.Combine(_root.FullName, "night");

    public string Rejects => Folder + "-rejects";

    public NightFolder With(string file, string content) => With(file, Encoding.UTF8.GetBytes(content));

    public NightFolder With(string file, byte[] content)
    {
        File.WriteAllBytes(Path.Combine(Folder, file), content);
        return this;
    }

    public NightFolder Without(string file)
    {
        File.Delete(Path.Combine(Folder, file));
        return this;
    }

    /// <summary>Replaces text that must be there once.</summary>
    public NightFolder Spoil(string file, string good, string bad)
    {
        string path = Path.Combine(Folder, file);
        string content = File.ReadAllText(path);
        Assert.Equal(2, content.Split(good).Length);
        File.WriteAllText(path, content.Replace(good, bad, StringComparison.Ordinal));
        return this;
    }

    public string RejectedText(string file) => File.ReadAllText(Path.Combine(Rejects, file));

    public ImportReport Import(ISurveyStore store, bool partial = false, bool replace = false) =>
        ImportFolder.Run(Request(partial, replace), store, new StoppedClock(Now), null, TestContext.Current.CancellationToken);

    public ImportRequest Request(bool partial = false, bool replace = false) => new() { Folder = Folder, Who = "desk", Partial = partial, Replace = replace };

    public void Dispose() => _root.Delete(recursive: true);
}

internal sealed class StoppedClock(Instant now) : IClock
{
    public Instant GetCurrentInstant() => now;
}
