using System.Globalization;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Statistics.Tests.Reference;
using NodaTime;
using NodaTime.Text;
using Xunit;

namespace Indicators.Analysis.Tests;

/// <summary>
/// The adjusted model from visits as people write them down to trends and effects, against stats::glm on covariates worked out in R
/// (tests/reference/adjusted_engine).
/// </summary>
public class AdjustedEngineTests
{
    private static readonly WatershedCode Whole = Programmes.Code("9901");
    private static readonly ProgrammeData Data = Read();
    private static readonly Lazy<ProgrammeAnalysis> Analysis = new(() => Prepare(Data));

    private static ProgrammeAnalysis Prepare(ProgrammeData data, ResponseKind response = ResponseKind.CallLevel) => ProgrammeAnalysis.Prepare(
        data,
        new ProgrammeSettings { TimeZone = "America/Chicago", Response = new ResponseOptions { Kind = response } },
        new RunOptions { Resamples = 400 });

    private static AreaResult Analyse(ProgrammeAnalysis analysis, WatershedCode area) => analysis.Analyse(area, 2, TestContext.Current.CancellationToken);

    [Fact]
    public void Trends_and_effects_agree_with_glm_on_covariates_worked_out_in_r()
    {
        var results = Analysis.Value.Areas.ToDictionary(area => area.ToString(), area => Analyse(Analysis.Value, area));
        int compared = 0;
        foreach (var row in ReferenceTable.Read("adjusted_engine/expected.csv").Rows)
        {
            var (result, species, quantity) = (results[row["area"]], Programmes.SpeciesId(row["species"]), row["quantity"]);
            double expected = row.Number("value");
            var trend = result.Variants.Single(v => v.Species == species && v.Model == TrendModel.Adjusted);
            var effect = result.Effects.SingleOrDefault(e => e.Species == species && ResultCode.Of(e.Covariate) == row["covariate"]);
            double? found = quantity switch
            {
                "percent_per_season" => trend.PercentPerSeason,
                "surveys" => trend.Surveys,
                "effect" => effect!.Effect,
                "percent_per_unit" => effect!.PercentPerUnit,
                "mean" => effect!.Mean,
                "sd" => effect!.Sd,
                _ => effect!.Missing,
            };
            Assert.NotNull(found);
            // Of the order of 1 at least: an effect near 0 is compared with what a standard deviation does, not with itself.
            Assert.True(Math.Abs(found.Value - expected) <= 1e-8 * Math.Max(1, Math.Abs(expected)), $"{row["area"]} {row["species"]} {row["covariate"]} {quantity}: {found}");
            compared++;
        }
        Assert.Equal(252, compared);
    }

    [Fact]
    public void Effects_and_trend_have_intervals_about_them()
    {
        var result = Analyse(Analysis.Value, Whole);
        Assert.Equal(16, result.Effects.Count);
        Assert.All(result.Effects, e =>
        {
            Assert.Equal(EffectStatus.Estimated, e.Status);
            Assert.True(e.Lower < e.Effect && e.Effect < e.Upper);
            Assert.True(e.PercentLower < e.PercentPerUnit && e.PercentPerUnit < e.PercentUpper);
        });
        Assert.All(result.Variants.Where(v => v.Model == TrendModel.Adjusted), t =>
        {
            Assert.Equal((TrendStatus.Estimated, IntervalKind.ObservedChange, TrendWindow.Whole), (t.Status, t.Interval, t.Window));
            Assert.True(t.Lower < t.PercentPerSeason && t.PercentPerSeason < t.Upper);
            Assert.True(t.LowerUnderlying < t.PercentPerSeason && t.PercentPerSeason < t.UpperUnderlying);
            Assert.True(t.SeasonSd >= 0 && t.ProbabilityOfDecline is >= 0 and <= 1 && t.TotalLower < t.TotalUpper);
        });
    }

    /// <summary>Nothing is written down but calls on one date of years that all have 365 days: no covariate varies, and both models are one.</summary>
    [Fact]
    public void Without_a_covariate_it_is_the_raw_trend_and_springs_carry_over_by_years_not_by_seasons_listened()
    {
        int[] springs = [0, 1, 0, 0, 1, 1, 0, 1, 0, 0];
        var frog = Programmes.Frog("a");
        var surveys = from w in Enumerable.Range(0, 12)
                      from t in Enumerable.Range(0, springs.Length)
                      from v in Enumerable.Range(0, 3)
                      select Programmes.Listen($"{w}-{t}-{v}", $"s{w}", new LocalDate(1986 + 4 * t, 5, 20), ("a", springs[t] + (7 * w + 5 * t + 3 * v + w * t * (v + 1)) % 11 % 3));
        var data = Programmes.Data(Enumerable.Range(0, 12).Select(w => Programmes.Pond($"s{w}", $"w{w}", "990101")), [frog], surveys);
        var analysis = ProgrammeAnalysis.Prepare(data, new ProgrammeSettings(), new RunOptions { Resamples = 1000 });
        var trends = Analyse(analysis, Programmes.Code("990101")).Variants.Where(v => v is { Window: TrendWindow.Whole, Response: ResponseKind.CallLevel }).ToArray();
        var (raw, adjusted) = (trends.Single(v => v.Model == TrendModel.Raw), trends.Single(v => v.Model == TrendModel.Adjusted));
        Assert.True(raw.SeasonSd > 0.2);
        Assert.Equal(raw.PercentPerSeason!.Value, adjusted.PercentPerSeason!.Value, 1e-7);
        // Its season residuals are resampled less often than the raw trend's.
        Assert.InRange((adjusted.UpperUnderlying!.Value - adjusted.LowerUnderlying!.Value) / (raw.UpperUnderlying!.Value - raw.LowerUnderlying!.Value), 0.98, 1.02);
    }

    [Fact]
    public void Adjusted_trend_of_another_response_is_of_that_response()
    {
        var result = Analyse(Prepare(Data, ResponseKind.Heard), Whole);
        var trend = result.Variants.Single(v => v.Model == TrendModel.Adjusted && v.Species == Programmes.SpeciesId("spring"));
        var usual = Analyse(Analysis.Value, Whole).Variants.Single(v => v.Model == TrendModel.Adjusted && v.Species == Programmes.SpeciesId("spring"));
        Assert.Equal(ResponseKind.Heard, trend.Response);
        Assert.Equal(usual.Surveys, trend.Surveys);
        Assert.NotEqual(usual.PercentPerSeason, trend.PercentPerSeason);
    }

    [Fact]
    public void Covariate_that_nobody_wrote_down_or_that_never_varies_is_said_so_and_changes_nothing_else()
    {
        var quiet = Data with { Surveys = [.. Data.Surveys.Select(s => s with { Noise = null, WindBeaufort = s.WindBeaufort is null ? null : 2 })] };
        var effects = Analyse(Prepare(quiet), Whole).Effects.Where(e => e.Species == Programmes.SpeciesId("spring")).ToArray();
        Assert.Equal(EffectStatus.NotRecorded, effects.Single(e => e.Covariate == VisitCovariate.Noise).Status);
        Assert.Null(effects.Single(e => e.Covariate == VisitCovariate.Noise).Mean);
        Assert.Equal(EffectStatus.NotVarying, effects.Single(e => e.Covariate == VisitCovariate.Wind).Status);
        Assert.Equal(2, effects.Single(e => e.Covariate == VisitCovariate.Wind).Mean);
        Assert.Equal(6, effects.Count(e => e.Status == EffectStatus.Estimated));
        Assert.All(effects.Where(e => e.Status != EffectStatus.Estimated), e => Assert.Null(e.Effect));
    }

    [Fact]
    public void Covariate_that_follows_another_is_not_separable()
    {
        var tied = Data with { Surveys = [.. Data.Surveys.Select(s => s with { Noise = s.WindBeaufort?.ToString(CultureInfo.InvariantCulture) })] };
        var effects = Analyse(Prepare(tied), Whole).Effects.Where(e => e.Species == Programmes.SpeciesId("spring")).ToDictionary(e => e.Covariate);
        Assert.Equal(EffectStatus.Estimated, effects[VisitCovariate.Wind].Status);
        Assert.Equal(EffectStatus.NotSeparable, effects[VisitCovariate.Noise].Status);
    }

    [Fact]
    public void Few_visits_with_calls_leave_no_adjusted_trend_and_no_effects()
    {
        var some = Data.Surveys.Where(s => s.Calls.Any(c => c.Species == Programmes.SpeciesId("spring") && c.Level.Value > 0))
            .Where((_, i) => i % 8 != 0).Select(s => s.Id).ToHashSet();
        var sparse = Data with
        {
            Surveys = [.. Data.Surveys.Select(s => some.Contains(s.Id) ? s with { Calls = [.. s.Calls.Where(c => c.Species != Programmes.SpeciesId("spring"))] } : s)],
        };
        var result = Analyse(Prepare(sparse), Whole);
        var trend = result.Variants.Single(v => v.Model == TrendModel.Adjusted && v.Species == Programmes.SpeciesId("spring"));
        Assert.Equal((TrendStatus.TooLittle, IntervalKind.NoEstimate), (trend.Status, trend.Interval));
        Assert.Null(trend.PercentPerSeason);
        Assert.DoesNotContain(result.Effects, e => e.Species == Programmes.SpeciesId("spring"));
        Assert.Contains(result.Variants, v => v.Model == TrendModel.Raw && v.Species == Programmes.SpeciesId("spring") && v.PercentPerSeason is not null);
    }

    [Fact]
    public void Results_are_the_same_on_one_thread_and_on_four()
    {
        var one = Prepare(Data).Analyse(Whole, 1, TestContext.Current.CancellationToken);
        var four = Prepare(Data).Analyse(Whole, 4, TestContext.Current.CancellationToken);
        Assert.Equal(one.Variants, four.Variants);
        Assert.Equal(one.Effects, four.Effects);
        Assert.Equal(one.Smooth, four.Smooth);
        Assert.Equal(one.Changes, four.Changes);
    }

    private static ProgrammeData Read()
    {
        var stations = new Dictionary<string, Station>();
        var surveys = new List<Survey>();
        foreach (var row in ReferenceTable.Read("adjusted_engine/visits.csv").Rows)
        {
            string station = row["station"];
            stations.TryAdd(station, Programmes.Pond(station, row["wetland"], row["watershed"]) with
            {
                Place = GeoPoint.At(row.Number("latitude"), row.Number("longitude")),
                Weight = row.Number("weight"),
            });
            surveys.Add(Programmes.Listen(
                row["survey"], station, LocalDatePattern.Iso.Parse(row["date"]).Value,
                ("spring", (int)row.Number("spring")), ("winter", (int)row.Number("winter"))) with
            {
                StartTime = row["start"].Length == 0 ? null : LocalTimePattern.CreateWithInvariantCulture("HH:mm").Parse(row["start"]).Value,
                AirTempC = row["air_temp"].Length == 0 ? null : row.Number("air_temp"),
                WindBeaufort = row["wind"].Length == 0 ? null : (int)row.Number("wind"),
                Noise = row["noise"].Length == 0 ? null : row["noise"],
                Observer = row["observer"].Length == 0 ? null : row["observer"],
            });
        }
        Species[] species =
        [
            Programmes.Frog("spring", window: new CallingWindow(new AnnualDate(3, 20), new AnnualDate(7, 15))),
            Programmes.Frog("winter", window: new CallingWindow(new AnnualDate(11, 20), new AnnualDate(3, 31))),
        ];
        return Programmes.Data(stations.Values, species, surveys);
    }
}
