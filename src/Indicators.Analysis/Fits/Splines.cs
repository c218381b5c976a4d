using Indicators.Statistics.Smooth;

namespace Indicators.Analysis.Fits;

/// <summary>The splines of an area's species, made once for all that were surveyed in the same seasons.</summary>
internal sealed class Splines
{
    private readonly List<NaturalSpline> _made = [];

    /// <summary>The splines with these knots.</summary>
    public NaturalSpline Over(double[] times)
    {
        lock (_made)
        {
            foreach (var one in _made)
                if (one.Times.SequenceEqual(times)) return one;
            var made = new NaturalSpline(times);
            _made.Add(made);
            return made;
        }
    }
}
