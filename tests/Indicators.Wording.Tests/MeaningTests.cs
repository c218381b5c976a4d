using System.Globalization;
using System.Text.RegularExpressions;
using Indicators.Analysis.Results;
using Xunit;

namespace Indicators.Wording.Tests;

/// <summary>
/// What sentences mean, in every language, over every kind of result: direction, hedge, numbers, units, singulars. The words
/// looked for are written here a second time, so that a message changed by mistake is found.
/// </summary>
public sealed partial class MeaningTests
{
    /// <summary>The words of one language that carry the meaning.</summary>
    private sealed record Lexicon(
        string Tag, string Down, string Up, string Steady, string Unclear, string Slowly, string Sure, string NotWell, string Springs, string Less, string More,
        string LabelDown, string LabelUp, string LabelSteady, string LabelUnclear, string Fall, string Rise, string SingularsAndPlurals);

    private static readonly Lexicon English = new(
        "en", "less and less|go down", "more and more|go up", "hold steady", "can't tell yet", "slowly", "quite sure", "does not mean all is well", "good and bad springs", "less", "more",
        "Going down", "Going up", "Holding steady", "Can't tell yet", "fall", "rise",
        @"\b1 (surveys|stations|wetlands|seasons|degrees|resamples)\b|(?<![\d,.])(?!1 )\d+ (survey|station|wetland|season|degree|resample)\b");

    private static readonly Lexicon Spanish = new(
        "es", "cada vez menos|bajar poco", "cada vez más|subir poco", "se mantiene estable", "[Aa]ún no sabemos", "poco a poco", "bastante seguros", "no quiere decir que todo esté bien", "primaveras buenas y malas", "menos", "más",
        "A la baja", "En aumento", "Estable", "Aún no se sabe", "baja", "alza",
        @"\b1 (muestreos|estaciones|humedales|temporadas|grados|remuestras)\b|(?<![\d,.])(?!1 )\d+ (muestreo|estación|humedal|temporada|grado|remuestra)\b");

    public static TheoryData<string> Tags => ["en", "es"];

    private static Lexicon Of(string tag) => tag == "en" ? English : Spanish;

    private static List<(TrendTopic Topic, string Text)> Said(string tag, Func<TrendTopic, string> say) =>
        LanguageTests.In(tag, () => TrendSweep.All().Select(topic => (topic, say(topic).Replace('\u00A0', ' '))).ToList());

    private static bool Direction(Trend trend, Direction direction) => trend.Direction == direction && trend.Status is not (TrendStatus.NeverHeard or TrendStatus.OneSeason);

    [Theory]
    [MemberData(nameof(Tags))]
    public void Everybody_is_told_the_direction_of_the_result_and_no_other(string tag)
    {
        var words = Of(tag);
        foreach (var (topic, text) in Said(tag, TrendSentences.Answer))
        {
            Assert.Equal(Direction(topic.Trend, Analysis.Results.Direction.Down), Regex.IsMatch(text, words.Down));
            Assert.Equal(Direction(topic.Trend, Analysis.Results.Direction.Up), Regex.IsMatch(text, words.Up));
            Assert.Equal(Direction(topic.Trend, Analysis.Results.Direction.Steady), Regex.IsMatch(text, words.Steady));
            Assert.Equal(topic.Trend.Slowly, text.Contains(words.Slowly, StringComparison.Ordinal));
            Assert.Contains(topic.Species, text, StringComparison.Ordinal);
            Assert.Contains(topic.Area, text, StringComparison.Ordinal);
        }
    }

    [Theory]
    [MemberData(nameof(Tags))]
    public void Hedge_is_that_of_the_result(string tag)
    {
        var words = Of(tag);
        foreach (var (topic, text) in Said(tag, TrendSentences.Paragraph))
        {
            bool ranged = TrendSentences.HasInterval(topic.Trend), unclear = topic.Trend.Direction == Analysis.Results.Direction.Unclear;
            Assert.Equal(ranged && !unclear, Regex.IsMatch(text, words.Sure));
            Assert.Equal(ranged && unclear, text.Contains(words.NotWell, StringComparison.Ordinal));
            Assert.Equal(ranged && topic.Trend.SeasonSd is not null, text.Contains(words.Springs, StringComparison.Ordinal));
            Assert.Equal(ranged, text.Contains("95 %", StringComparison.Ordinal));
        }
    }

    [Theory]
    [MemberData(nameof(Tags))]
    public void Numbers_are_those_of_the_result_with_their_side_and_unit(string tag)
    {
        var words = Of(tag);
        int read = 0;
        foreach (var (topic, text) in Said(tag, topic => TrendSentences.HasInterval(topic.Trend) ? TrendSentences.Change(topic.Trend) : ""))
        {
            if (topic.Trend.PercentPerSeason is not { } percent || Math.Abs(percent) is < 0.05 or >= 99.5 || text.Length == 0)
                continue;
            var match = Regex.Match(text, $@"^([\d.,]+) % ({words.Less}|{words.More})(?!\p{{L}})");
            Assert.True(match.Success, text);
            string number = match.Groups[1].Value;
            Assert.DoesNotContain(tag == "en" ? ',' : '.', number);
            double said = double.Parse(number.Replace(',', '.'), CultureInfo.InvariantCulture) * (match.Groups[2].Value == words.Less ? -1 : 1);
            Assert.Equal(percent, said, number.IndexOfAny(['.', ',']) >= 0 ? 0.051 : 0.51);
            read++;
        }
        Assert.True(read > 100);
    }

    [Theory]
    [MemberData(nameof(Tags))]
    public void Ranges_name_both_ends_of_the_result(string tag)
    {
        int read = 0;
        foreach (var (topic, text) in Said(tag, topic => TrendSentences.HasInterval(topic.Trend) ? TrendSentences.Range(topic.Trend) : ""))
        {
            var trend = topic.Trend;
            double? lower = trend.SeasonSd is null ? trend.Lower : trend.LowerUnderlying, upper = trend.SeasonSd is null ? trend.Upper : trend.UpperUnderlying;
            if (text.Length == 0 || lower is not { } low || upper is not { } high || Math.Abs(low) is < 0.05 or > 99 || Math.Abs(high) is < 0.05 or > 999)
                continue;
            var numbers = Numbers().Matches(text).Select(match => double.Parse(match.Value.Replace(',', '.'), CultureInfo.InvariantCulture)).ToList();
            double[] ends = [Math.Abs(low), Math.Abs(high)];
            Assert.All(ends, end => Assert.Contains(numbers, number => Math.Abs(number - end) < 0.51));
            Assert.Equal(low < 0 || high < 0, text.Contains(Of(tag).Less, StringComparison.Ordinal));
            Assert.Equal(low > 0 || high > 0, Regex.IsMatch(text, $@"(?<!\p{{L}}){Of(tag).More}(?!\p{{L}})"));
            read++;
        }
        Assert.True(read > 100);
    }

    [Theory]
    [MemberData(nameof(Tags))]
    public void Managers_are_told_the_same_direction_shortly(string tag)
    {
        var words = Of(tag);
        const Evidence Grade = Evidence.WellSupported;
        foreach (var (topic, text) in Said(tag, topic => ManagerSentences.Trend(topic with { Trend = topic.Trend with { ProbabilityOfDecline = 0.03 } }, Grade)))
        {
            string label = topic.Trend.Direction switch
            {
                Analysis.Results.Direction.Down => words.LabelDown,
                Analysis.Results.Direction.Up => words.LabelUp,
                Analysis.Results.Direction.Steady => words.LabelSteady,
                _ => words.LabelUnclear,
            };
            if (topic.Trend.Status != TrendStatus.NeverHeard)
                Assert.StartsWith(label, text, StringComparison.Ordinal);
            Assert.True(text.Length < 190, text);
            if (!TrendSentences.HasInterval(topic.Trend) || topic.Trend.PercentPerSeason is null)
                continue;
            bool up = topic.Trend.Direction == Analysis.Results.Direction.Up;
            Assert.Matches($@"(?<!\p{{L}}){(up ? words.Rise : words.Fall)}: {(up ? 97 : 3)} %", text);
        }
    }

    [Theory]
    [MemberData(nameof(Tags))]
    public void Analysts_are_told_which_interval_on_how_many_degrees_of_freedom(string tag)
    {
        char point = tag == "en" ? '.' : ',';
        foreach (var (topic, text) in Said(tag, AnalystSentences.Trend))
        {
            var trend = topic.Trend;
            Assert.Equal(TrendSentences.HasInterval(trend), Regex.IsMatch(text, $@"t (on|con) {trend.InformativeClusters - 1}(?!\d)"));
            Assert.Equal(TrendSentences.HasInterval(trend) && trend.SeasonSd is not null, Regex.IsMatch(text, "underlying|de fondo"));
            if (trend.PercentPerSeason is { } percent)
                Assert.Contains(Math.Abs(percent).ToString("0.00", CultureInfo.InvariantCulture).Replace('.', point), text, StringComparison.Ordinal);
            Assert.DoesNotMatch(@"[+−]0[.,]00(?!\d)", text);
        }
    }

    [Theory]
    [MemberData(nameof(Tags))]
    public void Sentences_are_whole_their_nouns_agree_and_nothing_is_less_than_nothing(string tag)
    {
        var words = Of(tag);
        const Evidence Grade = Evidence.WellSupported;
        var texts = LanguageTests.In(tag, () => TrendSweep.All()
            .SelectMany(topic => new[]
            {
                $"{TrendSentences.Paragraph(topic)} {TrendSentences.Effort(topic)}", ManagerSentences.Trend(topic, Grade), AnalystSentences.Trend(topic),
            })
            .Concat(ConditionSentencesTests.Sweep().SelectMany(topic => new[]
            {
                $"{ConditionSentences.Answer(topic)} {ConditionSentences.HowSure(topic)}", ManagerSentences.Condition(topic), AnalystSentences.Condition(topic),
            }))
            .Concat(EvidenceSentencesTests.Sweep())
            .Select(text => text.Replace('\u00A0', ' ')).Distinct().ToList());
        Assert.True(texts.Count > 800);
        foreach (string text in texts)
        {
            Assert.DoesNotMatch(@"(?<![\d.,])[-−]?0([.,]0)? %|-\d|NaN|∞|  |\.\.| [.,;]|\{|\}|\(\)|: \.", text);
            Assert.DoesNotMatch(words.SingularsAndPlurals, text);
            Assert.True(char.IsUpper(text[0]) || char.IsDigit(text[0]) || text[0] is '¿' or '«', text);
            Assert.EndsWith(".", text, StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData("en", "Going down: about 4 % less each season (95 % range: 2 to 6 % less). Chance of a fall: more than 99 %. It is well supported.")]
    [InlineData("es", "A la baja: cerca de 4 % menos cada temporada (rango del 95 %: de 2 a 6 % menos). Probabilidad de baja: más de 99 %. Tiene buen apoyo.")]
    public void Manager_sentence_reads_as_the_model(string tag, string model)
    {
        var trend = TrendSweep.Beneath(TrendSweep.Of(-6.2, -4.1, -2.3, Analysis.Results.Direction.Down)) with { ProbabilityOfDecline = 0.9995 };
        var topic = new TrendTopic(trend, "wood frog", "Marl Creek", TrendSweep.Options);
        Assert.Equal(model, LanguageTests.In(tag, () => ManagerSentences.Trend(topic, Evidence.WellSupported)).Replace('\u00A0', ' '));
    }

    [Theory]
    [InlineData("en", "Estimated change in expected calling: −4.10 % per season (Poisson, station effects profiled out). 95 % interval of the underlying direction: −6.20 to −2.30 %, season standard deviation 0.120 on the log scale. 95 % interval of observed change: −5.15 to −3.20 %, 2,000 resamples of 11 wetlands, stretched by t on 10 degrees of freedom. Clusters 12, of which 11 inform the slope; stations 14, silent 3; surveys 412.")]
    [InlineData("es", "Cambio estimado del canto esperado: −4,10 % por temporada (Poisson, con los efectos de estación perfilados). Intervalo del 95 % del rumbo de fondo: −6,20 a −2,30 %, desviación estándar de temporada 0,120 en escala logarítmica. Intervalo del 95 % del cambio observado: −5,15 a −3,20 %, 2000 remuestras de 11 humedales, ampliado por t con 10 grados de libertad. Conglomerados: 12, de los que 11 informan la pendiente; estaciones: 14, en silencio: 3; muestreos: 412.")]
    public void Analyst_sentence_reads_as_the_model(string tag, string model)
    {
        var topic = new TrendTopic(TrendSweep.Beneath(TrendSweep.Of(-6.2, -4.1, -2.3, Analysis.Results.Direction.Down)), "wood frog", "Marl Creek", TrendSweep.Options);
        Assert.Equal(model, LanguageTests.In(tag, () => AnalystSentences.Trend(topic)).Replace('\u00A0', ' '));
    }

    [Theory]
    [MemberData(nameof(Tags))]
    public void Condition_says_the_class_of_the_draws_in_every_register(string tag)
    {
        (string Key, string[] Words)[] classes = tag == "en"
            ? [("good", ["good"]), ("fair", ["fair"]), ("poor", ["poor"])]
            : [("good", ["buena"]), ("fair", ["regular"]), ("poor", ["mala"])];
        foreach (var topic in ConditionSentencesTests.Sweep().Where(topic => topic.Condition is { Score: not null, Lower: not null }))
        {
            var condition = topic.Condition;
            double[] shares = [condition.ProbabilityGood!.Value, condition.ProbabilityFair!.Value, condition.ProbabilityPoor!.Value];
            string answer = LanguageTests.In(tag, () => ConditionSentences.Answer(topic)), manager = LanguageTests.In(tag, () => ManagerSentences.Condition(topic));
            Assert.Contains("63", answer, StringComparison.Ordinal);
            Assert.Contains("55", manager, StringComparison.Ordinal);
            Assert.Contains("71", manager, StringComparison.Ordinal);
            int alone = Array.FindIndex(shares, share => share >= ConditionSentences.ClassAloneFrom);
            for (int place = 0; place < classes.Length; place++)
            {
                string opening = answer.Split(". ")[0];
                bool named = classes[place].Words.Any(word => Regex.IsMatch(opening, $@"(?<!\p{{L}}){word}(?!\p{{L}})"));
                if (alone >= 0)
                    Assert.Equal(place == alone, named);
            }
        }
    }

    [GeneratedRegex(@"\d+(?:[.,]\d+)?")]
    private static partial Regex Numbers();
}
