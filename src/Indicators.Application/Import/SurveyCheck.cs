using Indicators.Analysis.Options;
using Indicators.Exchange.Folders;
using Indicators.Monitoring;
using Indicators.Storage.Surveys;
using NodaTime;

namespace Indicators.Application.Import;

/// <summary>
/// Checks surveys and their calls against the reference side and against what is stored. A survey is taken with all its
/// calls or refused with all of them, because a call that is lost would become a false zero.
/// </summary>
internal sealed class SurveyCheck
{
    /// <summary>So many stored surveys are held at once to be compared, for there may be millions.</summary>
    private const int ComparedAtOnce = 1 << 15;

    private readonly ReferenceCheck _reference;
    private readonly Func<IReadOnlyCollection<Id<Survey>>, IReadOnlyDictionary<Id<Survey>, Survey>> _findStored;
    private readonly bool _replace;
    private readonly CallsBySurvey _callsOf;
    private readonly List<int> _toStore = [];

    /// <summary>The calls that surveys keep because there is no file of calls.</summary>
    private readonly Dictionary<Id<Survey>, IReadOnlyList<Call>> _kept = [];

    public SurveyCheck(
        SurveyFolder folder,
        ReferenceCheck reference,
        Func<IReadOnlyCollection<Id<Survey>>, IReadOnlyDictionary<Id<Survey>, Survey>> findStored,
        bool replace,
        Action<long, long> progress,
        CancellationToken cancel)
    {
        _reference = reference;
        _findStored = findStored;
        _replace = replace;
        Surveys = new(folder.Surveys);
        Calls = new(folder.Calls);
        _callsOf = new(Calls);
        cancel.ThrowIfCancellationRequested();
        CheckReferences();
        CheckCalls();
        RefuseSurveysWithoutReadableCalls();
        Settle(progress, cancel);
        RefuseCallsOfRefusedSurveys();
    }

    public Ledger<Survey> Surveys { get; }

    public Ledger<CallRow> Calls { get; }

    /// <summary>The surveys to store, in the order of the file; each is put together when it is asked for, for there may be millions.</summary>
    public IReadOnlyList<SurveyEntry> Entries => new MadeOnDemand<SurveyEntry>(
        _toStore.Count, place => new SurveyEntry(WithCalls(Surveys.Rows[_toStore[place]].Value!), ReviewStatus.Accepted, Surveys.File, Surveys.LineOf(_toStore[place])));

    /// <summary>How often each limit of the protocol was not kept by surveys that can be taken, with the first few.</summary>
    public IReadOnlyList<Problem> ProtocolWarnings(ProgrammeSettings settings, DateTimeZone zone)
    {
        const int Named = 5;
        var check = new ProtocolCheck(settings.Protocol, zone);
        return
        [
            .. Surveys.Taken()
                .SelectMany(s => check.Breaches(s.Value, _reference.PlaceOf(s.Value.Station)).Select(breach => (breach, s.Row)))
                .GroupBy(b => b.breach, b => b.Row)
                .OrderBy(g => g.Key)
                .Select(g => new Problem(ProblemKind.ProtocolNotKept, Surveys.File)
                {
                    Breach = g.Key,
                    Count = g.Count(),
                    Names = [.. g.Take(Named).Select(row => $"{Surveys.Rows[row].Key} on line {Surveys.LineOf(row)}")],
                    Rule = LimitOf(settings.Protocol, g.Key)?.Value,
                    Thing = LimitOf(settings.Protocol, g.Key)?.Source,
                }),
        ];
    }

    private static (string Value, string Source)? LimitOf(Protocol protocol, ProtocolBreach breach)
    {
        return breach switch
        {
            ProtocolBreach.TooShort => Of(protocol.MinimumMinutes, "R"),
            ProtocolBreach.TooEarly => Of(protocol.EarliestMinutesAfterSunset, "D"),
            ProtocolBreach.TooLate => Of(protocol.LatestStart, "HH':'mm"),
            ProtocolBreach.TooWindy => Of(protocol.MaximumWindBeaufort, "D"),
            _ => null, // Each run has its own least temperature.
        };

        static (string, string)? Of<T>(ProtocolLimit<T>? limit, string format)
            where T : IFormattable =>
            limit is null ? null : (limit.Value.ToString(format, System.Globalization.CultureInfo.InvariantCulture), limit.Source);
    }

    /// <summary>Rows with what is stored of each, null for nothing: some at a time.</summary>
    private IEnumerable<(TRow Row, Survey? Stored)> WithStored<TRow>(IEnumerable<TRow> rows, Func<TRow, Id<Survey>> idOf) =>
        rows.Chunk(ComparedAtOnce).SelectMany(some =>
        {
            var stored = _findStored([.. some.Select(idOf)]);
            return some.Select(row => (row, stored.GetValueOrDefault(idOf(row))));
        });

    /// <summary>Stored surveys of which the folder has calls alone.</summary>
    private HashSet<string> StoredWithCallsAlone()
    {
        var ids = _callsOf.Surveys.Where(survey => Surveys.Find(survey) is null).Select(Id<Survey>.Parse).Where(id => id.IsValid).Select(id => id.Value);
        return [.. WithStored(ids, id => id).Where(each => each.Stored is not null).Select(each => each.Row.ToString())];
    }

    private void CheckReferences()
    {
        foreach (var (row, survey) in Surveys.Taken())
        {
            if (_reference.StationTarget.Refusal(survey.Station.ToString(), kind => Surveys.At(row, kind, "station_id")) is { } problem)
                Surveys.Refuse(row, problem);
        }
        foreach (var (row, call) in Calls.Taken())
        {
            if (_reference.SpeciesTarget.Refusal(call.Call.Species.ToString(), kind => Calls.At(row, kind, "species_id")) is { } problem)
                Calls.Refuse(row, problem);
        }
    }

    /// <summary>Refuses calls of surveys that are not in the folder, and surveys with a call that was refused.</summary>
    private void CheckCalls()
    {
        var target = new ReferenceTarget<Survey>("survey", Surveys, _ => false);
        var stored = StoredWithCallsAlone();
        foreach (string survey in _callsOf.Surveys)
        {
            if (Surveys.IsFileRefused || Surveys.Find(survey) is not { } row)
            {
                bool isStored = stored.Contains(survey);
                foreach (int call in _callsOf.Of(survey).Where(c => !Calls.IsRefused(c)))
                {
                    Calls.Refuse(call, isStored && !Surveys.IsFileRefused
                        ? Calls.At(call, ProblemKind.CallWithoutItsSurvey, "survey_id") with { Value = survey }
                        : target.Refusal(survey, kind => Calls.At(call, kind, "survey_id"))!);
                }
                continue;
            }
            if (Calls.IsFileRefused || Surveys.IsRefused(row)) continue;
            foreach (int lost in _callsOf.Of(survey).Where(Calls.IsRefused).Take(1))
                Surveys.Refuse(row, Surveys.At(row, ProblemKind.SurveyWithRefusedCall) with { OtherFile = Calls.File, OtherLine = Calls.LineOf(lost) });
        }
    }

    /// <summary>Without a readable file of calls nobody knows what was heard.</summary>
    private void RefuseSurveysWithoutReadableCalls()
    {
        if (!Calls.IsPresent || !Calls.IsFileRefused) return;
        foreach (var (row, _) in Surveys.Taken())
            Surveys.Refuse(row, Surveys.At(row, ProblemKind.SurveyWithoutCallsFile) with { OtherFile = Calls.File });
    }

    /// <summary>What becomes of each survey beside what is stored. Where there is no file of calls at all, stored surveys keep the calls they have.</summary>
    private void Settle(Action<long, long> progress, CancellationToken cancel)
    {
        int done = 0;
        foreach (var ((row, value), stored) in WithStored(Surveys.Taken(), taken => taken.Value.Id))
        {
            if (done++ % ComparedAtOnce == 0)
            {
                cancel.ThrowIfCancellationRequested();
                progress(done, Surveys.Rows.Count);
            }
            if (!Calls.IsPresent)
            {
                if (stored is null)
                {
                    Surveys.Refuse(row, Surveys.At(row, ProblemKind.SurveyWithoutCalls) with { OtherFile = Calls.File });
                    continue;
                }
                _kept[value.Id] = stored.Calls;
            }
            var difference = stored is null ? null : StoredContent.Difference(WithCalls(value), stored);
            if (stored is not null && difference is null)
            {
                SettleWithCalls(row, value.Id, RowFate.Unchanged);
                continue;
            }
            if (difference is not null && !_replace)
            {
                Surveys.Refuse(row, Surveys.At(row, ProblemKind.Conflict, difference.Column) with { Value = difference.Given, Stored = difference.Stored });
                continue;
            }
            if (difference is not null) SettleWithCalls(row, value.Id, RowFate.Replacing);
            _toStore.Add(row);
        }
    }

    private Survey WithCalls(Survey survey) => survey with { Calls = Calls.IsPresent ? CallsOf(survey.Id) : _kept[survey.Id] };

    private void SettleWithCalls(int row, Id<Survey> id, RowFate fate)
    {
        Surveys.Settle(row, fate);
        foreach (int call in _callsOf.Of(id.ToString())) Calls.Settle(call, fate);
    }

    private Call[] CallsOf(Id<Survey> id)
    {
        Call[] calls = [.. _callsOf.Of(id.ToString()).Select(row => Calls.Rows[row].Value!.Call)];
        Array.Sort(calls, (a, b) => a.Species.CompareTo(b.Species));
        return calls;
    }

    private void RefuseCallsOfRefusedSurveys()
    {
        if (Surveys.IsFileRefused || Calls.IsFileRefused) return;
        foreach (string survey in _callsOf.Surveys)
        {
            if (Surveys.Find(survey) is not { } row || !Surveys.IsRefused(row)) continue;
            foreach (int call in _callsOf.Of(survey).Where(c => !Calls.IsRefused(c)))
            {
                Calls.Refuse(call, Calls.At(call, ProblemKind.CallOfRefusedSurvey, "survey_id") with
                {
                    Value = survey,
                    OtherFile = Surveys.File,
                    OtherLine = Surveys.LineOf(row),
                });
            }
        }
    }
}
