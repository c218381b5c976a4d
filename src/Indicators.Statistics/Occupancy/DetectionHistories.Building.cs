using System.Runtime.InteropServices;

namespace Indicators.Statistics.Occupancy;

/// <content>How visits are folded into rows and sites into patterns.</content>
public sealed partial class DetectionHistories
{
    private (int[] Slots, double[] Covariates) BuildRows(ReadOnlySpan<double> covariates)
    {
        int q = VisitCovariates;
        if (q == 0)
        {
            // Without covariates a visit is its slot: the rows are the slots.
            for (int v = 0; v < _visits.Length; v++)
                _rowOfVisit[v] = _visits[v].Slot;
            return ([.. Enumerable.Range(0, Slots)], []);
        }
        var rows = new Dictionary<long[], int>(SameContent.Instance);
        var slots = new List<int>();
        var values = new List<double>();
        for (int v = 0; v < _visits.Length; v++)
        {
            var own = covariates.Slice(v * q, q);
            var key = new long[q + 1];
            key[0] = _visits[v].Slot;
            for (int k = 0; k < q; k++)
                key[k + 1] = BitConverter.DoubleToInt64Bits(own[k] + 0.0);
            ref int row = ref CollectionsMarshal.GetValueRefOrAddDefault(rows, key, out bool known);
            if (!known)
            {
                row = slots.Count;
                slots.Add(_visits[v].Slot);
                values.AddRange(own);
            }
            _rowOfVisit[v] = row;
        }
        return ([.. slots], [.. values]);
    }

    private (int[] PatternOfSite, int[] StepStart, StepKind[] Kinds, int[] VisitStart, int[] VisitRows, double[] Covariates) BuildPatterns(ReadOnlySpan<double> covariates)
    {
        // Visits by site and season, by counting.
        var start = new int[Sites * Seasons + 1];
        foreach (var visit in _visits)
            start[visit.Site * Seasons + visit.Season + 1]++;
        for (int i = 1; i < start.Length; i++)
            start[i] += start[i - 1];
        var place = start[..^1];
        var sorted = new int[_visits.Length];
        for (int v = 0; v < _visits.Length; v++)
            sorted[place[_visits[v].Site * Seasons + _visits[v].Season]++] = _rowOfVisit[v];

        var patterns = new Dictionary<long[], int>(SameContent.Instance);
        var patternOf = new int[Sites];
        List<int> stepStart = [0], visitStart = [0], visitRows = [];
        var kinds = new List<StepKind>();
        var patternCovariates = new List<double>();
        var key = new List<long>();
        for (int s = 0; s < Sites; s++)
        {
            var own = covariates.Slice(s * SiteCovariates, SiteCovariates);
            key.Clear();
            foreach (double value in own)
                key.Add(BitConverter.DoubleToInt64Bits(value + 0.0));
            int last = Seasons;
            while (last > 0 && start[s * Seasons + last - 1] == start[s * Seasons + last])
                last--;
            for (int t = 0; t < last; t++)
            {
                var cell = Cell(s, t);
                cell.Sort();
                key.Add(-1 - (long)KindOf(s, t));
                if (KindOf(s, t) == StepKind.Silent)
                    foreach (int row in cell)
                        key.Add(row);
            }
            ref int pattern = ref CollectionsMarshal.GetValueRefOrAddDefault(patterns, [.. key], out bool known);
            if (!known)
            {
                pattern = stepStart.Count - 1;
                for (int t = 0; t < last; t++)
                {
                    kinds.Add(KindOf(s, t));
                    if (KindOf(s, t) == StepKind.Silent)
                        visitRows.AddRange(Cell(s, t));
                    visitStart.Add(visitRows.Count);
                }
                stepStart.Add(kinds.Count);
                patternCovariates.AddRange(own);
            }
            patternOf[s] = pattern;
        }
        return (patternOf, [.. stepStart], [.. kinds], [.. visitStart], [.. visitRows], [.. patternCovariates]);

        Span<int> Cell(int site, int season) => sorted.AsSpan(start[site * Seasons + season]..start[site * Seasons + season + 1]);
        StepKind KindOf(int site, int season) =>
            _detectedIn[site * Seasons + season] ? StepKind.Detected
            : start[site * Seasons + season] == start[site * Seasons + season + 1] ? StepKind.Unvisited
            : StepKind.Silent;
    }

    private void Weigh(ReadOnlySpan<double> weights)
    {
        if (!weights.IsEmpty && weights.Length != Sites) throw new ArgumentException("One weight a site.", nameof(weights));
        for (int s = 0; s < Sites; s++)
        {
            double weight = weights.IsEmpty ? 1 : weights[s];
            if (!(weight >= 0 && double.IsFinite(weight))) throw new ArgumentException("Weights are finite and not negative.", nameof(weights));
            Weights[s] = weight;
            PatternWeights[PatternOfSite[s]] += weight;
        }
        for (int v = 0; v < _visits.Length; v++)
        {
            var visit = _visits[v];
            double weight = Weights[visit.Site];
            RowVisits[_rowOfVisit[v]] += weight;
            if (visit.Detected)
                RowDetections[_rowOfVisit[v]] += weight;
            else if (DetectedIn(visit.Site, visit.Season))
                RowKnownMisses[_rowOfVisit[v]] += weight;
        }
    }

    private sealed class SameContent : IEqualityComparer<long[]>
    {
        public static readonly SameContent Instance = new();

        public bool Equals(long[]? x, long[]? y) => x.AsSpan().SequenceEqual(y);

        public int GetHashCode(long[] obj)
        {
            var hash = default(HashCode);
            hash.AddBytes(MemoryMarshal.AsBytes(obj.AsSpan()));
            return hash.ToHashCode();
        }
    }
}
