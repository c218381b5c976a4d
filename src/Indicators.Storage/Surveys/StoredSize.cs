namespace Indicators.Storage.Surveys;

/// <summary>How large a stored programme is.</summary>
/// <param name="Surveys">Surveys, whatever their review.</param>
/// <param name="Species">Species.</param>
/// <param name="Wetlands">Wetlands.</param>
/// <param name="Seasons">Years from the first survey to the last, both counted; 0 without surveys.</param>
public sealed record StoredSize(long Surveys, long Species, long Wetlands, long Seasons);
