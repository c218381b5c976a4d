using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Statistics.Intervals;
using Indicators.Statistics.Resampling;
using Indicators.Statistics.Tests.Reference;
using NodaTime;
using NodaTime.Text;
using Xunit;

namespace Indicators.Analysis.Tests.Changes;

/// <summary>What the listening changed and what was heard, against a script that knows nothing of the engine (tests/reference/change).</summary>
public class CallingChangeTests
{
    private const int Resamples = 500;
    private static readonly ProgrammeSettings Settings = new()
    {
        Protocol = new Protocol { Name = "invented", MinimumMinutes = new(5, "invented"), MaximumWindBeaufort = new(3, "invented") },
    };

    private static readonly Lazy<ProgrammeAnalysis> Analysis = new(() => ProgrammeAnalysis.Prepare(Read(), Settings, new RunOptions { Resamples = Resamples }));

    private static AreaResult Analyse(string area) => Analysis.Value.Analyse(Programmes.Code(area), 2, TestContext.Current.CancellationToken);

    [Fact]
    public void Changes_and_their_steps_agree_with_the_script()
    {
        var results = new[] { "9901", "99010101", "99010102" }.ToDictionary(area => area, area => Analyse(area).CallingChanges);
        int compared = 0;
        var reached = new HashSet<string>();
        foreach (var group in ReferenceTable.Read("change/expected.csv").Rows.GroupBy(row => (Area: row["area"], Species: row["species"], Since: row["since"])))
        {
            var change = results[group.Key.Area].Single(c => c.Species == Programmes.SpeciesId(group.Key.Species) && ResultCode.Of(c.Since) == group.Key.Since);
            var expected = group.ToDictionary(row => row["quantity"]);
            Assert.Equal(expected["stop"]["value"], ResultCode.Of(change.Stop));
            Assert.Equal(expected["stopped_at"]["value"], change.StoppedAt is { } step ? ResultCode.Of(step) : "");
            reached.Add(expected["stop"]["value"]);
            (string Name, double? Value)[] quantities =
            [
                ("surveys_before", change.SurveysBefore), ("surveys_now", change.SurveysNow), ("mean_before", change.MeanBefore), ("mean_now", change.MeanNow),
                ("total", change.Total), ("stations", change.Stations), ("visits", change.Visits), ("windows", change.Windows), ("observers", change.Observers),
                ("method", change.Method), ("heard", change.Heard), ("shared_wetlands", change.SharedWetlands), ("shared_surveys", change.SharedSurveys),
            ];
            foreach (var (name, value) in quantities)
            {
                Assert.Equal(expected.ContainsKey(name), value is not null);
                if (value is not { } found)
                    continue;
                Assert.True(Math.Abs(found - expected[name].Number("value")) <= 1e-12, $"{group.Key} {name}: {found}");
                compared++;
            }
        }
        Assert.Equal(ReferenceTable.Read("change/expected.csv").Rows.Count() - 2 * results.Sum(each => each.Value.Count), compared);
        Assert.Equal(12, results.Sum(each => each.Value.Count));
        Assert.True(reached.Count >= 4, string.Join(' ', reached));
    }

    [Fact]
    public void Parts_add_up_to_the_whole_change_with_no_remainder()
    {
        var told = new[] { "9901", "99010101", "99010102" }.SelectMany(area => Analyse(area).CallingChanges).Where(change => change.Total is not null).ToList();
        Assert.True(told.Count >= 10, $"{told.Count}");
        Assert.All(told, change =>
        {
            Assert.Equal(Math.Log(change.MeanNow / change.MeanBefore), change.Total!.Value, 1e-14);
            Assert.Equal(change.Total.Value, Enum.GetValues<ListeningStep>().Sum(step => change.Of(step) ?? 0) + change.Heard!.Value, 1e-14);
        });
    }

    [Fact]
    public void Intervals_are_the_stretched_quantiles_of_the_areas_own_resamples()
    {
        // By hand from the visits: all surveys of the area, clusters drawn by the area's plan.
        var change = Analyse("9901").CallingChanges.Single(c => c.Species == Programmes.SpeciesId("spring") && c.Since == ChangeSince.PreviousSeason);
        var window = new CallingWindow(new AnnualDate(3, 20), new AnnualDate(7, 15));
        var visits = Rows().Select(row => (Wetland: row["wetland"], Date: LocalDatePattern.Iso.Parse(row["date"]).Value, Weight: row.Number("weight"), Level: row.Number("spring")))
            .Where(visit => window.Contains(visit.Date)).ToList();
        var wetlands = Rows().Select(row => row["wetland"]).Distinct().Order(StringComparer.Ordinal).ToList();
        // Digits of the code, and above them how many there are: the stream of the area.
        var plan = new ResamplingPlan(1, 9901 | 4UL << 44, wetlands.Count);
        var drawn = new int[wetlands.Count];
        var logs = new double[Resamples];
        for (int b = 0; b < Resamples; b++)
        {
            // 9901 has the stations of 990101, which stands for both.
            new ResamplingPlan(1, 990101 | 6UL << 44, wetlands.Count).Draw(b, drawn);
            double Mean(int season)
            {
                var those = visits.Where(visit => visit.Date.Year == season).ToList();
                return those.Sum(v => drawn[wetlands.IndexOf(v.Wetland)] * v.Weight * v.Level) / those.Sum(v => drawn[wetlands.IndexOf(v.Wetland)] * v.Weight);
            }
            logs[b] = Math.Log(Mean(change.Season) / Mean(change.FromFirst));
        }
        Array.Sort(logs);
        var ends = BootstrapInterval.Percentile(logs, 0.95);
        double factor = BootstrapInterval.Stretch(wetlands.Count, 0.95);
        Assert.Equal(BootstrapInterval.Stretched(change.Total!.Value, ends.Lower, factor), change.TotalLower!.Value, 5e-3);
        Assert.Equal(BootstrapInterval.Stretched(change.Total.Value, ends.Upper, factor), change.TotalUpper!.Value, 5e-3);
        // Where more than 2.5 % of the resamples hold no calls before, there is no upper end.
        Assert.True(change.HeardLower < change.Heard && !(change.HeardUpper <= change.Heard));
        Assert.Equal(wetlands.Count, plan.Clusters);
    }

    [Theory]
    [InlineData(2, ChangeStop.FewObservers)]
    [InlineData(3, ChangeStop.None)]
    public void Nothing_is_told_of_the_observers_where_fewer_than_three_listened_at_both_times(int people, ChangeStop stop)
    {
        // Six ponds, one survey a season by whoever keeps them; two guests listened in the first season only.
        var surveys = new List<Survey>();
        for (int pond = 0; pond < 6; pond++)
        {
            for (int season = 2019; season <= 2020; season++)
                surveys.Add(Programmes.Listen($"{pond}-{season}", $"s{pond}", new LocalDate(season, 5, 3), ("frog", 2)) with { Observer = $"keeper {pond % people}", Minutes = 5 });
        }
        surveys.Add(Programmes.Listen("first", "s0", new LocalDate(2019, 5, 4), ("frog", 1)) with { Observer = "guest", Minutes = 5 });
        surveys.Add(Programmes.Listen("second", "s1", new LocalDate(2019, 5, 4), ("frog", 1)) with { Observer = "another guest", Minutes = 5 });
        var data = Programmes.Data([.. Enumerable.Range(0, 6).Select(pond => Programmes.Pond($"s{pond}", $"w{pond}", "99"))], [Programmes.Frog("frog")], surveys);
        var change = ProgrammeAnalysis.Prepare(data, new ProgrammeSettings(), new RunOptions { Resamples = 20 })
            .Analyse(Programmes.Code("99"), 1, TestContext.Current.CancellationToken).CallingChanges.Single(c => c.Since == ChangeSince.PreviousSeason);
        Assert.Equal(stop, change.Stop);
        Assert.Equal(stop == ChangeStop.None ? null : ListeningStep.Observers, change.StoppedAt);
        Assert.Equal(stop == ChangeStop.None, change.Observers is not null);
    }

    private static IEnumerable<ReferenceRow> Rows() => ReferenceTable.Read("change/visits.csv").Rows;

    private static ProgrammeData Read()
    {
        var stations = new Dictionary<string, Station>();
        var surveys = new List<Survey>();
        foreach (var row in Rows())
        {
            string station = row["station"];
            stations.TryAdd(station, Programmes.Pond(station, row["wetland"], row["watershed"]) with { Weight = row.Number("weight") });
            surveys.Add(Programmes.Listen(
                row["survey"], station, LocalDatePattern.Iso.Parse(row["date"]).Value,
                ("spring", (int)row.Number("spring")), ("winter", (int)row.Number("winter"))) with
            {
                Minutes = row["minutes"].Length == 0 ? null : row.Number("minutes"),
                WindBeaufort = row["wind"].Length == 0 ? null : (int)row.Number("wind"),
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
