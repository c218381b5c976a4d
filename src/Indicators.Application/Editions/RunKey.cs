using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Indicators.Analysis.Results;
using Indicators.Storage;

namespace Indicators.Application.Editions;

/// <summary>Tells one run from another: two runs with the same key compute the same edition, so one may finish the other's.</summary>
public static class RunKey
{
    /// <summary>The key, SHA-256 in lower-case hexadecimal.</summary>
    /// <param name="manifest">Inputs, settings, choices, engine version, runtime, processor.</param>
    /// <param name="withheld">The hash of what the manifest must not tell, <see cref="InputsHash.Withheld"/>.</param>
    /// <param name="build">Identifies the very build of the engine, which a version number in development does not.</param>
    public static string Of(EditionManifest manifest, string withheld, string build)
    {
        string text = string.Create(CultureInfo.InvariantCulture, $"""
            {manifest.SchemaVersion}
            {manifest.InputsSha256}
            {withheld}
            {SettingsText.Write(manifest.Settings)}
            {manifest.Run.Seed}
            {manifest.Run.Resamples}
            {manifest.Run.ThroughSeason}
            {manifest.Run.WindowFrom}
            {manifest.Run.WindowTo}
            {manifest.EngineVersion}
            {manifest.Runtime}
            {manifest.Processor}
            {build}
            """);
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)));
    }
}
