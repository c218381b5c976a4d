using Indicators.Exchange.Folders;
using Indicators.Exchange.Rejects;
using Indicators.Monitoring;
using Indicators.Storage.Surveys;

namespace Indicators.Application.Import;

/// <summary>A folder after every check: what is to be stored, what is refused, and what to say about it.</summary>
internal sealed class CheckedFolder(SurveyFolder folder, ReferenceCheck reference, SurveyCheck surveys, IReadOnlyList<Problem> protocolWarnings)
{
    /// <summary>In the order of <see cref="FolderLayout.Files"/>.</summary>
    private readonly IReadOnlyList<ILedger> _ledgers =
        [reference.Watersheds, reference.Shapes, reference.Stations, reference.Species, reference.Expected, surveys.Surveys, surveys.Calls];

    public string Name => folder.Name;

    public bool HasRefusals => _ledgers.Any(l => l.HasRefusals);

    public ImportBatch Batch() => reference.Batch() with { Surveys = surveys.Entries };

    public IReadOnlyList<RejectedFile> Rejected() => [.. _ledgers.Select(l => l.Rejected()).OfType<RejectedFile>()];

    public ImportReport Report(bool loaded) => new()
    {
        Outcome = HasRefusals ? ImportOutcome.SomethingRefused : ImportOutcome.NothingRefused,
        IsLoaded = loaded,
        Files = [.. _ledgers.Where(l => l.IsPresent).Select(l => l.Count(loaded))],
        Problems = Problems(),
    };

    private List<Problem> Problems()
    {
        var problems = new List<Problem>(folder.Notes);
        foreach (var ledger in _ledgers)
        {
            // The sort is stable, so what concerns a whole file comes first and a row's problems keep their order.
            problems.AddRange(ledger.Problems()
                .Concat(reference.Warnings.Concat(protocolWarnings).Where(w => w.File == ledger.File))
                .OrderBy(p => p.Line ?? 0));
        }
        return problems;
    }
}
