using Indicators.Statistics.Fits;

namespace Indicators.Analysis.Fits;

/// <summary>The slope of one species without each of its wetlands in turn (stations where the area is one wetland).</summary>
/// <param name="Slopes">
/// One a cluster of the area, natural log scale: the slope itself for clusters without one of its stations, ±∞ or NaN where
/// none is left. Exact up to 100 wetlands, one Newton step beyond.
/// </param>
internal sealed record LeaveOneOut(double[] Slopes)
{
    /// <summary>The slopes, or null without a finite estimate.</summary>
    public static LeaveOneOut? Of(SpeciesFit fit) =>
        fit.Series.Panel is { } panel && fit.Slope.Status == SlopeStatus.Finite ? new LeaveOneOut(TrendFit.DeleteOne(panel, fit.Slope)) : null;

    /// <summary>Whether every one of them is finite.</summary>
    public bool IsFinite => Slopes.All(double.IsFinite);

    /// <summary>Whether they all have the sign of the slope.</summary>
    public bool KeepsSignOf(double slope) => Slopes.All(s => double.IsFinite(s) && Math.Sign(s) == Math.Sign(slope));

    /// <summary>The cluster whose absence moves the change in percent furthest, the first of equals; call it only when they are finite.</summary>
    public int Furthest(double slope)
    {
        int furthest = 0;
        for (int j = 1; j < Slopes.Length; j++)
            if (Moved(j) > Moved(furthest))
                furthest = j;
        return furthest;

        // Percent and log do not agree on which is furthest where one wetland moves it up and another down.
        double Moved(int j) => Math.Abs(double.ExpM1(Slopes[j]) - double.ExpM1(slope));
    }
}
