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

    /// <summary>
    /// Cuts every site's course at the seasons with a detection, where its state is known and what came before says nothing
    /// more about what comes after, and finds the pieces that look the same.
    /// </summary>
    private HistoryPieces BuildPieces(ReadOnlySpan<double> covariates)
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

        var pieces = new HistoryPieces(Sites);
        for (int s = 0; s < Sites; s++)
        {
            int last = Seasons;
            while (last > 0 && start[s * Seasons + last - 1] == start[s * Seasons + last])
                last--;
            pieces.BeginSite(s);
            int from = 0;
            for (bool continues = false; ; continues = true)
            {
                pieces.BeginPiece(from, continues, covariates.Slice(s * SiteCovariates, continues ? 0 : SiteCovariates));
                int t = from;
                for (; t < last; t++)
                {
                    var kind = KindOf(s, t);
                    var rows = sorted.AsSpan(start[s * Seasons + t]..start[s * Seasons + t + 1]);
                    rows.Sort();
                    pieces.AddStep(kind, kind == StepKind.Silent ? rows : []);
                    if (kind == StepKind.Detected && !(continues && t == from))
                        break;
                }
                pieces.EndPiece();
                if (t >= last - 1)
                    break;
                from = t;
            }
        }
        pieces.Close();
        return pieces;

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
            foreach (int piece in Pieces.Of(s))
            {
                PieceWeights[piece] += weight;
                PatternWeights[Pieces.Pattern[piece]] += weight;
            }
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
}
