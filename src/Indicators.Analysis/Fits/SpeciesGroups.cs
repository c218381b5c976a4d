using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using NodaTime;

namespace Indicators.Analysis.Fits;

/// <summary>Which species make which group, by their own calling window and coefficient. The rules are ours.</summary>
internal static class SpeciesGroups
{
    /// <summary>A group of fewer is no group: of one, it would be that species under another name.</summary>
    public const int FewestSpecies = 2;

    /// <summary>A window with its middle from this month on belongs before the coming spring, not after the past summer.</summary>
    private const int FirstMonthOfWinter = 10;

    /// <summary>The groups of at least two species, in the order of <see cref="SpeciesGroup"/>; all species always, however few.</summary>
    /// <param name="species">All species, in the cell table's order.</param>
    /// <param name="candidates">Which of them may be told, as indices, ascending.</param>
    /// <param name="options">The limits.</param>
    public static IEnumerable<(SpeciesGroup Group, int[] Species)> Of(IReadOnlyList<Species> species, int[] candidates, GroupOptions options)
    {
        foreach (var group in Enum.GetValues<SpeciesGroup>())
        {
            int[] members = [.. candidates.Where(k => Belongs(species[k], group, options))];
            if (IsOne(group, members.Length))
                yield return (group, members);
        }
    }

    /// <summary>Whether so many species make a group; all species always do, however few.</summary>
    public static bool IsOne(SpeciesGroup group, int species) => group == SpeciesGroup.All || species >= FewestSpecies;

    private static bool Belongs(Species one, SpeciesGroup group, GroupOptions options) => group switch
    {
        SpeciesGroup.EarlySeason => IsEarly(Middle(one.Window), options),
        SpeciesGroup.Summer => !IsEarly(Middle(one.Window), options) && Middle(one.Window).CompareTo(options.SummerMiddleFrom) >= 0,
        SpeciesGroup.HighConservatism => one.Conservatism.Value >= options.HighConservatismFrom,
        _ => true,
    };

    private static bool IsEarly(AnnualDate middle, GroupOptions options) =>
        middle.Month >= FirstMonthOfWinter || middle.CompareTo(options.EarlyMiddleThrough) <= 0;

    /// <summary>The day halfway through a window, the earlier of two, in a year that is not a leap year.</summary>
    internal static AnnualDate Middle(CallingWindow window)
    {
        const int CommonYear = 2001;
        var first = window.First.InYear(CommonYear);
        var last = window.Last.InYear(window.Wraps ? CommonYear + 1 : CommonYear);
        var middle = first.PlusDays(Period.DaysBetween(first, last) / 2);
        return new AnnualDate(middle.Month, middle.Day);
    }
}
