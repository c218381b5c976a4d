using System.Globalization;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Statistics.Adjusted;
using NodaTime;

namespace Indicators.Analysis.Cells;

/// <summary>
/// What was different about each visit, for the adjusted model, standardised over all accepted surveys of the programme: an effect means
/// the same in every area and species. Who listened stays in here.
/// </summary>
internal sealed class VisitCovariates
{
    /// <summary>How many covariates there are.</summary>
    public static readonly int Count = Enum.GetValues<VisitCovariate>().Length;

    private readonly VisitRows _rows;
    private readonly Dictionary<int, VisitRows> _own;

    private VisitCovariates(VisitTable visits, int species, double[] values)
    {
        int[] wrapped = [.. Enumerable.Range(0, species).Where(k => Wraps(visits, k))];
        _own = wrapped.ToDictionary(k => k, k => Rows(visits, [.. values], visit => visits.Season(visit, k) ?? visits.Date(visit).Year));
        _rows = Rows(visits, values, visit => visits.Date(visit).Year);
    }

    /// <summary>Reads every visit.</summary>
    /// <param name="visits">The visits.</param>
    /// <param name="surveys">The surveys, one a visit.</param>
    /// <param name="stations">The stations, in the visits' order.</param>
    /// <param name="species">How many species there are.</param>
    /// <param name="zone">The zone that start times are local to.</param>
    public static VisitCovariates Of(VisitTable visits, Survey[] surveys, IReadOnlyList<Station> stations, int species, DateTimeZone zone)
    {
        var firstYear = FirstYears(surveys);
        var values = new double[visits.Count * Count];
        for (int s = 0; s < stations.Count; s++)
        {
            for (int v = visits.First(s); v < visits.First(s + 1); v++)
            {
                var survey = surveys[v];
                var row = values.AsSpan(v * Count, Count);
                row[(int)VisitCovariate.Day] = survey.Date.DayOfYear;
                row[(int)VisitCovariate.AirTemp] = survey.AirTempC ?? double.NaN;
                row[(int)VisitCovariate.Wind] = survey.WindBeaufort ?? double.NaN;
                row[(int)VisitCovariate.MinutesAfterSunset] =
                    survey.StartTime is { } start && SolarTimes.Sunset(stations[s].Place, survey.Date, zone) is { } sunset
                        ? SolarTimes.MinutesAfter(sunset, survey.Date, start, zone)
                        : double.NaN;
                row[(int)VisitCovariate.Noise] =
                    double.TryParse(survey.Noise, NumberStyles.Float, CultureInfo.InvariantCulture, out double noise) && double.IsFinite(noise) ? noise : double.NaN;
                row[(int)VisitCovariate.FirstSeason] = Observer(survey) is { } observer ? survey.Date.Year == firstYear[observer] ? 1 : 0 : double.NaN;
            }
        }
        return new VisitCovariates(visits, species, values);
    }

    /// <summary>
    /// The rows for one species, one a visit. A species whose window wraps the year's end has rows of its own: its January is
    /// later than its December.
    /// </summary>
    public VisitRows RowsFor(int species) => _own.GetValueOrDefault(species, _rows);

    /// <summary>Whether a visit counts in a season that is not its calendar year.</summary>
    private static bool Wraps(VisitTable visits, int species)
    {
        for (int v = 0; v < visits.Count; v++)
            if (visits.Season(v, species) is { } season && season != visits.Date(v).Year)
                return true;
        return false;
    }

    /// <summary>Standardises; days count from the first of January of the season.</summary>
    private static VisitRows Rows(VisitTable visits, double[] values, Func<int, int> seasonOf)
    {
        var seasons = new double[visits.Count];
        for (int v = 0; v < visits.Count; v++)
        {
            var date = visits.Date(v);
            int season = seasonOf(v);
            seasons[v] = season;
            for (int year = season; year < date.Year; year++)
                values[v * Count + (int)VisitCovariate.Day] += CalendarSystem.Iso.GetDaysInYear(year);
        }
        Square(values, VisitCovariate.Day, VisitCovariate.DaySquared);
        Square(values, VisitCovariate.AirTemp, VisitCovariate.AirTempSquared);
        return new VisitRows(seasons, values, Count);
    }

    /// <summary>Fills a column with the squares of another's distance from its mean.</summary>
    private static void Square(double[] values, VisitCovariate from, VisitCovariate into)
    {
        double sum = 0;
        int known = 0;
        for (int i = (int)from; i < values.Length; i += Count)
            if (!double.IsNaN(values[i])) (sum, known) = (sum + values[i], known + 1);
        double mean = sum / known;
        for (int i = 0; i < values.Length; i += Count)
            values[i + (int)into] = (values[i + (int)from] - mean) * (values[i + (int)from] - mean);
    }

    private static Dictionary<string, int> FirstYears(Survey[] surveys)
    {
        var first = new Dictionary<string, int>(StringComparer.OrdinalIgnoreCase);
        foreach (var survey in surveys)
        {
            if (Observer(survey) is { } observer)
                first[observer] = Math.Min(survey.Date.Year, first.GetValueOrDefault(observer, int.MaxValue));
        }
        return first;
    }

    private static string? Observer(Survey survey) => string.IsNullOrWhiteSpace(survey.Observer) ? null : survey.Observer.Trim();
}
