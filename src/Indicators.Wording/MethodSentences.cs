using System.Globalization;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>The choices an edition was made with, as a reader of the method looks for them.</summary>
public static class MethodSentences
{
    /// <summary>Each choice's name and value.</summary>
    public static IReadOnlyList<(string Name, string Value)> Choices(EditionManifest manifest)
    {
        var (settings, run) = (manifest.Settings, manifest.Run);
        var (trend, score) = (settings.Trend, settings.Score);
        return
        [
            (Say("method.response"), Response(settings.Response)),
            (Say("method.baseline"), Baseline(settings.Baseline)),
            (Say("method.practical"), Say("method.practicalValue", ("percent", Number(trend.PracticalChangePercent)))),
            (Say("method.confidence"), Phrases.Share(trend.Confidence)),
            (Say("method.least"), Say("method.leastValue", ("wetlands", trend.MinimumClusters), ("seasons", trend.MinimumSeasons))),
            (Say("method.ceiling"), Say("method.ceilingValue", ("from", Phrases.Share(trend.CeilingWarningShare)), ("mute", Phrases.Share(trend.CeilingMuteShare)))),
            (Say("method.floor"), Say("method.floorValue", ("percent", Number(settings.Group.FloorPercent)))),
            (Say("method.callers"), Say("method.callersValue", ("early", Phrases.Day(settings.Group.EarlyMiddleThrough)), ("summer", Phrases.Day(settings.Group.SummerMiddleFrom)))),
            (Say("method.particular"), Say("method.particularValue", ("from", Number(settings.Group.HighConservatismFrom)))),
            (Say("method.weights"), Say(
                "method.weightsValue", ("presence", Number(score.PresenceWeight)), ("sensitivity", Number(score.SensitivityWeight)),
                ("calling", Number(score.CallingWeight)), ("direction", Number(score.DirectionWeight)))),
            (Say("method.classes"), Say("method.classesValue", ("good", Number(score.GoodFrom)), ("fair", Number(score.FairFrom)))),
            (Say("method.window"), Say(
                "method.windowValue", ("seasons", score.WindowSeasons), ("least", score.MinimumSeasons),
                ("wetlands", score.MinimumWetlands), ("expected", score.MinimumExpectedSpecies))),
            (Say("method.protected"), Say("method.protectedValue", ("n", settings.Disclosure.MinimumWetlands))),
            (Say("method.protocol"), settings.Protocol.Name),
            (Say("method.seed"), Say("method.seedValue", ("seed", run.Seed.ToString(CultureInfo.InvariantCulture)), ("resamples", run.Resamples))),
            (Say("method.through"), run.ThroughSeason is { } through ? Phrases.Season(through) : Say("method.throughAll")),
            .. Asked(run),
            (Say("method.engine"), $"{manifest.EngineVersion}, {manifest.Runtime}, {manifest.Processor}"),
            (Say("method.hash"), manifest.InputsSha256),
        ];
    }

    /// <summary>What a survey counts in every sum, inside a sentence.</summary>
    public static string Response(ResponseOptions response)
    {
        var (one, two, three) = response.Of(response.Kind);
        return Say("method.responseValue", ("kind", Code(response.Kind)), ("one", Number(one)), ("two", Number(two)), ("three", Number(three)));
    }

    private static string Code(ResponseKind kind) => kind switch
    {
        ResponseKind.Heard => "heard",
        ResponseKind.FullChorus => "fullChorus",
        ResponseKind.Weighted => "weighted",
        _ => "callLevel",
    };

    /// <summary>The window that the run asked for; none where it asked for none.</summary>
    private static IEnumerable<(string Name, string Value)> Asked(RunOptions run)
    {
        string? seasons = (run.WindowFrom, run.WindowTo) switch
        {
            ({ } from, { } to) => Phrases.Seasons(from, to),
            ({ } from, null) => Say("method.askedFrom", ("from", Phrases.Season(from))),
            (null, { } to) => Say("method.askedTo", ("to", Phrases.Season(to))),
            _ => null,
        };
        return seasons is null ? [] : [(Say("method.asked"), seasons)];
    }

    private static string Baseline(BaselineOptions baseline)
    {
        string seasons = Phrases.Capital(ConditionSentences.Baseline(baseline));
        return baseline.Seasons is null ? Say("method.baselineWithListening", ("baseline", seasons)) : seasons;
    }

    private static string Number(double value) => Phrases.Number(value, "0.###");
}
