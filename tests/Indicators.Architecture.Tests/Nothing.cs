using Xunit;

namespace Indicators.Architecture.Tests;

/// <summary>A wall is shown by the empty list of what breaks it; a failure names all of it, a line each.</summary>
internal static class Nothing
{
    internal static void In<T>(IEnumerable<T> violations)
    {
        var found = violations.ToList();
        if (found.Count > 0)
            Assert.Fail(string.Join('\n', found));
    }
}
