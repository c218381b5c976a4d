using Indicators.Analysis.Options;
using Indicators.Exchange.Folders;
using Indicators.Exchange.Rejects;
using Indicators.Exchange.Settings;
using Indicators.Monitoring;
using Indicators.Storage.Surveys;
using NodaTime;

namespace Indicators.Application.Import;

/// <summary>
/// Takes a folder of survey files in, or says why not. What is wrong with the files is in the report; a store that fails
/// throws its own exception, and then nothing has been loaded.
/// </summary>
public static class ImportFolder
{
    /// <summary>
    /// Checks a folder and loads it in one transaction. When anything is refused nothing is loaded, unless the request
    /// asks for what can be taken. Refused rows are written to the rejects folder before the store is touched, so that
    /// none is ever lost; an earlier import's rejects there are replaced.
    /// </summary>
    /// <param name="request">What to import, and how.</param>
    /// <param name="store">Where to.</param>
    /// <param name="clock">Says what today is, and when the surveys came.</param>
    /// <param name="progress">Told how far it is; may be null.</param>
    /// <param name="cancel">Stops before the commit and leaves the store as it was.</param>
    public static ImportReport Run(ImportRequest request, ISurveyStore store, IClock clock, IProgress<ImportProgress>? progress, CancellationToken cancel)
    {
        string rejects = request.Rejects ?? RejectsFolder.BesideOf(request.Folder);
        if (Directory.Exists(request.Folder) && RejectsFolder.Check(rejects, request.Folder) is { } wrongRejects) return Failed(wrongRejects);

        var read = Look(request, store, clock, progress, cancel);
        if (read.Checked is not { } folder) return Failed(read.Failure!);

        // Refused rows are safe before the store is touched; rejects of an earlier import go once this one is stored.
        if (folder.HasRefusals && RejectsFolder.Replace(rejects, folder.Rejected()) is { } notWritten) return Failed(notWritten);

        bool load = !folder.HasRefusals || request.Partial;
        if (load)
        {
            var batch = folder.Batch() with { Settings = SettingsToStore(request, store) };
            var origin = new Origin(request.Who, clock.GetCurrentInstant(), folder.Name);
            var storing = progress is null ? null : new Reporter<int>(stored => progress.Report(new(ImportStage.Storing, stored, batch.Surveys.Count)));
            if (!batch.IsEmpty) store.Import(batch, origin, storing, cancel);
        }
        var report = folder.Report(load) with { Rejects = folder.HasRefusals ? rejects : null };
        return !folder.HasRefusals && RejectsFolder.Replace(rejects, []) is { } failure
            ? report with { Problems = [.. report.Problems, failure with { Kind = ProblemKind.RejectsNotRemoved }] }
            : report;
    }

    /// <summary>The same report, and nothing written: neither rejects nor anything in the store.</summary>
    /// <param name="request">What would be imported, and how.</param>
    /// <param name="store">What it would be compared with; null for an empty store.</param>
    /// <param name="clock">Says what today is.</param>
    /// <param name="progress">Told how far it is; may be null.</param>
    /// <param name="cancel">Stops it.</param>
    public static ImportReport Check(ImportRequest request, ISurveyStore? store, IClock clock, IProgress<ImportProgress>? progress, CancellationToken cancel)
    {
        var read = Look(request, store, clock, progress, cancel);
        return read.Checked is { } folder ? folder.Report(loaded: false) : Failed(read.Failure!);
    }

    private static (CheckedFolder? Checked, Problem? Failure) Look(
        ImportRequest request, ISurveyStore? store, IClock clock, IProgress<ImportProgress>? progress, CancellationToken cancel)
    {
        var settings = request.Settings ?? store?.Settings() ?? new ProgrammeSettings();
        var zone = DateTimeZoneProviders.Tzdb[settings.TimeZone];
        var options = new FolderReadOptions(zone, clock.GetCurrentInstant().InZone(zone).Date);
        var reading = progress is null ? null : new Reporter<FolderProgress>(p => progress.Report(new(ImportStage.Reading, p.BytesRead, p.BytesTotal)));
        var read = FolderReader.Read(request.Folder, options, reading, cancel);
        if (read.Folder is not { } folder) return (null, read.Failure);

        var reference = new ReferenceCheck(folder, store?.Reference() ?? new StoredReference([], [], [], [], [], []), request.Replace);
        var surveys = new SurveyCheck(
            folder,
            reference,
            ids => store is null || ids.Count == 0 ? new Dictionary<Id<Survey>, Survey>() : store.Find(ids),
            request.Replace,
            (done, total) => progress?.Report(new(ImportStage.Checking, done, total)),
            cancel);
        return (new CheckedFolder(folder, reference, surveys, surveys.ProtocolWarnings(settings, zone)), null);
    }

    private static ProgrammeSettings? SettingsToStore(ImportRequest request, ISurveyStore store) =>
        request.Settings is { } given && (store.Settings() is not { } stored || SettingsJson.Write(stored) != SettingsJson.Write(given))
            ? given
            : null;

    private static ImportReport Failed(Problem problem) => new() { Outcome = ImportOutcome.Failed, Problems = [problem] };

    /// <summary>Reports at once and on the same thread; <see cref="Progress{T}"/> would report later, from others.</summary>
    private sealed class Reporter<T>(Action<T> report) : IProgress<T>
    {
        public void Report(T value) => report(value);
    }
}
