using Indicators.Analysis.Results;

namespace Indicators.Storage.Editions.Tables;

/// <summary>Effects of the adjusted trends' covariates.</summary>
internal static class AdjustedTables
{
    internal static readonly ResultTable<CovariateEffect> Effects = new(
        "edition_effect",
        "area, species_id, place",
        row => new CovariateEffect
        {
            Area = row.Area(),
            Species = row.Species(),
            Covariate = row.Coded<VisitCovariate>("covariate"),
            Status = row.Coded<EffectStatus>("status"),
            Effect = row.RealOrNull("effect"),
            Lower = row.RealOrNull("lower"),
            Upper = row.RealOrNull("upper"),
            PercentPerUnit = row.RealOrNull("percent_per_unit"),
            PercentLower = row.RealOrNull("percent_lower"),
            PercentUpper = row.RealOrNull("percent_upper"),
            Mean = row.RealOrNull("mean"),
            Sd = row.RealOrNull("sd"),
            Missing = row.WholeOrNull("missing"),
            Surveys = row.WholeOrNull("surveys"),
        },
        [
            new("area", effect => effect.Area.ToString()),
            new("species_id", effect => effect.Species.ToString()),
            new("place", effect => (int)effect.Covariate),
            new("covariate", effect => ResultCode.Of(effect.Covariate)),
            new("status", effect => ResultCode.Of(effect.Status)),
            new("effect", effect => effect.Effect),
            new("lower", effect => effect.Lower),
            new("upper", effect => effect.Upper),
            new("percent_per_unit", effect => effect.PercentPerUnit),
            new("percent_lower", effect => effect.PercentLower),
            new("percent_upper", effect => effect.PercentUpper),
            new("mean", effect => effect.Mean),
            new("sd", effect => effect.Sd),
            new("missing", effect => effect.Missing),
            new("surveys", effect => effect.Surveys),
        ]);
}
