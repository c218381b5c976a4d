using System.Xml.Linq;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Wording;

namespace Indicators.Web.Charts;

/// <summary>A score on a plain line from 0 to 100: its interval, its place, and where the classes meet, in words.</summary>
internal static class ScoreStrip
{
    private const int Width = 330, Height = 66, Left = 14, Axis = 30;
    private const double Reach = Width - 2 * Left;

    public static XElement Draw(Condition condition, ScoreOptions options, string label)
    {
        double score = condition.Score!.Value, lower = condition.Lower!.Value, upper = condition.Upper!.Value;
        return Svg.Picture(
            Width, Height, "strip", label,
            Svg.Line("strip-axis", X(0), Axis, X(100), Axis),
            new[] { 0, options.FairFrom, options.GoodFrom, 100 }.Select(limit => Svg.Line("strip-limit", X(limit), Axis - 7, X(limit), Axis + 7)),
            Svg.Line("strip-range", X(lower), Axis, X(upper), Axis),
            Svg.Circle("strip-score", X(score), Axis, 6),
            Svg.Text("strip-value", X(score), Axis - 13, "middle", Phrases.Number(score, "0")),
            Svg.Text("tick", X(options.FairFrom / 2), Axis + 24, "middle", ConditionSentences.ClassName(ConditionClass.Poor)),
            Svg.Text("tick", X((options.FairFrom + options.GoodFrom) / 2), Axis + 24, "middle", ConditionSentences.ClassName(ConditionClass.Fair)),
            Svg.Text("tick", X((options.GoodFrom + 100) / 2), Axis + 24, "middle", ConditionSentences.ClassName(ConditionClass.Good)));
    }

    private static double X(double points) => Left + (Reach * points / 100);
}
