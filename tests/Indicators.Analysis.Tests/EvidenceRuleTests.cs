using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Xunit;
using static Indicators.Analysis.Tests.Programmes;

namespace Indicators.Analysis.Tests;

/// <summary>The rule of the grade, limit by limit, from both sides of each.</summary>
public class EvidenceRuleTests
{
    private static readonly ProgrammeSettings Settings = new();

    private static readonly Trend Falling = new()
    {
        Area = Code("99"),
        Species = SpeciesId("a"),
        Status = TrendStatus.Estimated,
        PercentPerSeason = -4,
        LowerUnderlying = -6,
        UpperUnderlying = -2,
        Interval = IntervalKind.ObservedChange,
        Direction = Direction.Down,
        InformativeClusters = EvidenceRule.EnoughWetlands,
    };

    private static readonly SeriesEvidence Facts = new()
    {
        Area = Falling.Area,
        Species = Falling.Species,
        Grade = Evidence.Thin,
        Reasons = EvidenceReason.NoInterval,
        LeaveOneOutChange = -2,
        SignHolds = true,
        Dispersion = 3,
        Seasons = 9,
        OneStationSeasons = 2,
        CeilingShare = 0.0999,
        NewObserverShare = 0.5,
        OutsideProtocolShare = 0.2,
    };

    private static SeriesEvidence Judge(Trend? trend = null, SeriesEvidence? facts = null) => EvidenceRule.Judge(facts ?? Facts, trend ?? Falling, Settings);

    [Fact]
    public void On_every_limit_it_is_well_supported() =>
        Assert.Equal((Evidence.WellSupported, EvidenceReason.None), (Judge().Grade, Judge().Reasons));

    public static TheoryData<string, EvidenceReason, Evidence> Cases => new()
    {
        { "no lower end", EvidenceReason.NoInterval, Evidence.Thin },
        { "seven wetlands", EvidenceReason.VeryFewWetlands, Evidence.Thin },
        { "seven seasons", EvidenceReason.FewSeasons, Evidence.Thin },
        { "sign turns", EvidenceReason.OneWetlandDecides, Evidence.Thin },
        { "third on one station", EvidenceReason.SeasonsOnOneStation, Evidence.Thin },
        { "eleven wetlands", EvidenceReason.FewWetlands, Evidence.PartlySupported },
        { "wetland moves", EvidenceReason.OneWetlandMoves, Evidence.PartlySupported },
        { "ceiling", EvidenceReason.NearCeiling, Evidence.PartlySupported },
        { "scatter", EvidenceReason.Scattered, Evidence.PartlySupported },
        { "observers", EvidenceReason.NewObservers, Evidence.PartlySupported },
        { "protocol", EvidenceReason.OutsideProtocol, Evidence.PartlySupported },
    };

    [Theory]
    [MemberData(nameof(Cases))]
    public void Just_beyond_a_limit_it_is_not(string what, EvidenceReason reason, Evidence grade)
    {
        var judged = what switch
        {
            "no lower end" => Judge(Falling with { LowerUnderlying = null }),
            "seven wetlands" => Judge(Falling with { InformativeClusters = 7 }),
            "seven seasons" => Judge(facts: Facts with { Seasons = 7 }),
            "sign turns" => Judge(facts: Facts with { SignHolds = false }),
            "third on one station" => Judge(facts: Facts with { OneStationSeasons = 3 }),
            "eleven wetlands" => Judge(Falling with { InformativeClusters = 11 }),
            "wetland moves" => Judge(facts: Facts with { LeaveOneOutChange = 2.001 }),
            "ceiling" => Judge(facts: Facts with { CeilingShare = 0.1 }),
            "scatter" => Judge(facts: Facts with { Dispersion = 3.001 }),
            "observers" => Judge(facts: Facts with { NewObserverShare = 0.501 }),
            _ => Judge(facts: Facts with { OutsideProtocolShare = 0.201 }),
        };
        Assert.Equal((reason, grade), (judged.Reasons, judged.Grade));
    }

    [Fact]
    public void Every_reason_has_a_case() =>
        Assert.Equal(Enum.GetValues<EvidenceReason>().Where(r => r != EvidenceReason.None), Cases.Select(row => row.Data.Item2).Order());

    [Fact]
    public void Sign_that_turns_matters_only_where_a_direction_is_told() =>
        Assert.Equal(EvidenceReason.None, Judge(Falling with { Direction = Direction.Unclear }, Facts with { SignHolds = false }).Reasons);

    [Fact]
    public void Largest_dispersion_is_the_largest_value_of_a_survey()
    {
        Assert.Equal(3, EvidenceRule.LargestDispersion(new ResponseOptions()));
        Assert.Equal(1, EvidenceRule.LargestDispersion(new ResponseOptions { Kind = ResponseKind.Heard }));
        Assert.Equal(5, EvidenceRule.LargestDispersion(new ResponseOptions { Kind = ResponseKind.Weighted, Weights = [0, 2, 5] }));
    }

    [Theory]
    [InlineData(4, Evidence.WellSupported)]
    [InlineData(3, Evidence.WellSupported)]
    [InlineData(2, Evidence.PartlySupported)]
    [InlineData(1, Evidence.Thin)]
    public void Area_is_as_well_supported_as_its_expected_species(int supported, Evidence grade)
    {
        string[] species = ["a", "b", "c", "d"];
        var area = new Area { Code = Code("99"), Expected = [.. species.Select(SpeciesId)] };
        var evidence = species.Append("e").Select((id, i) => Facts with
        {
            Species = SpeciesId(id),
            Grade = id == "e" || i < supported ? Evidence.PartlySupported : Evidence.Thin,
        });
        Assert.Equal(grade, EvidenceRule.OfArea(area, evidence));
        Assert.Null(EvidenceRule.OfArea(area with { Expected = [] }, evidence));
    }

    [Fact]
    public void Codes_of_reasons_stand_in_order_with_a_space_between()
    {
        Assert.Null(EvidenceReasons.Codes(EvidenceReason.None));
        Assert.Equal("few_seasons near_ceiling", EvidenceReasons.Codes(EvidenceReason.NearCeiling | EvidenceReason.FewSeasons));
    }
}
