using System.Collections.Concurrent;
using System.Reflection;
using Indicators.Storage.Editions;

namespace Indicators.Web.Tests.Invented;

/// <summary>A reader that stands before another: it counts what is asked, and can be given another one to ask.</summary>
public class ChangingReader : DispatchProxy
{
    private readonly ConcurrentDictionary<string, int> _asked = new();

    /// <summary>Answers some questions itself: the name of a question, its edition, and the true answer in, another answer out.</summary>
    internal Func<string, long?, object?, object?>? Instead { get; set; }

    internal IEditionReader Behind { get; set; } = null!;

    internal static (IEditionReader Reader, ChangingReader Control) Before(IEditionReader behind)
    {
        var reader = Create<IEditionReader, ChangingReader>();
        var control = (ChangingReader)(object)reader;
        control.Behind = behind;
        return (reader, control);
    }

    /// <summary>How often anything but the head of today's edition was asked for.</summary>
    internal int Questions => _asked.Where(each => each.Key is not (nameof(IEditionReader.Published) or nameof(IEditionReader.StepsKept))).Sum(each => each.Value);

    internal int Looks => _asked.GetValueOrDefault(nameof(IEditionReader.Published));

    protected override object? Invoke(MethodInfo? targetMethod, object?[]? args)
    {
        _asked.AddOrUpdate(targetMethod!.Name, 1, (_, times) => times + 1);
        object? answer;
        try
        {
            answer = targetMethod.Invoke(Behind, args);
        }
        catch (TargetInvocationException failure) when (failure.InnerException is { } inner)
        {
            throw inner;
        }
        return Instead is null ? answer : Instead(targetMethod.Name, args is [long edition, ..] ? edition : null, answer);
    }
}
