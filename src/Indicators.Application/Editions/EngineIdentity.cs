using System.Globalization;
using System.Reflection;
using System.Runtime.InteropServices;
using Indicators.Analysis.Options;

namespace Indicators.Application.Editions;

/// <summary>Which engine computes, where: what an edition records of it.</summary>
/// <param name="Version">The version of the engine.</param>
/// <param name="Runtime">The runtime, such as <c>.NET 10.0.12</c>.</param>
/// <param name="Processor">The processor family, such as <c>X64</c>.</param>
/// <param name="Build">Identifies the very build; kept out of editions, for it says nothing to a reader.</param>
public sealed record EngineIdentity(string Version, string Runtime, string Processor, string Build)
{
    /// <summary>The engine this program carries.</summary>
    public static EngineIdentity Current { get; } = Find();

    private static EngineIdentity Find()
    {
        var analysis = typeof(ProgrammeSettings).Assembly;
        Assembly[] engine = [analysis, .. analysis.GetReferencedAssemblies()
            .Where(name => name.Name!.StartsWith("Indicators.", StringComparison.Ordinal))
            .Select(Assembly.Load)];
        return new EngineIdentity(
            analysis.GetCustomAttribute<AssemblyInformationalVersionAttribute>()!.InformationalVersion,
            RuntimeInformation.FrameworkDescription,
            RuntimeInformation.ProcessArchitecture.ToString(),
            string.Join(' ', engine
                .Select(assembly => assembly.ManifestModule.ModuleVersionId.ToString("N", CultureInfo.InvariantCulture))
                .Order(StringComparer.Ordinal)));
    }
}
