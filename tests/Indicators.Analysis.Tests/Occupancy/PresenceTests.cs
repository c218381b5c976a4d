using Indicators.Analysis.Occupancy;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Xunit;

namespace Indicators.Analysis.Tests.Occupancy;

/// <summary>What the score makes of an expected species that was not heard in its window.</summary>
public class PresenceTests
{
    private static readonly OccupancyWorld World = new(16, 14, 0.5, 0, 0.25, [0.25, 0.35, 0.3]) { Companions = 3, Species = 6, FromNeighbours = 0.1 };

    /// <summary>Species as rare as these would get no score by default.</summary>
    private static readonly ProgrammeSettings RareToo = new() { Group = new GroupOptions { MaximumBiasShare = 1000 } };

    private static IReadOnlyList<Condition> Conditions(ProgrammeData data, int resamples = 40) =>
        ProgrammeAnalysis.Prepare(data, RareToo, new RunOptions { Resamples = resamples })
            .Analyse(OccupancyWorld.Area, 1, TestContext.Current.CancellationToken).Conditions;

    private static double Chance(Condition condition, int species) =>
        1 + condition.Lines.Single(l => l.Part == ScorePart.Presence && l.Species == OccupancyWorld.Focal(species)).Points * condition.Expected / 30;

    private static bool Heard(ProgrammeData data, int species, int from, int to) =>
        data.Surveys.Any(s => s.Date.Year >= from && s.Date.Year <= to && s.Calls.Any(c => c.Species == OccupancyWorld.Focal(species)));

    [Fact]
    public void Heard_counts_1_never_heard_0_and_silent_since_something_between_that_fades()
    {
        int between = 0, faded = 0;
        for (uint key = 0; key < 12; key++)
        {
            var data = World.Draw(key).Data;
            // One species that is expected and never heard at all.
            data = data with { Surveys = [.. data.Surveys.Select(s => s with { Calls = [.. s.Calls.Where(c => c.Species != OccupancyWorld.Focal(5))] })] };
            var conditions = Conditions(data).Where(c => c.Score is not null).ToArray();
            for (int k = 0; k < World.Species; k++)
            {
                for (int i = 0; i < conditions.Length; i++)
                {
                    int season = conditions[i].Season;
                    double chance = Chance(conditions[i], k);
                    if (Heard(data, k, season - 2, season))
                        Assert.Equal(1, chance, 1e-12);
                    else if (!Heard(data, k, 0, season))
                        Assert.Equal(0, chance, 1e-12);
                    else
                    {
                        Assert.InRange(chance, -1e-12, 1);
                        between += chance is > 0.01 and < 0.99 ? 1 : 0;
                        // With another silent season the window moves on: it must have stayed a season longer.
                        if (i > 0 && !Heard(data, k, season - 3, season))
                        {
                            Assert.True(chance <= Chance(conditions[i - 1], k) + 1e-9);
                            faded++;
                        }
                    }
                }
            }
        }
        Assert.True(between > 20 && faded > 20, $"{between} between, {faded} faded");
    }

    [Fact]
    public void Lines_add_up_and_raw_parts_are_those_of_species_heard()
    {
        int above = 0;
        for (uint key = 0; key < 6; key++)
        {
            Condition? before = null;
            foreach (var condition in Conditions(World.Draw(key).Data))
            {
                if (condition.Score is { } score)
                {
                    Assert.Equal(score - 100, condition.Lines.Sum(l => l.Points), 1e-9);
                    Assert.Equal(100.0 * condition.Heard / condition.Expected, condition.PresenceRawPart!.Value, 1e-9);
                    // Every coefficient is 5 here, so sensitivity and presence are one.
                    Assert.Equal(condition.PresenceRawPart.Value, condition.SensitivityRawPart!.Value, 1e-9);
                    Assert.Equal(condition.PresencePart!.Value, condition.SensitivityPart!.Value, 1e-9);
                    Assert.True(condition.PresencePart >= condition.PresenceRawPart - 1e-9);
                    above += condition.PresencePart > condition.PresenceRawPart + 0.5 ? 1 : 0;
                    if (before?.Score is { } earlier)
                        Assert.Equal(score - earlier, condition.Lines.Sum(l => l.Change!.Value), 1e-9);
                }
                before = condition;
            }
        }
        Assert.True(above > 5, $"{above} above the raw part");
    }

    [Fact]
    public void Later_surveys_do_not_count_but_by_the_rates()
    {
        // Silence after the season scored must not lower that season's chance as silence before it does: the rates hardly move.
        var data = World.Draw(3).Data;
        var whole = Conditions(data).Single(c => c.Season == OccupancyWorld.FirstSeason + 9);
        var cut = Conditions(data with { Surveys = [.. data.Surveys.Where(s => s.Date.Year <= OccupancyWorld.FirstSeason + 9)] }).Single(c => c.Season == OccupancyWorld.FirstSeason + 9);
        for (int k = 0; k < World.Species; k++)
            Assert.Equal(Chance(cut, k), Chance(whole, k), 0.15);
    }

    [Fact]
    public void Thin_data_count_as_absent()
    {
        // Nine wetlands are too few for a model; the same ones with a lower minimum say something.
        var data = (World with { Wetlands = 9 }).Draw(1).Data;
        Assert.All(Conditions(data).Where(c => c.Score is not null), c => Assert.Equal(c.PresenceRawPart!.Value, c.PresencePart!.Value, 1e-9));
    }

    [Theory]
    [InlineData(0.1)]
    [InlineData(0.5)]
    [InlineData(0.93)]
    public void Share_of_draws_with_the_species_is_its_chance(double chance)
    {
        const int Draws = 40_000;
        var key = new DrawKey(7, 99 | 2UL << 44);
        int there = Enumerable.Range(0, Draws).Count(b => key.IsPresent(3, b, chance));
        Assert.Equal(chance, there / (double)Draws, 4 * Math.Sqrt(chance * (1 - chance) / Draws));
    }
}
