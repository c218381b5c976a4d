using Indicators.Analysis.Results;
using Indicators.Storage.Editions.Tables;

namespace Indicators.Storage.Editions;

/// <summary>Keeps the steps between two editions. The editions themselves never change.</summary>
public sealed class StepStore
{
    private readonly Database _database;

    /// <summary>The store in this database.</summary>
    public StepStore(Database database) => _database = database;

    /// <summary>Keeps all steps from an edition to a later one, in place of what was kept of the two before.</summary>
    /// <param name="before">The earlier edition.</param>
    /// <param name="after">The later one.</param>
    /// <param name="steps">The steps in order, two or more; the last without results of its own.</param>
    public void Keep(long before, long after, IReadOnlyList<EditionStep> steps) => _database.Write(connection =>
    {
        StepTables.Clear(connection, before, after);
        for (int place = 0; place < steps.Count; place++)
            StepTables.Write(connection, before, after, place, steps[place]);
    });
}
