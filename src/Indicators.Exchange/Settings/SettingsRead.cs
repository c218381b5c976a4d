using Indicators.Analysis.Options;
using Indicators.Monitoring;

namespace Indicators.Exchange.Settings;

/// <summary>What reading settings gave: the settings, or what is wrong with them.</summary>
/// <param name="Settings">The settings, null when there is any problem.</param>
/// <param name="Problems">Everything that is wrong, in the order of the file; empty when the settings are good.</param>
public sealed record SettingsRead(ProgrammeSettings? Settings, IReadOnlyList<Problem> Problems);
