namespace Indicators.Wording;

/// <summary>The usual cautions of night listening, each with its source. Local rules, permits and trained people come first.</summary>
public static class Cautions
{
    private const string Common = Caution.CommonPractice;
    private const string RoadSheet = "A night road-survey data sheet, publisher not noted: reflective vest, park clear of the lanes, never on interstates or blind bends.";
    private const string UsgsRoutes = "USGS calling-survey pages on checking routes on the ground: unsafe routes are altered, private roads are not entered.";
    private const string Handling = "ASIH 2004, Guidelines for use of live amphibians and reptiles in field and laboratory research (read in part): handle briefly, keep moist.";

    /// <summary>What stands above all the others.</summary>
    public const string First = "Follow the rules of your place and your programme first. Where they say more than this page, they hold.";

    /// <summary>All cautions, in the order to read them.</summary>
    public static IReadOnlyList<Caution> All { get; } =
    [
        new("Before you go", "Get the permits you need, and ask the owner of the land. Never handle or move wild frogs unless your permit lets you.", Common),
        new("Before you go", "Go with someone. Tell one more person where you are and when you will be back. Take a light and a charged phone.", Common),
        new("On the road at night", "Wear a reflective vest. Park clear of the lanes. Never stop on an interstate or near a blind bend.", RoadSheet),
        new("On the road at night", "If a stop is not safe, leave it out and say so. Do not go on private roads.", UsgsRoutes),
        new("Near water", "Stay on firm ground. Listen from the bank, and do not wade alone or in the dark. Go home when there is lightning.", Common),
        new("If you must hold a frog or toad", "Be brief, and keep it moist.", Handling),
        new("If you must hold a frog or toad", "Wet your clean hands first. Wear no lotion and no insect spray. Hold it by the hips, never by the belly.", Common),
        new("If you must hold a frog or toad", "Let it go where you found it. Keep the net on the ground. Put tadpoles straight back.", Common),
        new("If you must hold a frog or toad", "If you wear gloves, change or clean them after each animal.", "NEPARC disinfection sheet."),
        new("Between wetlands", "Scrub mud and plants off boots and nets. Then wet them with 3\u00A0% bleach for 1 minute or more. Here 3\u00A0% means 3 parts of household bleach, as sold (about 6\u00A0% strong), in 100 parts of mix. One cup in 2 gallons of water will do.", "NEPARC disinfection sheet (3 % bleach); Michigan DNR protocol (1 cup in 2 gallons); Bryan et al. 2009, Diseases of Aquatic Organisms 84:89 (ranavirus: at least 3 % bleach for 1 minute)."),
        new("Between wetlands", "Some germs need a mix up to 10 times as strong. Ask your wildlife agency which mix to use.", "NEPARC 2022, USGS publication 70249970: for Bsal (Batrachochytrium salamandrivorans) about ten times stronger bleach."),
        new("Between wetlands", "Do this well away from ponds and drains, as bleach kills water life. Rinse with clean water and let all dry.", "Michigan DNR protocol: away from water. Rinsing, drying and drains: common practice, no source."),
        new("Between wetlands", "Bleach burns skin and eyes. Wear gloves and eye shields, and never mix it with other cleaners. Make a new mix within 5 days.", "NEPARC disinfection sheet (discard after 5 days); gloves, eyes and mixing: common practice, no source."),
        new("Species at risk", "Never tell or post the exact place of a listed species. Send it only to the programme.", "Chapman 2020, Current best practices for generalizing sensitive species occurrence data: withhold or make places coarser."),
    ];
}
