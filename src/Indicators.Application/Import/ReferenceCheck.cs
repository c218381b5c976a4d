using Indicators.Exchange.Folders;
using Indicators.Exchange.Shapes;
using Indicators.Monitoring;
using Indicators.Storage.Surveys;

namespace Indicators.Application.Import;

/// <summary>
/// Checks the reference side of a folder, everything but surveys and calls, against itself and against what is stored.
/// </summary>
internal sealed class ReferenceCheck
{
    private readonly bool _replace;
    private readonly Dictionary<WatershedCode, Watershed> _storedWatersheds;
    private readonly Dictionary<WatershedCode, WatershedShape> _storedShapes;
    private readonly Dictionary<string, Wetland> _storedWetlands;
    private readonly Dictionary<string, Station> _storedStations;
    private readonly Dictionary<string, Species> _storedSpecies;
    private readonly List<Problem> _warnings = [];
    private readonly List<Watershed> _watershedsOfShapes = [];
    private readonly List<Wetland> _wetlands = [];

    public ReferenceCheck(SurveyFolder folder, StoredReference stored, bool replace)
    {
        _replace = replace;
        _storedWatersheds = stored.Watersheds.ToDictionary(w => w.Code);
        _storedShapes = stored.Shapes.ToDictionary(s => s.Code);
        _storedWetlands = stored.Wetlands.ToDictionary(w => w.Id.ToString(), StringComparer.Ordinal);
        _storedStations = stored.Stations.ToDictionary(s => s.Id.ToString(), StringComparer.Ordinal);
        _storedSpecies = stored.Species.ToDictionary(s => s.Id.ToString(), StringComparer.Ordinal);
        Watersheds = new(folder.Watersheds);
        Shapes = new(folder.Shapes);
        Stations = new(folder.Stations);
        Species = new(folder.Species);
        Expected = new(folder.Expected);
        StationTarget = new("station", Stations, _storedStations.ContainsKey);
        SpeciesTarget = new("species", Species, _storedSpecies.ContainsKey);

        Compare(Watersheds, w => _storedWatersheds.GetValueOrDefault(w.Code), StoredContent.Difference);
        Compare(Species, s => _storedSpecies.GetValueOrDefault(s.Id.ToString()), StoredContent.Difference);
        CompareShapes();
        CompareStations();
        CompareExpected(stored.Expected);
        WarnOfUnnamedWatersheds();
        WarnOfStationsOutside();
    }

    public Ledger<Watershed> Watersheds { get; }

    public Ledger<ShapeRow> Shapes { get; }

    public Ledger<StationRow> Stations { get; }

    public Ledger<Species> Species { get; }

    public Ledger<ExpectedSpecies> Expected { get; }

    /// <summary>What surveys refer to by station_id.</summary>
    public ReferenceTarget<StationRow> StationTarget { get; }

    /// <summary>What calls and expected lists refer to by species_id.</summary>
    public ReferenceTarget<Species> SpeciesTarget { get; }

    public IReadOnlyList<Problem> Warnings => _warnings;

    /// <summary>Where a station that a survey may refer to stands.</summary>
    public GeoPoint PlaceOf(Id<Station> id)
    {
        string key = id.ToString();
        return Stations.Find(key) is { } row && !Stations.IsRefused(row) ? Stations.Rows[row].Value!.Station.Place : _storedStations[key].Place;
    }

    /// <summary>What is to be stored of the reference side.</summary>
    public ImportBatch Batch() => new()
    {
        Watersheds = [.. Watersheds.ToStore(), .. _watershedsOfShapes],
        Shapes = [.. Shapes.ToStore().Where(s => _storedShapes.GetValueOrDefault(s.Code)?.GeometryJson != s.GeometryJson).Select(s => new WatershedShape(s.Code, s.GeometryJson))],
        Wetlands = _wetlands,
        Stations = [.. Stations.ToStore().Select(s => s.Station)],
        Species = [.. Species.ToStore()],
        Expected = [.. Expected.ToStore()],
    };

    private void Compare<T>(Ledger<T> ledger, Func<T, T?> storedOf, Func<T, T, ContentDifference?> differenceOf)
        where T : class
    {
        foreach (var (row, value) in ledger.Taken())
        {
            if (storedOf(value) is { } stored) Settle(ledger, row, differenceOf(value, stored));
        }
    }

    private void Settle<T>(Ledger<T> ledger, int row, ContentDifference? difference)
        where T : class
    {
        if (difference is null)
            ledger.Settle(row, RowFate.Unchanged);
        else if (_replace)
            ledger.Settle(row, RowFate.Replacing);
        else
            ledger.Refuse(row, ledger.At(row, ProblemKind.Conflict, difference.Column) with { Value = difference.Given, Stored = difference.Stored });
    }

    /// <summary>
    /// Shapes are compared like everything else; a shape's name only serves where no watersheds.csv ever named the watershed.
    /// </summary>
    private void CompareShapes()
    {
        foreach (var (row, shape) in Shapes.Taken())
        {
            bool differs = _storedShapes.TryGetValue(shape.Code, out var stored) && stored.GeometryJson != shape.GeometryJson;
            if (stored is not null) Settle(Shapes, row, differs ? new ContentDifference("geometry", "this shape", "another shape") : null);
            if (Shapes.IsRefused(row) || shape.Name is null || Watersheds.Find(shape.Code.ToString()) is not null || _storedWatersheds.ContainsKey(shape.Code))
                continue;
            _watershedsOfShapes.Add(new Watershed(shape.Code, shape.Name));
            if (Shapes.FateOf(row) == RowFate.Unchanged) Shapes.Settle(row, RowFate.New);
        }
    }

    /// <summary>
    /// A station row also speaks of its wetland. The first row that names or classes a wetland counts; a row that is silent
    /// about it leaves what is stored alone.
    /// </summary>
    private void CompareStations()
    {
        Compare(Stations, s => _storedStations.GetValueOrDefault(s.Station.Id.ToString()) is { } stored ? new StationRow(stored, null, null) : null,
            (given, stored) => StoredContent.Difference(given.Station, stored.Station));

        var wetlands = new Dictionary<string, GivenWetland>(StringComparer.Ordinal);
        foreach (var (row, value) in Stations.Taken())
        {
            string id = value.Station.Wetland.ToString();
            if (!wetlands.TryGetValue(id, out var wetland)) wetlands[id] = wetland = new GivenWetland(value.Station.Wetland);
            Gather(row, "wetland_name", value.WetlandName, wetland.Name);
            Gather(row, "wetland_class", value.WetlandClass, wetland.Class);
        }
        foreach (var (id, wetland) in wetlands)
        {
            if (!_storedWetlands.TryGetValue(id, out var stored)) continue;
            CompareWetland("wetland_name", wetland.Name, stored.Name);
            CompareWetland("wetland_class", wetland.Class, stored.Class);
        }
        foreach (string id in Stations.Taken().Select(s => s.Value.Station.Wetland.ToString()).Distinct(StringComparer.Ordinal))
        {
            if (wetlands[id].ToStore(_storedWetlands) is { } changed) _wetlands.Add(changed);
        }
    }

    private void Gather(int row, string column, string? text, GivenText known)
    {
        if (text is null) return;
        known.Text ??= text;
        if (known.Text == text)
            known.Rows.Add(row);
        else
            _warnings.Add(Stations.At(row, ProblemKind.WetlandDisagrees, column) with { Value = text, Stored = known.Text, OtherLine = Stations.LineOf(known.Rows[0]) });
    }

    private void CompareWetland(string column, GivenText given, string? stored)
    {
        if (given.Text is null || given.Text == stored) return;
        foreach (int row in given.Rows)
        {
            if (!_replace)
                Stations.Refuse(row, Stations.At(row, ProblemKind.Conflict, column) with { Value = given.Text, Stored = stored ?? "" });
            else if (Stations.FateOf(row) == RowFate.Unchanged)
                Stations.Settle(row, RowFate.Replacing);
        }
        if (!_replace) given.Text = null;
    }

    private void CompareExpected(IReadOnlyList<ExpectedSpecies> storedExpected)
    {
        var stored = storedExpected.ToDictionary(e => (e.Watershed, e.Species));
        foreach (var (row, value) in Expected.Taken())
        {
            if (SpeciesTarget.Refusal(value.Species.ToString(), kind => Expected.At(row, kind, "species_id")) is { } problem)
                Expected.Refuse(row, problem);
        }
        Compare(Expected, e => stored.GetValueOrDefault((e.Watershed, e.Species)), StoredContent.Difference);
    }

    private void WarnOfUnnamedWatersheds()
    {
        var named = Watersheds.Taken().Select(w => w.Value.Code).Concat(_watershedsOfShapes.Select(w => w.Code)).Concat(_storedWatersheds.Keys).ToHashSet();
        foreach (var stations in Stations.Taken().GroupBy(s => s.Value.Station.Watershed).Where(g => !named.Contains(g.Key)))
        {
            _warnings.Add(Stations.At(stations.First().Row, ProblemKind.WatershedNotNamed, "watershed_code") with
            {
                Value = stations.Key.ToString(),
                Count = stations.Count(),
            });
        }
    }

    private void WarnOfStationsOutside()
    {
        var given = Shapes.Taken().ToDictionary(s => s.Value.Code, s => s.Value.GeometryJson);
        var geometries = new Dictionary<WatershedCode, WatershedShapeGeometry?>();
        foreach (var (row, value) in Stations.Taken())
        {
            // The smallest enclosing watershed that has a shape.
            foreach (var code in value.Station.Watershed.SelfAndAncestors())
            {
                if (!geometries.TryGetValue(code, out var geometry)) geometries[code] = geometry = GeometryOf(code, given);
                if (geometry is null) continue;
                if (!geometry.Contains(value.Station.Place))
                    _warnings.Add(Stations.At(row, ProblemKind.StationOutsideShape) with { Value = value.Station.Id.ToString(), Thing = code.ToString() });
                break;
            }
        }
    }

    private WatershedShapeGeometry? GeometryOf(WatershedCode code, Dictionary<WatershedCode, string> given)
    {
        string? json = given.GetValueOrDefault(code) ?? _storedShapes.GetValueOrDefault(code)?.GeometryJson;
        return json is not null && WatershedShapeGeometry.Parse(json) is { IsValid: true } shape ? shape.Value : null;
    }

    /// <summary>What the folder says of one wetland.</summary>
    private sealed class GivenWetland(Id<Wetland> id)
    {
        public GivenText Name { get; } = new();

        public GivenText Class { get; } = new();

        /// <summary>The wetland as it is to be stored; null when that is stored already.</summary>
        public Wetland? ToStore(Dictionary<string, Wetland> storedWetlands)
        {
            var stored = storedWetlands.GetValueOrDefault(id.ToString());
            var wetland = new Wetland(id, Name.Text ?? stored?.Name, Class.Text ?? stored?.Class);
            return wetland == stored ? null : wetland;
        }
    }

    /// <summary>A text the folder gives and the rows that give it; null when nobody gives any.</summary>
    private sealed class GivenText
    {
        public string? Text { get; set; }

        public List<int> Rows { get; } = [];
    }
}
