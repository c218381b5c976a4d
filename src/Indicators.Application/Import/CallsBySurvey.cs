using Indicators.Exchange.Folders;

namespace Indicators.Application.Import;

/// <summary>Which rows of calls.csv belong to which survey, in the order of the file: a chain of rows a survey, for there may be millions.</summary>
internal sealed class CallsBySurvey
{
    private const int None = -1;

    private readonly Ledger<CallRow> _calls;
    private readonly int[] _next;

    public CallsBySurvey(Ledger<CallRow> calls)
    {
        _calls = calls;
        _next = new int[calls.Rows.Count];
        int[] last = new int[_next.Length];
        for (int row = 0; row < _next.Length; row++)
        {
            _next[row] = None;
            if (calls.Rows[row].Key is not { } survey)
                continue;
            int first = calls.Find(survey)!.Value;
            if (row != first)
                _next[last[first]] = row;
            last[first] = row;
        }
    }

    /// <summary>The surveys that rows speak of, in the order of their first rows.</summary>
    public IEnumerable<string> Surveys => Enumerable.Range(0, _next.Length)
        .Where(row => _calls.Rows[row].Key is { } survey && _calls.Find(survey) == row).Select(row => _calls.Rows[row].Key!);

    /// <summary>The rows of one survey; none of one that no row speaks of.</summary>
    public IEnumerable<int> Of(string survey)
    {
        for (int row = _calls.Find(survey) ?? None; row != None; row = _next[row])
            yield return row;
    }
}
