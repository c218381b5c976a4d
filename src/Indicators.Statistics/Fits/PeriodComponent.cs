using Indicators.Statistics.Panels;

namespace Indicators.Statistics.Fits;

/// <summary>How a period's effect stands to the reference periods'.</summary>
public enum PeriodStatus
{
    /// <summary>Finite and estimable.</summary>
    Linked,

    /// <summary>Forced below every linked period: the effect is minus infinity, the index 0.</summary>
    ForcedToZero,

    /// <summary>No comparison exists, or the effect is forced above: no index.</summary>
    NotLinked,
}

/// <summary>Which period effects exist in one resample.</summary>
/// <remarks>
/// Draw an arrow from t to u when some unit has counts in t and exposure in u. Effects are finite relative to each other
/// within strongly connected components only (Ford 1957; Correia, Guimarães and Zylkin 2019). What the reference
/// component reaches without being reached back is forced to zero; the rest cannot be compared with it.
/// </remarks>
internal static class PeriodComponent
{
    /// <summary>Finds the component that carries the reference periods.</summary>
    /// <param name="sample">The resample.</param>
    /// <param name="reference">The reference periods as bits.</param>
    /// <param name="reach">Scratch, one a period; afterwards what each period reaches.</param>
    /// <param name="linked">The periods of the reference component; 0 when the reference periods are silent or not comparable.</param>
    /// <param name="zero">The periods forced to zero.</param>
    public static void Find(Resample sample, UInt128 reference, Span<UInt128> reach, out UInt128 linked, out UInt128 zero)
    {
        int periods = sample.Panel.Periods;
        UInt128 all = PeriodMask.First(periods);
        bool complete = true;
        for (int t = 0; t < periods; t++)
        {
            reach[t] = sample.Links[t];
            complete &= reach[t] == all;
        }
        if (complete)
        {
            (linked, zero) = (all, 0);
            return;
        }

        for (int via = 0; via < periods; via++)
            for (int t = 0; t < periods; t++)
                if ((reach[t] >> via & 1) != 0)
                    reach[t] |= reach[via];

        (linked, zero) = (0, 0);
        for (int t = 0; t < periods; t++)
        {
            // A reference period heads the component when it has counts and every other reference period is reached from it.
            if ((reference >> t & 1) == 0 || sample.Links[t] == 0 || (reference & ~(reach[t] | UInt128.One << t)) != 0)
                continue;
            UInt128 component = UInt128.One << t, below = 0;
            for (int u = 0; u < periods; u++)
            {
                if (u == t || (reach[t] >> u & 1) == 0)
                    continue;
                if ((reach[u] >> t & 1) != 0) component |= UInt128.One << u;
                else below |= UInt128.One << u;
            }
            (linked, zero) = (component, below);
            return;
        }
    }
}
