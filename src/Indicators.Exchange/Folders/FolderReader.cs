using Indicators.Monitoring;

namespace Indicators.Exchange.Folders;

/// <summary>Reads an import folder: every file, every row, with what is wrong with each taken by itself.</summary>
public static class FolderReader
{
    /// <summary>Reads the folder.</summary>
    /// <param name="path">The folder.</param>
    /// <param name="options">What to know from outside.</param>
    /// <param name="progress">Told how far the reading is; may be null.</param>
    /// <param name="cancel">Stops the reading.</param>
    public static FolderRead Read(string path, FolderReadOptions options, IProgress<FolderProgress>? progress, CancellationToken cancel)
    {
        string name = Path.GetFileName(Path.TrimEndingDirectorySeparator(Path.GetFullPath(path)));
        if (!Directory.Exists(path)) return new FolderRead(null, new Problem(ProblemKind.FolderMissing, name) { Value = path });
        try
        {
            var files = new Files(path, progress);
            if (!files.HasAny) return new FolderRead(null, new Problem(ProblemKind.FolderWithoutFiles, name) { Value = path, Names = FolderLayout.Files });
            return new FolderRead(ReadAll(name, files, options, cancel), null);
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException)
        {
            return new FolderRead(null, new Problem(ProblemKind.Unreadable, name) { Value = error.Message });
        }
    }

    private static SurveyFolder ReadAll(string name, Files files, FolderReadOptions options, CancellationToken cancel) => new()
    {
        Name = name,
        Watersheds = files.Table(FolderLayout.Watersheds, RowParsers.Watershed, ["watershed_code"], cancel),
        Shapes = files.Shapes(),
        Stations = files.Table(FolderLayout.Stations, RowParsers.Station, ["station_id"], cancel),
        Species = files.Table(FolderLayout.Species, RowParsers.Species, ["species_id"], cancel),
        Expected = files.Table(FolderLayout.Expected, RowParsers.Expected, ["watershed_code", "species_id"], cancel),
        Surveys = files.Table(FolderLayout.Surveys, row => RowParsers.Survey(row, options), ["survey_id"], cancel),
        Calls = files.Table(FolderLayout.Calls, RowParsers.Call, ["survey_id", "species_id"], cancel, ProblemKind.SpeciesRepeated),
        Notes = files.Notes,
    };

    /// <summary>The folder's files by the names that are read, in any case.</summary>
    private sealed class Files
    {
        private readonly Dictionary<string, FileInfo> _found = new(StringComparer.OrdinalIgnoreCase);
        private readonly IProgress<FolderProgress>? _progress;
        private readonly long _total;
        private long _read;

        public Files(string path, IProgress<FolderProgress>? progress)
        {
            _progress = progress;
            var notes = new List<Problem>();
            foreach (var file in new DirectoryInfo(path).GetFiles().OrderByDescending(f => f.Name, StringComparer.Ordinal))
            {
                bool isRead = FolderLayout.Files.Contains(file.Name, StringComparer.OrdinalIgnoreCase) && _found.TryAdd(file.Name, file);
                if (!isRead && file.Extension.ToUpperInvariant() is ".CSV" or ".TSV" or ".TXT" or ".GEOJSON")
                    notes.Add(new Problem(ProblemKind.FileIgnored, file.Name));
            }
            notes.Reverse();
            Notes = notes;
            _total = _found.Values.Sum(f => f.Length);
        }

        public bool HasAny => _found.Count > 0;

        public IReadOnlyList<Problem> Notes { get; }

        public FolderFile<T> Table<T>(
            FileLayout layout, Func<RowFields, T?> parse, IReadOnlyList<string> key, CancellationToken cancel, ProblemKind repeated = ProblemKind.IdRepeated)
            where T : class
        {
            cancel.ThrowIfCancellationRequested();
            if (!_found.TryGetValue(layout.File, out var file)) return new FolderFile<T> { Name = layout.File };
            var table = new TableReader<T>(layout, parse, key, repeated).Read(file.Name, File.ReadAllBytes(file.FullName), bytes => Report(file, bytes), cancel);
            Finish(file);
            return table;
        }

        public FolderFile<ShapeRow> Shapes()
        {
            if (!_found.TryGetValue(FolderLayout.ShapesFile, out var file)) return new FolderFile<ShapeRow> { Name = FolderLayout.ShapesFile };
            var shapes = ShapeFileReader.Read(file.Name, File.ReadAllBytes(file.FullName));
            Finish(file);
            return shapes;
        }

        private void Finish(FileInfo file)
        {
            _read += file.Length;
            Report(file, 0);
        }

        private void Report(FileInfo file, long bytes) => _progress?.Report(new FolderProgress(file.Name, _read + bytes, _total));
    }
}
