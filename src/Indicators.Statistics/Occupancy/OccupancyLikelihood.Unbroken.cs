namespace Indicators.Statistics.Occupancy;

/// <content>The chance that a presence was never broken.</content>
public sealed partial class OccupancyLikelihood
{
    /// <summary>
    /// For each site the chance that it was occupied in season <paramref name="heard"/> and has stayed so, without a break,
    /// until season <paramref name="until"/> at least, given everything seen up to <paramref name="heard"/> and silence from
    /// then through season <paramref name="through"/>. A site that emptied stays empty: returns are not counted.
    /// </summary>
    /// <remarks>
    /// Before and in <paramref name="heard"/> the forward probability; then a chain that can only be left, at the
    /// extinction rates, with the silent visits' Π(1 − p) for as long as it stays. Bayes' rule over when it was left.
    /// </remarks>
    /// <param name="parameters">The parameters.</param>
    /// <param name="heard">The last season with a detection at any site, from 0.</param>
    /// <param name="until">A later season.</param>
    /// <param name="through">The last season whose visits count, <paramref name="until"/> or later.</param>
    /// <param name="chances">One place a site.</param>
    public void Unbroken(ReadOnlySpan<double> parameters, int heard, int until, int through, Span<double> chances)
    {
        if (!(heard >= 0 && heard < until && until <= through && through < _data.Seasons))
            throw new ArgumentException("Seasons run heard < until <= through.", nameof(until));
        SetRates(parameters);
        Span<double> filtered = _data.Seasons <= 256 ? stackalloc double[_data.Seasons] : new double[_data.Seasons];
        for (int s = 0; s < _data.Sites; s++)
        {
            FilterAfterRates(parameters, s, filtered);
            double staying = filtered[heard], left = 1 - staying;
            for (int t = heard + 1; t <= until; t++)
            {
                left += staying * _vanish[t - 1];
                staying *= _remain[t - 1] * MissedIn(s, t);
            }
            double silent = 1;
            for (int t = through; t > until; t--)
                silent = _remain[t - 1] * MissedIn(s, t) * silent + _vanish[t - 1];
            double both = staying * silent;
            chances[s] = both > 0 ? both / (left + both) : 0;
        }
    }

    /// <summary>Π(1 − p) of a site's silent visits in a season; 1 without a visit.</summary>
    private double MissedIn(int site, int season)
    {
        foreach (int piece in _pieces.Of(site))
        {
            int pattern = _pieces.Pattern[piece], step = _pieces.StepStart[pattern] + season - _pieces.Start[piece];
            if (step >= _pieces.StepStart[pattern + 1])
                continue;
            if (_pieces.Kinds[step] == StepKind.Detected)
                throw new ArgumentException("A site was detected after the season named as the last.", nameof(season));
            double missed = 1;
            for (int v = _pieces.VisitStart[step]; v < _pieces.VisitStart[step + 1]; v++)
                missed *= _q[_pieces.VisitRows[v]];
            return missed;
        }
        return 1;
    }
}
