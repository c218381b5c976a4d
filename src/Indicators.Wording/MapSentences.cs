using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>The words on and about maps, and what the smooth line is.</summary>
public static class MapSentences
{
    /// <summary>What the buttons are for.</summary>
    public static string Tools => Say("map.tools");

    /// <summary>The buttons: what each does, and its words.</summary>
    public static IReadOnlyList<(string Action, string Words)> Buttons =>
    [
        ("closer", Say("map.closer")), ("farther", Say("map.farther")), ("whole", Say("map.whole")),
        ("left", Say("map.left")), ("right", Say("map.right")), ("up", Say("map.up")), ("down", Say("map.down")),
    ];

    /// <summary>What the dotted line of a chart is.</summary>
    public static string Smooth => Say("smooth.legend");
}
