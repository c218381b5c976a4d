using System.Runtime.InteropServices;

namespace Indicators.Statistics.Occupancy;

/// <summary>
/// The courses of sites cut at their detections, where the state is known and the chain starts afresh: a first piece from
/// the first season through the first detection, then one from each detection through the next, the last one through the
/// last season visited. Pieces with the same steps share a pattern.
/// </summary>
/// <remarks>A last detection with nothing after it needs no piece. A site without a visit has one piece without steps.</remarks>
internal sealed class HistoryPieces(int sites)
{
    private readonly Dictionary<long[], int> _patterns = new(SameContent.Instance);
    private readonly Dictionary<(int Pattern, int Start), int> _pieces = [];
    private readonly int[] _siteStart = new int[sites + 1];
    private readonly List<int> _sitePieces = [], _pattern = [], _start = [], _stepStart = [0], _visitStart = [0], _visitRows = [];
    private readonly List<int> _covariateStart = [];
    private readonly List<bool> _continues = [];
    private readonly List<StepKind> _kinds = [];
    private readonly List<double> _covariates = [];
    private readonly List<long> _key = [];
    private readonly List<(StepKind Kind, int Visits)> _steps = [];
    private readonly List<int> _rows = [];
    private readonly List<double> _own = [];
    private int _from;

    /// <summary>The pattern of each piece.</summary>
    public int[] Pattern { get; private set; } = [];

    /// <summary>The season in which each piece starts.</summary>
    public int[] Start { get; private set; } = [];

    /// <summary>Whether a pattern starts from a detection; else it starts from initial occupancy.</summary>
    public bool[] Continues { get; private set; } = [];

    /// <summary>Steps of pattern i are StepStart[i] up to StepStart[i + 1], one a season.</summary>
    public int[] StepStart { get; private set; } = [];

    /// <summary>What each step tells.</summary>
    public StepKind[] Kinds { get; private set; } = [];

    /// <summary>Rows of the visits of step k, when nothing was detected, are VisitRows[VisitStart[k]..VisitStart[k + 1]].</summary>
    public int[] VisitStart { get; private set; } = [];

    /// <summary>Rows of silent visits.</summary>
    public int[] VisitRows { get; private set; } = [];

    /// <summary>Where the covariates of each pattern's initial occupancy begin in <see cref="Covariates"/>; nowhere for those that continue.</summary>
    public int[] CovariateStart { get; private set; } = [];

    /// <summary>Covariates of initial occupancy.</summary>
    public double[] Covariates { get; private set; } = [];

    /// <summary>The pieces of a site, in order.</summary>
    public ReadOnlySpan<int> Of(int site) => CollectionsMarshal.AsSpan(_sitePieces)[_siteStart[site].._siteStart[site + 1]];

    /// <summary>Goes on to a site; sites come in order.</summary>
    public void BeginSite(int site) => _siteStart[site] = _sitePieces.Count;

    /// <summary>Begins a piece in a season.</summary>
    public void BeginPiece(int season, bool continues, ReadOnlySpan<double> covariates)
    {
        _from = season;
        _key.Clear();
        _steps.Clear();
        _rows.Clear();
        _own.Clear();
        _key.Add(continues ? 1 : 0);
        foreach (double value in covariates)
        {
            _own.Add(value);
            _key.Add(BitConverter.DoubleToInt64Bits(value + 0.0));
        }
    }

    /// <summary>Adds a season to the piece.</summary>
    public void AddStep(StepKind kind, ReadOnlySpan<int> rows)
    {
        _key.Add(-1 - (long)kind);
        foreach (int row in rows)
            _key.Add(row);
        _steps.Add((kind, rows.Length));
        _rows.AddRange(rows);
    }

    /// <summary>Finds the piece's pattern, or makes a new one.</summary>
    public void EndPiece()
    {
        ref int pattern = ref CollectionsMarshal.GetValueRefOrAddDefault(
            _patterns.GetAlternateLookup<ReadOnlySpan<long>>(), CollectionsMarshal.AsSpan(_key), out bool known);
        if (!known)
        {
            pattern = _continues.Count;
            _continues.Add(_key[0] == 1);
            foreach (var (kind, visits) in _steps)
            {
                _kinds.Add(kind);
                _visitStart.Add(_visitStart[^1] + visits);
            }
            _visitRows.AddRange(_rows);
            _stepStart.Add(_kinds.Count);
            _covariateStart.Add(_covariates.Count);
            _covariates.AddRange(_own);
        }
        ref int piece = ref CollectionsMarshal.GetValueRefOrAddDefault(_pieces, (pattern, _from), out known);
        if (!known)
        {
            piece = _pattern.Count;
            _pattern.Add(pattern);
            _start.Add(_from);
        }
        _sitePieces.Add(piece);
    }

    /// <summary>Nothing more is added.</summary>
    public void Close()
    {
        _siteStart[^1] = _sitePieces.Count;
        (Pattern, Start, Continues, StepStart, Kinds) = ([.. _pattern], [.. _start], [.. _continues], [.. _stepStart], [.. _kinds]);
        (VisitStart, VisitRows, CovariateStart, Covariates) = ([.. _visitStart], [.. _visitRows], [.. _covariateStart], [.. _covariates]);
    }
}
