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
    private const int RowsBetweenReports = 4096;
    private readonly ReferenceCheck _reference;
    private readonly bool _replace;
    private readonly CallsBySurvey _callsOf;
    private readonly List<int> _toStore = [];
    private readonly IReadOnlyDictionary<Id<Survey>, Survey> _stored;

    public SurveyCheck(
        SurveyFolder folder,
        ReferenceCheck reference,
        Func<IReadOnlyCollection<Id<Survey>>, IReadOnlyDictionary<Id<Survey>, Survey>> findStored,
        bool replace,
        Action<long, long> progress,
        CancellationToken cancel)
    {
        _reference = reference;
        _replace = replace;
        Surveys = new(folder.Surveys);
        Calls = new(folder.Calls);
        _callsOf = new(Calls);
        _stored = findStored(IdsInFolder());
        cancel.ThrowIfCancellationRequested();
        CheckReferences();
        CheckCalls();
        RefuseSurveysShortOfCalls();
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

    /// <summary>Every survey the folder speaks of, also those that only calls speak of.</summary>
    private List<Id<Survey>> IdsInFolder()
    {
        var ids = new List<Id<Survey>>(Surveys.Rows.Count);
        ids.AddRange(Surveys.Rows.Where(r => r.Value is not null).Select(r => r.Value!.Id));
        foreach (string survey in _callsOf.Surveys.Where(k => Surveys.Find(k) is null))
        {
            if (Id<Survey>.Parse(survey) is { IsValid: true } id) ids.Add(id.Value);
        }
        return ids;
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
        foreach (string survey in _callsOf.Surveys)
        {
            if (Surveys.IsFileRefused || Surveys.Find(survey) is not { } row)
            {
                bool isStored = Id<Survey>.Parse(survey) is { IsValid: true } id && _stored.ContainsKey(id.Value);
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

    /// <summary>
    /// Without a readable file of calls nobody knows what was heard. Where there is no such file at all, stored surveys
    /// keep the calls they have.
    /// </summary>
    private void RefuseSurveysShortOfCalls()
    {
        if (Calls.IsPresent && !Calls.IsFileRefused) return;
        foreach (var (row, survey) in Surveys.Taken())
        {
            if (Calls.IsPresent)
                Surveys.Refuse(row, Surveys.At(row, ProblemKind.SurveyWithoutCallsFile) with { OtherFile = Calls.File });
            else if (!_stored.ContainsKey(survey.Id))
                Surveys.Refuse(row, Surveys.At(row, ProblemKind.SurveyWithoutCalls) with { OtherFile = Calls.File });
        }
    }

    private void Settle(Action<long, long> progress, CancellationToken cancel)
    {
        int done = 0;
        foreach (var (row, value) in Surveys.Taken())
        {
            if (done++ % RowsBetweenReports == 0)
            {
                cancel.ThrowIfCancellationRequested();
                progress(done, Surveys.Rows.Count);
            }
            bool isStored = _stored.TryGetValue(value.Id, out var storedSurvey);
            var difference = isStored ? StoredContent.Difference(WithCalls(value), storedSurvey!) : null;
            if (isStored && difference is null)
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

    private Survey WithCalls(Survey survey) => survey with { Calls = Calls.IsPresent ? CallsOf(survey.Id) : _stored[survey.Id].Calls };

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
