using Indicators.Analysis.Options;
using Indicators.Exchange.Settings;
using Indicators.Storage.Surveys;

namespace Indicators.Application.Editions;

/// <summary>Shows a programme's settings as the text of a settings file.</summary>
public static class ShowSettings
{
    /// <summary>The stored settings, or the defaults where none were ever stored.</summary>
    /// <param name="store">The programme's store; null for the defaults.</param>
    public static string Text(ISurveyStore? store) => SettingsJson.Write(store?.Settings() ?? new ProgrammeSettings());
}
