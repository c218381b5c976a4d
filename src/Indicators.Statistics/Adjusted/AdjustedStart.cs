namespace Indicators.Statistics.Adjusted;

/// <summary>Where a fit stood: its parameters and which of them were free. Refits of resamples start there.</summary>
public sealed class AdjustedStart
{
    internal AdjustedStart(double[] parameters, bool[] free) => (Parameters, Free) = (parameters, free);

    internal double[] Parameters { get; }

    internal bool[] Free { get; }
}
