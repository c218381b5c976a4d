using System.Globalization;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Xunit;

namespace Indicators.Wording.Tests;

/// <summary>Every sentence for the public, from a systematic sweep of results, reads at US grade 8 or below, and in Spanish no harder.</summary>
public sealed class PublicRegisterTests
{
    private const double Grade = 8;

    /// <summary>Below this Fernández Huerta's table goes beyond the 8th grade.</summary>
    private const double EighthGradeEase = 60;

    private static IEnumerable<string> Paragraphs()
    {
        foreach (var topic in TrendSweep.All())
        {
            yield return TrendSentences.Paragraph(topic);
            yield return TrendSentences.Effort(topic);
        }
        foreach (var topic in ConditionSentencesTests.Sweep())
        {
            yield return ConditionSentences.Answer(topic);
            yield return ConditionSentences.HowSure(topic);
            yield return ConditionSentences.ExpectedList(topic);
        }
        foreach (string text in EvidenceSentencesTests.Sweep())
            yield return text;
        foreach (ScorePart part in Enum.GetValues<ScorePart>())
            yield return ConditionSentences.PartMeaning(part);
        var trends = TrendSweep.All().Select(topic => topic.Trend).ToList();
        yield return OverviewSentences.SpeciesDirections(trends, "Marl Creek");
        yield return OverviewSentences.AreaDirections(trends, "spring peeper");
        yield return OverviewSentences.SpeciesDirections([], "Marl Creek");
        yield return OverviewSentences.AreaDirections([], "spring peeper");
        yield return OverviewSentences.Chance(trends, TrendSweep.Options);
        yield return OverviewSentences.Chance([], TrendSweep.Options);
        var beneath = trends.Select(TrendSweep.Beneath).ToList();
        yield return OverviewSentences.SpeciesDirections(beneath, "Marl Creek");
        yield return OverviewSentences.AreaDirections(beneath, "spring peeper");
        yield return OverviewSentences.DirectionMeaning(trends);
        yield return OverviewSentences.DirectionMeaning(beneath);
        yield return OverviewSentences.CallingNotCounting;
        yield return OverviewSentences.NeedsALook;
        yield return OverviewSentences.MapLegend(2026);
        yield return OverviewSentences.ClassMeaning(new ProgrammeSettings());
        yield return OverviewSentences.ConditionCaption(2026, new BaselineOptions());
        yield return OverviewSentences.SpeciesListed(10);
        foreach (int n in new[] { 1, 2, 1234 })
        {
            yield return EffortSentences.OfProgramme(new EditionCounts(n, n, n, n, n, 2012, 2026));
            yield return EffortSentences.OfArea(new Area { Code = TrendSweep.Of(0, 0, 0, Direction.Unclear).Area, Surveys = n, Stations = n, Wetlands = n, FirstSeason = 2012, LastSeason = 2026 });
            foreach (var kind in Enum.GetValues<EditionWarningKind>())
                yield return EditionSentences.Warning(new EditionWarning(kind, n));
        }
        yield return EditionSentences.NothingPublished;
        yield return EditionSentences.NotFound;
        yield return EditionSentences.Failed;
        yield return EditionSentences.Unreadable;
        yield return IndexSentences.Legend(TrendSweep.Options);
        yield return IndexSentences.Clipped;
        yield return IndexSentences.DotsOnly;
        yield return IndexSentences.NoGroup(anyHeard: true);
        yield return IndexSentences.NoGroup(anyHeard: false);
        yield return ConditionSentences.HowToHelp;
        yield return OverviewSentences.More(1);
        yield return Cautions.First;
        yield return IndexSentences.NoIndex([]);
        var point = new GroupIndexPoint { Area = TrendSweep.Of(0, 0, 0, Direction.Unclear).Area, Season = 2026, Index = 87.2, Lower = 75, Upper = 99, Species = 8 };
        yield return IndexSentences.Together([point], TrendSweep.Options)!;
        var species = new Species
        {
            Id = Id<Species>.Parse("BLFR").Value, ScientificName = "Acris blanchardi", CommonName = "Blanchard's cricket frog", Protected = true,
            Window = new CallingWindow(CallingWindow.ParseDay("05-15").Value, CallingWindow.ParseDay("07-31").Value),
            Conservatism = Conservatism.Parse("7").Value,
        };
        yield return SpeciesSentences.Window(species);
        yield return SpeciesSentences.KeptBack(species, new DisclosureOptions())!;
        foreach (var caution in Cautions.All)
            yield return caution.Advice;
    }

    [Fact]
    public void Sentence_reads_at_grade_eight_or_below()
    {
        var sentences = Paragraphs().SelectMany(Readability.Sentences).Distinct().ToList();
        Assert.True(sentences.Count > 200, $"The sweep makes {sentences.Count} different sentences.");
        var hard = sentences.Select(text => (Grade: Readability.Grade(text), Text: text)).Where(each => each.Grade > Grade)
            .OrderByDescending(each => each.Grade).ToList();
        Assert.True(hard.Count == 0, $"{hard.Count} of {sentences.Count}:\n" + string.Join('\n', hard.Take(60).Select(each => FormattableString.Invariant($"{each.Grade:0.0} {each.Text}"))));
        double mean = sentences.Average(Readability.Grade);
        TestContext.Current.SendDiagnosticMessage(string.Create(CultureInfo.InvariantCulture, $"{sentences.Count} sentences, mean grade {mean:0.0}, highest {sentences.Max(Readability.Grade):0.0}"));
    }

    [Fact]
    public void Spanish_text_reads_at_eighth_grade_or_below()
    {
        var texts = LanguageTests.In("es", () => Paragraphs().Distinct().ToList());
        var eases = texts.Select(text => (Ease: SpanishReadability.Ease(text), Text: text)).OrderBy(each => each.Ease).ToList();
        var hard = eases.Where(each => each.Ease < EighthGradeEase).ToList();
        Assert.True(hard.Count == 0, $"{hard.Count} of {texts.Count}, mean {eases.Average(each => each.Ease):0.0}:\n" + string.Join('\n', hard.Take(60).Select(each => FormattableString.Invariant($"{each.Ease:0.0} {each.Text}"))));
    }

    [Fact]
    public void Sentences_do_not_depend_on_the_machines_culture()
    {
        var before = Paragraphs().ToList();
        var culture = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = new CultureInfo("de-DE");
            Assert.Equal(before, Paragraphs().ToList());
        }
        finally
        {
            CultureInfo.CurrentCulture = culture;
        }
    }
}
