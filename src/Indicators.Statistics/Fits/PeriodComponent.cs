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
    /// <param name="reach">Scratch, one a period.</param>
    /// <param name="linked">The periods of the reference component; 0 when the reference periods are silent or not comparable.</param>
    /// <param name="zero">The periods forced to zero.</param>
    public static void Find(Resample sample, UInt128 reference, Span<UInt128> reach, out UInt128 linked, out UInt128 zero)
    {
        // A unit ties all periods it has counts in to each other. Mostly these ties alone join every period with counts,
        // and what is left are silent periods, which some unit with counts elsewhere was there to hear.
        if (CountsHangTogether(sample))
        {
            UInt128 silent = sample.Surveyed & ~sample.Heard;
            bool comparable = (reference & sample.Heard) != 0 && (reference & ~(sample.Heard | silent)) == 0;
            (linked, zero) = comparable ? (sample.Heard, silent) : (0, 0);
            return;
        }
        Reach(sample, reach);
        (linked, zero) = (0, 0);
        for (int t = 0; t < reach.Length; t++)
        {
            UInt128 self = UInt128.One << t;
            // A reference period heads the component when it has counts and every other reference period is reached from it.
            if ((reference & self) == 0 || (sample.Heard & self) == 0 || (reference & ~(reach[t] | self)) != 0)
                continue;
            UInt128 component = self, below = 0;
            for (int u = 0; u < reach.Length; u++)
            {
                UInt128 other = UInt128.One << u;
                if (u == t || (reach[t] & other) == 0)
                    continue;
                if ((reach[u] & self) != 0) component |= other;
                else below |= other;
            }
            (linked, zero) = (component, below);
            return;
        }
    }

    private static bool CountsHangTogether(Resample sample)
    {
        UInt128[] heard = sample.Panel.Heard;
        if (sample.ActiveCount == 0)
            return true;
        UInt128 joined = heard[sample.Active[0]];
        for (UInt128 before = 0; before != joined;)
        {
            before = joined;
            foreach (int s in sample.Active)
            {
                if ((joined & heard[s]) == 0)
                    continue;
                joined |= heard[s];
                if (joined == sample.Heard)
                    return true;
            }
        }
        return joined == sample.Heard;
    }

    /// <summary>Which periods each period reaches along the arrows.</summary>
    private static void Reach(Resample sample, Span<UInt128> reach)
    {
        reach.Clear();
        foreach (int s in sample.Active)
        {
            UInt128 surveyed = sample.Panel.Surveyed[s];
            for (UInt128 heard = sample.Panel.Heard[s]; heard != 0; heard &= heard - 1)
                reach[(int)UInt128.TrailingZeroCount(heard)] |= surveyed;
        }
        for (int via = 0; via < reach.Length; via++)
        {
            UInt128 bit = UInt128.One << via;
            for (int t = 0; t < reach.Length; t++)
                if ((reach[t] & bit) != 0)
                    reach[t] |= reach[via];
        }
    }
}
