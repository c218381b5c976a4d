using Indicators.Analysis.Options;
using Indicators.Analysis.Power;
using Indicators.Monitoring;
using Indicators.Storage.Surveys;

namespace Indicators.Application.Planning;

/// <summary>What to ask of whose calling.</summary>
public sealed record PowerRequest
{
    /// <summary>The species.</summary>
    public required string Species { get; init; }

    /// <summary>The code of a watershed of any level, or null for all stations.</summary>
    public string? Watershed { get; init; }

    /// <summary>The change, how surely, and how it is simulated.</summary>
    public required PowerQuestion Question { get; init; }

    /// <summary>How many wetlands to try.</summary>
    public required IReadOnlyList<int> Wetlands { get; init; }

    /// <summary>How many seasons to try.</summary>
    public required IReadOnlyList<int> Seasons { get; init; }

    /// <summary>How many surveys a wetland and season to try; empty for as many as it has been on average, rounded.</summary>
    public IReadOnlyList<int> Visits { get; init; } = [];

    /// <summary>How many threads may work, at least 1. Changes nothing but the time.</summary>
    public int MaxThreads { get; init; } = Environment.ProcessorCount;
}

/// <summary>How far a question has come.</summary>
/// <param name="Done">Plans simulated.</param>
/// <param name="All">All plans.</param>
public readonly record struct PowerProgress(int Done, int All);

/// <summary>What came of the question.</summary>
/// <param name="Programme">How calling varies and from what that was estimated, or why not.</param>
/// <param name="Species">The species, or null when there is no such.</param>
/// <param name="KnownSpecies">The ids of all species, for who mistyped one.</param>
/// <param name="Results">One result a plan, in the order asked.</param>
public sealed record PowerOutcome(
    ProgrammeSpread Programme, Species? Species, IReadOnlyList<string> KnownSpecies, IReadOnlyList<PowerResult> Results);

/// <summary>
/// How surely ways to listen would show a change, judged from a programme's own accepted surveys. Writes nothing. It is for
/// the programme's own people and reads their surveys; what it tells of a protected species is held to the same rule as an edition.
/// </summary>
public sealed class AskPower
{
    /// <summary>Resamples behind the estimate of the shared springs, as many as an edition has by default.</summary>
    private const int SpreadResamples = 2000;

    private readonly ISurveyStore _surveys;

    /// <summary>The use case on these surveys.</summary>
    public AskPower(ISurveyStore surveys) => _surveys = surveys;

    /// <summary>Estimates the spread, then simulates each plan.</summary>
    /// <param name="request">The question.</param>
    /// <param name="progress">Told after every plan; may be null.</param>
    /// <param name="cancel">Stops soon, by <see cref="OperationCanceledException"/>.</param>
    public PowerOutcome Run(PowerRequest request, IProgress<PowerProgress>? progress, CancellationToken cancel)
    {
        var data = _surveys.Accepted();
        var settings = _surveys.Settings() ?? new ProgrammeSettings();
        string[] known = [.. data.Species.Select(s => s.Id.ToString()).Order(StringComparer.Ordinal)];
        var species = data.Species.FirstOrDefault(s => s.Id.ToString() == request.Species);
        if (species is null)
            return Without(PowerProblem.UnknownSpecies);
        WatershedCode? watershed = null;
        if (request.Watershed is { } text)
        {
            var code = WatershedCode.Parse(text);
            if (!code.IsValid)
                return Without(PowerProblem.UnknownWatershed);
            watershed = code.Value;
        }

        var run = new RunOptions { Seed = request.Question.Seed, Resamples = SpreadResamples };
        var programme = ProgrammeSpread.Of(data, settings, run, species.Id, watershed);
        if (programme.Spread is not { } spread)
            return new PowerOutcome(programme, species, known, []);
        var visits = request.Visits.Count > 0 ? request.Visits : [Math.Max(1, (int)Math.Round(programme.Basis!.VisitsPerSeason))];
        var plans = (from w in request.Wetlands from t in request.Seasons from v in visits select new ListeningPlan(w, t, v)).ToList();
        var parallel = new ParallelOptions { MaxDegreeOfParallelism = request.MaxThreads, CancellationToken = cancel };
        var results = new List<PowerResult>();
        foreach (var plan in plans)
        {
            results.Add(PowerSimulation.Of(request.Question, plan, spread, settings.Trend, parallel));
            progress?.Report(new PowerProgress(results.Count, plans.Count));
        }
        return new PowerOutcome(programme, species, known, results);

        PowerOutcome Without(PowerProblem problem) => new(new ProgrammeSpread(null, null, problem), species, known, []);
    }
}
