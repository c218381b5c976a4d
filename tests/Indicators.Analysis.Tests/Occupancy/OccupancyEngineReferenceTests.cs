using System.Globalization;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Statistics.Occupancy;
using Indicators.Statistics.Tests.Reference;
using NodaTime.Text;
using Xunit;

namespace Indicators.Analysis.Tests.Occupancy;

/// <summary>
/// From surveys with dates to an edition's occupancy, against tests/reference/occupancy_engine/make.R: another way to thirds
/// of the window and to wetlands, a likelihood summed over every course of states, another optimiser.
/// </summary>
public class OccupancyEngineReferenceTests
{
    private const int FirstSeason = 2011, Seasons = 6;

    private static readonly ReferenceRow[] Visits = [.. ReferenceTable.Read("occupancy_engine/visits.csv").Rows];

    private static AreaResult Analysed()
    {
        var stations = Visits.Select(v => (Id: v["station"], Wetland: v["wetland"])).Distinct().Select(s => Programmes.Pond(s.Id, s.Wetland, "99"));
        var surveys = Visits.Select((v, i) => Programmes.Listen(
            i.ToString(CultureInfo.InvariantCulture), v["station"], LocalDatePattern.Iso.Parse(v["date"]).Value,
            [.. new[] { "a", "b" }.Where(k => v[k] == "1").Select(k => (k, 1))]));
        var data = Programmes.Data(stations, [Programmes.Frog("a"), Programmes.Frog("b")], surveys);
        return ProgrammeAnalysis.Prepare(data, new ProgrammeSettings(), new RunOptions { Resamples = 1 })
            .Analyse(Programmes.Code("99"), 1, TestContext.Current.CancellationToken);
    }

    [Fact]
    public void Surveys_become_the_same_occupancy_rates_and_detection_by_other_means()
    {
        var result = Analysed();
        var a = Programmes.SpeciesId("a");
        var rates = result.OccupancyRates.Single(r => r.Species == a);
        var points = result.Occupancy.Where(p => p.Species == a).ToArray();
        var detection = result.Detection.Where(d => d.Species == a).ToArray();
        Assert.Equal(OccupancyBasis.ManySeasons, rates.Basis);
        Assert.Equal([.. Enumerable.Range(FirstSeason, Seasons)], points.Select(p => p.Season));
        Assert.Equal([WindowPart.Early, WindowPart.Middle, WindowPart.Late], detection.Select(d => d.Part));
        int checkedRows = 0;
        foreach (var row in ReferenceTable.Read("occupancy_engine/expected.csv").Rows)
        {
            int index = (int)row.Number("index");
            (double? actual, double tolerance) = (row["kind"], row["quantity"]) switch
            {
                ("occupancy", "estimate") => (points[index].Psi, Near.Estimate),
                ("occupancy", "lower") => (points[index].Lower, Near.StandardError),
                ("occupancy", "upper") => (points[index].Upper, Near.StandardError),
                ("colonisation", "p") => (rates.Colonisation, Near.Estimate),
                ("colonisation", "p_lower") => (rates.ColonisationLower, Near.StandardError),
                ("colonisation", "p_upper") => (rates.ColonisationUpper, Near.StandardError),
                ("extinction", "p") => (rates.Extinction, Near.Estimate),
                ("extinction", "p_lower") => (rates.ExtinctionLower, Near.StandardError),
                ("extinction", "p_upper") => (rates.ExtinctionUpper, Near.StandardError),
                ("detection", "p") => (detection[index].P, Near.Estimate),
                ("detection", "p_se") => (detection[index].StandardError, Near.StandardError),
                ("detection", "p_lower") => (detection[index].Lower, Near.StandardError),
                ("detection", "p_upper") => (detection[index].Upper, Near.StandardError),
                ("detection", "visits") => (detection[index].VisitsForAbsence, 0),
                ("detection", "visits_cautious") => (detection[index].VisitsForAbsenceCautious, 0),
                ("round", "visits") => (rates.VisitsForAbsence, 0),
                // On the logit scale, checked in the statistics' own tests; an edition does not hold them.
                _ => ((double?)null, 0),
            };
            if (actual is null)
                continue;
            checkedRows++;
            Near.Relative(row.Number("value"), actual.Value, tolerance, row);
        }
        Assert.Equal(3 * Seasons + 6 + 12 + 6 + 1, checkedRows);
    }

    [Fact]
    public void Chance_of_never_having_left_is_the_ratio_of_sums_over_courses()
    {
        var rows = ReferenceTable.Read("occupancy_engine/unbroken.csv").Rows.ToArray();
        string[] wetlands = [.. rows.Select(r => r["wetland"])];
        Visit[] visits = [.. Visits.Select(v =>
        {
            var date = LocalDatePattern.Iso.Parse(v["date"]).Value;
            int days = NodaTime.Period.DaysBetween(new NodaTime.LocalDate(date.Year, 4, 1), date);
            return new Visit(Array.IndexOf(wetlands, v["wetland"]), date.Year - FirstSeason, v["b"] == "1", 3 * days / 122);
        })];
        var likelihood = new OccupancyLikelihood(new DetectionHistories(wetlands.Length, Seasons, visits, 3), TransitionGroups.Constant(Seasons));
        double[] theta = [.. new[] { 0.5, 0.15, 0.3, 0.2, 0.45, 0.3 }.Select(p => Math.Log(p / (1 - p)))], chances = new double[wetlands.Length];
        likelihood.Unbroken(theta, 2, 4, 5, chances);
        for (int w = 0; w < wetlands.Length; w++)
            Near.Relative(rows[w].Number("chance"), chances[w], Near.Estimate, rows[w]);
    }
}
