using Indicators.Statistics.Fits;
using Indicators.Statistics.Intervals;
using Indicators.Statistics.Panels;

namespace Indicators.Benchmarks.Coverage;

/// <summary>
/// Other intervals for a trend's slope, beside the engine's: what the coverage study compares. All work on cluster scores
/// of the conditional likelihood, S_c(β) = Σ over the cluster's units and periods of w y_st (t − Σ_u p_su u).
/// </summary>
public sealed class Candidates
{
    private readonly PanelCounts _panel;
    private readonly Slope _slope;
    private readonly double _middle;
    private readonly int[] _clusters;
    private readonly double[] _power, _scores, _information;

    /// <summary>Candidates of one panel at its finite slope.</summary>
    public Candidates(PanelCounts panel, Slope slope)
    {
        (_panel, _slope, _middle) = (panel, slope, (panel.Times[0] + panel.Times[^1]) / 2);
        _power = new double[panel.Periods];
        (_scores, _information) = (new double[panel.ClusterCount], new double[panel.ClusterCount]);
        _clusters = [.. Enumerable.Range(0, panel.Units).Where(Informs).Select(panel.ClusterOf).Distinct().Order()];
    }

    /// <summary>K: clusters with a unit that has counts and exposure in two periods or more.</summary>
    public int Clusters => _clusters.Length;

    private bool Informs(int unit) =>
        Enumerable.Range(0, _panel.Periods).Count(t => _panel.Exposure(unit, t) > 0) >= 2
        && Enumerable.Range(0, _panel.Periods).Any(t => _panel.Count(unit, t) > 0);

    /// <summary>S_c(β) and the information −dS_c/dβ of every cluster.</summary>
    private void FillScores(double beta)
    {
        Array.Clear(_scores);
        Array.Clear(_information);
        int periods = _panel.Periods;
        for (int t = 0; t < periods; t++)
            _power[t] = Math.Exp(beta * (_panel.Times[t] - _middle));
        for (int s = 0; s < _panel.Units; s++)
        {
            double s0 = 0, s1 = 0, s2 = 0, total = 0, observed = 0;
            for (int t = 0; t < periods; t++)
            {
                double d = _panel.Times[t] - _middle, e = _panel.Exposure(s, t) * _power[t], y = _panel.Count(s, t);
                (s0, s1, s2, total, observed) = (s0 + e, s1 + e * d, s2 + e * d * d, total + y, observed + y * d);
            }
            if (s0 == 0)
                continue;
            double mean = s1 / s0;
            _scores[_panel.ClusterOf(s)] += _panel.WeightOf(s) * (observed - total * mean);
            _information[_panel.ClusterOf(s)] += _panel.WeightOf(s) * total * (s2 / s0 - mean * mean);
        }
    }

    private static Interval StudentT(double estimate, double error, double freedom, double confidence)
    {
        double half = Quantile.OfStudentT(1 - (1 - confidence) / 2, freedom) * error;
        return new Interval(estimate - half, estimate + half);
    }

    /// <summary>The sandwich's standard error with clusters, times √(K/(K−1)): CR1 (Liang and Zeger 1986).</summary>
    public double Cr1Error()
    {
        FillScores(_slope.Value);
        return Math.Sqrt(Clusters / (Clusters - 1.0) * _clusters.Sum(c => _scores[c] * _scores[c])) / _clusters.Sum(c => _information[c]);
    }

    /// <summary>CR1 and Student's t on K − 1 degrees of freedom.</summary>
    public Interval Cr1(double confidence) => StudentT(_slope.Value, Cr1Error(), Clusters - 1, confidence);

    /// <summary>
    /// Bell and McCaffrey's 2002 standard error CR2: each score divided by √(1 − its share of the information), and the
    /// degrees of freedom that Satterthwaite's rule gives it when calls are Poisson.
    /// </summary>
    public (double Error, double Freedom) Cr2Error()
    {
        FillScores(_slope.Value);
        double all = _clusters.Sum(c => _information[c]), squares = 0, first = 0, second = 0;
        foreach (int c in _clusters)
        {
            double share = _information[c] / all;
            squares += _scores[c] * _scores[c] / (1 - share);
            first += share;
            foreach (int g in _clusters)
            {
                double other = _information[g] / all, covariance = (c == g ? share : 0) - share * other;
                second += covariance * covariance / ((1 - share) * (1 - other));
            }
        }
        return (Math.Sqrt(squares) / all, first * first / second);
    }

    /// <summary>CR2 with t on K − 1, and on its own degrees of freedom.</summary>
    public (Interval Plain, Interval Satterthwaite) Cr2(double confidence)
    {
        var (error, freedom) = Cr2Error();
        return (StudentT(_slope.Value, error, Clusters - 1, confidence), StudentT(_slope.Value, error, freedom, confidence));
    }

    /// <summary>The studentised bootstrap: each resample's slope less the sample's, over its own CR1 error.</summary>
    /// <param name="draws">The resamples' slopes; those not finite are left out.</param>
    /// <param name="multiplicities">How often each cluster is in a resample.</param>
    /// <param name="confidence">0 to 1.</param>
    public Interval Studentised(IReadOnlyList<double> draws, Action<int, int[]> multiplicities, double confidence)
    {
        double error = Cr1Error();
        var times = new int[_panel.ClusterCount];
        var t = new List<double>(draws.Count);
        for (int b = 0; b < draws.Count; b++)
        {
            if (!double.IsFinite(draws[b]))
                continue;
            multiplicities(b, times);
            FillScores(draws[b]);
            double squares = 0, information = 0;
            int drawn = 0;
            foreach (int c in _clusters)
            {
                squares += times[c] * _scores[c] * _scores[c];
                information += times[c] * _information[c];
                drawn += times[c];
            }
            double own = drawn < 2 ? 0 : Math.Sqrt(drawn / (drawn - 1.0) * squares) / information;
            t.Add(own > 0 ? (draws[b] - _slope.Value) / own : double.PositiveInfinity * Math.Sign(draws[b] - _slope.Value));
        }
        double[] sorted = [.. t.Where(x => !double.IsNaN(x)).Order()];
        double tail = (1 - confidence) / 2;
        return new Interval(
            _slope.Value - SampleQuantile.Type6(sorted, 1 - tail) * error,
            _slope.Value - SampleQuantile.Type6(sorted, tail) * error);
    }

    /// <summary>
    /// The wild bootstrap's p-value of a slope, in its score form (Kline and Santos 2012, after Cameron, Gelbach and Miller
    /// 2008): the scores under the slope asked about, each cluster's turned by its own random weight.
    /// </summary>
    /// <param name="beta">The slope asked about.</param>
    /// <param name="weights">One weight an informing cluster, draw after draw.</param>
    /// <returns>(1 + draws with a statistic as large) / (1 + draws).</returns>
    public double WildP(double beta, ReadOnlySpan<double> weights)
    {
        FillScores(beta);
        int k = Clusters, draws = weights.Length / k, above = 0;
        Span<double> scores = stackalloc double[k];
        double sum = 0, squares = 0;
        for (int c = 0; c < k; c++)
        {
            scores[c] = _scores[_clusters[c]];
            (sum, squares) = (sum + scores[c], squares + scores[c] * scores[c]);
        }
        double statistic = sum * sum / squares;
        for (int b = 0; b < draws; b++)
        {
            double turned = 0, turnedSquares = 0;
            for (int c = 0; c < k; c++)
            {
                double u = weights[b * k + c] * scores[c];
                (turned, turnedSquares) = (turned + u, turnedSquares + u * u);
            }
            // The draw that turns nothing, or everything, is as large; rounding must not decide.
            above += turned * turned / turnedSquares >= statistic * (1 - 1e-10) ? 1 : 0;
        }
        return (1.0 + above) / (1 + draws);
    }

    /// <summary>The slopes that <see cref="WildP"/> does not reject, sought by halving within so many CR1 errors; infinite when the end lies further out.</summary>
    public Interval Wild(ReadOnlySpan<double> weights, double confidence, double reach = 25)
    {
        double error = Cr1Error();
        double lower = End(-reach * error, weights, 1 - confidence), upper = End(reach * error, weights, 1 - confidence);
        return new Interval(lower, upper);
    }

    private double End(double reach, ReadOnlySpan<double> weights, double level)
    {
        double inside = _slope.Value, outside = _slope.Value + reach;
        if (WildP(outside, weights) > level)
            return reach > 0 ? double.PositiveInfinity : double.NegativeInfinity;
        for (int i = 0; i < 14; i++)
        {
            double middle = (inside + outside) / 2;
            if (WildP(middle, weights) > level) inside = middle; else outside = middle;
        }
        return (inside + outside) / 2;
    }
}
