using System.Globalization;
using Indicators.Analysis.Results;
using NodaTime;
using NodaTime.Text;

namespace Indicators.Wording;

/// <summary>The choices an edition was made with, as a reader of the method looks for them.</summary>
public static class MethodSentences
{
    private static readonly AnnualDatePattern DayOfYear = AnnualDatePattern.CreateWithInvariantCulture("d MMMM");

    /// <summary>Each choice's name and value.</summary>
    public static IReadOnlyList<(string Name, string Value)> Choices(EditionManifest manifest)
    {
        var (settings, run) = (manifest.Settings, manifest.Run);
        var (trend, score) = (settings.Trend, settings.Score);
        return
        [
            ("Baseline", Phrases.Capital(ConditionSentences.Baseline(settings.Baseline)) + (settings.Baseline.Seasons is null ? " with listening" : "")),
            ("Practical change", $"{Number(trend.PracticalChangePercent)}{Phrases.HardSpace}% each season"),
            ("Confidence of ranges", Phrases.Share(trend.Confidence)),
            ("Least wetlands and seasons for a range", $"{Phrases.Count(trend.MinimumClusters)} wetlands, {Phrases.Count(trend.MinimumSeasons)} seasons"),
            ("Full-chorus warning from", $"{Phrases.Share(trend.CeilingWarningShare)} of surveys; never called steady above {Phrases.Share(trend.CeilingMuteShare)}"),
            ("Smallest index inside the group index", $"{Number(settings.Group.FloorPercent)}{Phrases.HardSpace}% of baseline"),
            ("Early callers", $"middle of the calling window by {Day(settings.Group.EarlyMiddleThrough)}; summer callers from {Day(settings.Group.SummerMiddleFrom)}"),
            ("Particular species", $"coefficient of conservatism {Number(settings.Group.HighConservatismFrom)} or more"),
            ("Weights of the score", $"presence {Number(score.PresenceWeight)}, sensitivity {Number(score.SensitivityWeight)}, calling {Number(score.CallingWeight)}, direction {Number(score.DirectionWeight)}"),
            ("Class limits", $"good from {Number(score.GoodFrom)}, fair from {Number(score.FairFrom)}"),
            ("Window of the score", $"{Phrases.Count(score.WindowSeasons)} seasons, {Phrases.Count(score.MinimumSeasons)} of them with surveys, {Phrases.Count(score.MinimumWetlands)} wetlands, {Phrases.Count(score.MinimumExpectedSpecies)} expected species at the least"),
            ("Protected species shown from", $"{Phrases.Count(settings.Disclosure.MinimumWetlands)} surveyed wetlands"),
            ("Survey protocol", settings.Protocol.Name),
            ("Seed and resamples", $"{run.Seed.ToString(CultureInfo.InvariantCulture)}, {Phrases.Count(run.Resamples)}"),
            ("Last season used", run.ThroughSeason is { } through ? Phrases.Season(through) : "all"),
            ("Engine", $"{manifest.EngineVersion}, {manifest.Runtime}, {manifest.Processor}"),
            ("SHA-256 of the inputs", manifest.InputsSha256),
        ];
    }

    private static string Day(AnnualDate day) => DayOfYear.Format(day);

    private static string Number(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);
}
