using Indicators.Analysis.Options;
using Indicators.Exchange.Settings;
using Indicators.Monitoring;
using Indicators.Storage.Surveys;
using NodaTime;

namespace Indicators.Application.Tests.Import;

/// <summary>
/// A survey store in memory that, like the real one, takes nothing that refers to something unknown, and all of an import
/// or nothing of it.
/// </summary>
internal sealed class MemoryStore : ISurveyStore
{
    private readonly SortedDictionary<string, Watershed> _watersheds = new(StringComparer.Ordinal);
    private readonly SortedDictionary<string, WatershedShape> _shapes = new(StringComparer.Ordinal);
    private readonly SortedDictionary<string, Wetland> _wetlands = new(StringComparer.Ordinal);
    private readonly SortedDictionary<string, Station> _stations = new(StringComparer.Ordinal);
    private readonly SortedDictionary<string, Species> _species = new(StringComparer.Ordinal);
    private readonly SortedDictionary<string, ExpectedSpecies> _expected = new(StringComparer.Ordinal);
    private readonly SortedDictionary<string, SurveyEntry> _surveys = new(StringComparer.Ordinal);
    private ProgrammeSettings? _settings;

    public int Imports { get; private set; }

    /// <summary>The most surveys it was asked for at once.</summary>
    public int MostAskedFor { get; private set; }

    public Origin? LastOrigin { get; private set; }

    public IReadOnlyDictionary<string, SurveyEntry> Entries => _surveys;

    public StoredReference Reference() =>
        new([.. _watersheds.Values], [.. _shapes.Values], [.. _wetlands.Values], [.. _stations.Values], [.. _species.Values], [.. _expected.Values]);

    public ProgrammeSettings? Settings() => _settings;

    public IReadOnlyDictionary<Id<Survey>, Survey> Find(IReadOnlyCollection<Id<Survey>> ids)
    {
        MostAskedFor = Math.Max(MostAskedFor, ids.Count);
        return ids.Where(id => _surveys.ContainsKey(id.ToString())).ToDictionary(id => id, id => _surveys[id.ToString()].Survey);
    }

    public void Import(ImportBatch batch, Origin origin, IProgress<int>? progress, CancellationToken cancel)
    {
        var stations = batch.Stations.Select(s => s.Id.ToString()).Concat(_stations.Keys).ToHashSet(StringComparer.Ordinal);
        var species = batch.Species.Select(s => s.Id.ToString()).Concat(_species.Keys).ToHashSet(StringComparer.Ordinal);
        var wetlands = batch.Wetlands.Select(w => w.Id.ToString()).Concat(_wetlands.Keys).ToHashSet(StringComparer.Ordinal);
        Demand(batch.Stations.All(s => wetlands.Contains(s.Wetland.ToString())), "a station of an unknown wetland");
        Demand(batch.Expected.All(e => species.Contains(e.Species.ToString())), "an unknown species expected");
        Demand(batch.Surveys.All(s => stations.Contains(s.Survey.Station.ToString())), "a survey at an unknown station");
        Demand(batch.Surveys.All(s => s.Survey.Calls.All(c => species.Contains(c.Species.ToString()))), "a call of an unknown species");
        Demand(batch.Surveys.All(s => s.Survey.Calls.Select(c => c.Species).Distinct().Count() == s.Survey.Calls.Count), "a species twice on a survey");
        Demand(batch.Surveys.All(s => s.Survey.Calls.SequenceEqual(s.Survey.Calls.OrderBy(c => c.Species))), "calls out of order");
        cancel.ThrowIfCancellationRequested();

        Imports++;
        LastOrigin = origin;
        foreach (var w in batch.Watersheds) _watersheds[w.Code.ToString()] = w;
        foreach (var s in batch.Shapes) _shapes[s.Code.ToString()] = s;
        foreach (var w in batch.Wetlands) _wetlands[w.Id.ToString()] = w;
        foreach (var s in batch.Stations) _stations[s.Id.ToString()] = s;
        foreach (var s in batch.Species) _species[s.Id.ToString()] = s;
        foreach (var e in batch.Expected) _expected[$"{e.Watershed} {e.Species}"] = e;
        foreach (var s in batch.Surveys) _surveys[s.Survey.Id.ToString()] = s;
        _settings = batch.Settings ?? _settings;
        progress?.Report(batch.Surveys.Count);
    }

    public ProgrammeData Accepted() =>
        new([.. _watersheds.Values], [.. _wetlands.Values], [.. _stations.Values], [.. _species.Values], [.. _expected.Values], [.. _surveys.Values.Select(s => s.Survey)]);

    public ProgrammeData AcceptedAt(Instant at) => throw new NotSupportedException("An import asks for no earlier moment.");

    /// <summary>Another store with the same content.</summary>
    public MemoryStore Copy()
    {
        var copy = new MemoryStore();
        copy.Import(
            new ImportBatch
            {
                Watersheds = [.. _watersheds.Values],
                Shapes = [.. _shapes.Values],
                Wetlands = [.. _wetlands.Values],
                Stations = [.. _stations.Values],
                Species = [.. _species.Values],
                Expected = [.. _expected.Values],
                Surveys = [.. _surveys.Values],
                Settings = _settings,
            },
            LastOrigin!, null, CancellationToken.None);
        return copy;
    }

    /// <summary>Everything stored, one line a thing, so that two states can be compared.</summary>
    public IReadOnlyList<string> Lines() => StoreText.Lines(Reference(), _surveys.Values.Select(s => s.Survey), _settings);

    private static void Demand(bool holds, string otherwise)
    {
        if (!holds) throw new InvalidOperationException($"The store was given {otherwise}.");
    }
}

/// <summary>What is stored as text, one line a thing.</summary>
internal static class StoreText
{
    public static IReadOnlyList<string> Lines(StoredReference reference, IEnumerable<Survey> surveys, ProgrammeSettings? settings) =>
    [
        .. reference.Watersheds.Select(w => $"watershed {w.Code} {w}"),
        .. reference.Shapes.Select(s => $"shape {s.Code} {s}"),
        .. reference.Wetlands.Select(w => $"wetland {w.Id} {w}"),
        .. reference.Stations.Select(s => $"station {s.Id} {s}"),
        .. reference.Species.Select(s => $"species {s.Id} {s}"),
        .. reference.Expected.Select(e => $"expected {e.Watershed}/{e.Species} {e}"),
        .. surveys.Select(s => $"survey {s.Id} {s with { Calls = [] }} {string.Join(' ', s.Calls.Select(c => $"{c.Species}={c.Level}"))}"),
        $"settings {(settings is null ? "" : SettingsJson.Write(settings))}",
    ];
}
