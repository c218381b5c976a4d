using System.Text;
using Indicators.Application.Editions;
using Indicators.Exchange.Export;
using Indicators.Monitoring;
using Indicators.Storage;
using Indicators.Storage.Editions;
using Indicators.Storage.Surveys;
using Indicators.Storage.Tests;
using NodaTime;
using Xunit;

namespace Indicators.Application.Tests.Editions;

/// <summary>A database with the invented programme in it, and the use cases on it.</summary>
internal sealed class Programme : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    internal Programme(bool empty = false)
    {
        Database = Database.Open(_folder.Database, DatabaseAccess.CreateOrWrite).Database!;
        Surveys = new SurveyStore(Database);
        Editions = new EditionStore(Database);
        Reader = new EditionReader(Database);
        if (!empty)
            Surveys.Import(Invented.Batch(), Invented.Origin, null, CancellationToken.None);
    }

    internal Database Database { get; }

    internal SurveyStore Surveys { get; }

    internal EditionStore Editions { get; }

    internal EditionReader Reader { get; }

    /// <summary>The file on disk, to look into from outside.</summary>
    internal string File => _folder.Database;

    internal Clock Time { get; } = new();

    /// <summary>The engine made by the latest run.</summary>
    internal FakeAnalysis? Engine { get; private set; }

    internal AnalyseOutcome Analyse(AnalyseRequest? request = null) => Run(request, _ => { }, CancellationToken.None);

    /// <summary>Analyses until somebody cancels in front of the first area of so many digits.</summary>
    internal void AnalyseUntil(int digits)
    {
        using var cancel = new CancellationTokenSource();
        Assert.Throws<OperationCanceledException>(() => Run(null, Arrange, cancel.Token));

        void Arrange(FakeAnalysis engine) => engine.Before = area =>
        {
            if (area.Digits == digits)
                cancel.Cancel();
        };
    }

    /// <summary>Analyses areas of few stations, which are done side by side, with four threads.</summary>
    /// <param name="before">Called before each area, from the thread that does it.</param>
    /// <param name="cancel">Stops the run.</param>
    internal AnalyseOutcome AnalyseSideBySide(Action<WatershedCode> before, CancellationToken cancel) =>
        Run(new AnalyseRequest { MaxThreads = 4 }, engine => (engine.Stations, engine.Before) = (3, before), cancel);

    /// <summary>Waits in front of one area until another is done.</summary>
    internal void WaitForAnArea() => Assert.True(SpinWait.SpinUntil(() => Engine!.Done.Count > 0, TimeSpan.FromMinutes(1)));

    /// <summary>What is told while areas take a second a digit, after another run that was stopped in front of so many digits.</summary>
    internal List<AnalyseProgress> ProgressAfter(int digits)
    {
        var told = new List<AnalyseProgress>();
        Time.Step = Duration.Zero;
        AnalyseUntil(digits);
        Run(null, engine => engine.Before = area => Time.Pass(Duration.FromSeconds(area.Digits)), CancellationToken.None, new Teller(told.Add));
        return told;
    }

    private sealed class Teller(Action<AnalyseProgress> tell) : IProgress<AnalyseProgress>
    {
        public void Report(AnalyseProgress value) => tell(value);
    }

    private AnalyseOutcome Run(
        AnalyseRequest? request, Action<FakeAnalysis> arrange, CancellationToken cancel, IProgress<AnalyseProgress>? progress = null) =>
        new AnalyseProgramme(Surveys, Editions, (data, settings, run) =>
        {
            Engine = new FakeAnalysis(data, settings, run);
            arrange(Engine);
            return Engine;
        }, Time).Run(request ?? new AnalyseRequest { MaxThreads = 1 }, progress, cancel);

    internal PublishOutcome Publish() => new PublishDraft(Editions, Reader, Time).Run();

    internal async Task<string> Export(ExportWhat what, ExportFormat format = ExportFormat.Csv, long? number = null)
    {
        using var stream = new MemoryStream();
        await TableWriter.WriteAsync(new ExportEdition(Reader).Run(what, number).Table!, format, stream, CancellationToken.None);
        return Encoding.UTF8.GetString(stream.ToArray());
    }

    public void Dispose()
    {
        Database.Dispose();
        _folder.Dispose();
    }

    /// <summary>A clock that goes on by a fixed step whenever it is looked at.</summary>
    internal sealed class Clock : IClock
    {
        private Instant _now = Instant.FromUtc(2026, 6, 1, 0, 0);

        internal Duration Step { get; set; } = Duration.FromMilliseconds(1);

        public Instant GetCurrentInstant() => _now += Step;

        internal void Pass(Duration time) => _now += time;
    }
}
