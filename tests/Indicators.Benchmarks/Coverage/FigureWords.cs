using System.Text.RegularExpressions;

namespace Indicators.Benchmarks.Coverage;

/// <summary>The words of pictures in one language. English ones are written where they are drawn.</summary>
/// <param name="Tag">What the language's pictures have in their names: nothing in English, else <c>.es</c> or the like.</param>
/// <param name="Phrases">What is said for a whole English label.</param>
/// <param name="Nouns">What is said for a noun that stands after a number.</param>
internal sealed partial record FigureWords(string Tag, IReadOnlyDictionary<string, string> Phrases, IReadOnlyDictionary<string, string> Nouns)
{
    public static readonly FigureWords English = new("", new Dictionary<string, string>(), new Dictionary<string, string>());

    /// <summary>Spanish, in the words of <c>docs/methods.es.md</c>.</summary>
    public static readonly FigureWords Spanish = new(
        ".es",
        new Dictionary<string, string>
        {
            ["How often the two ranges held the slope they are for, by wetlands, seasons and shared springs"] = "Cuántas veces los dos rangos contuvieron la pendiente que les toca, por humedales, temporadas y primaveras compartidas",
            ["How often the two ranges held, one difficulty at a time"] = "Cuántas veces acertaron los dos rangos, con una dificultad a la vez",
            ["even springs"] = "primaveras parejas",
            ["mild springs, sd 0.1"] = "primaveras leves, d. e. 0,1",
            ["strong springs, sd 0.3"] = "primaveras fuertes, d. e. 0,3",
            ["range over just these seasons"] = "rango solo en estas temporadas",
            ["range beneath good and bad springs"] = "rango de fondo, más allá de primaveras buenas y malas",
            ["over just these seasons"] = "solo en estas temporadas",
            ["beneath good and bad springs"] = "de fondo, más allá de las primaveras",
            ["seasons"] = "temporadas",
            ["none of these"] = "ninguna de estas",
            ["serial 0.3"] = "primaveras que duran, 0,3",
            ["serial 0.5"] = "primaveras que duran, 0,5",
            ["sparse"] = "canto escaso",
            ["very sparse"] = "canto muy escaso",
            ["loud"] = "canto fuerte",
            ["over-dispersed 0.5"] = "canto disperso, 0,5",
            ["over-dispersed 1"] = "canto disperso, 1",
            ["uneven wetlands"] = "humedales desiguales",
            ["wetlands alike"] = "humedales iguales",
            ["slopes apart"] = "pendientes distintas",
            ["half missing"] = "falta la mitad",
            ["half join late"] = "la mitad, desde tarde",
            ["springs of their own"] = "primaveras propias",
            ["springs in common"] = "primaveras en común",
            ["one species"] = "una especie",
            ["twelve species"] = "doce especies",
            ["some at ceiling"] = "algunos en el techo",
            ["most at ceiling"] = "casi todos en el techo",
            ["no change"] = "ningún cambio",
        },
        new Dictionary<string, string> { ["wetlands"] = "humedales", ["seasons"] = "temporadas" });

    /// <summary>A label in this language; its numbers with a decimal comma where a noun or a sign goes with them.</summary>
    public string Say(string label) => Tag.Length == 0 ? label : Phrases.TryGetValue(label, out string? said) ? said
        : Numbers().IsMatch(label) ? Decimal().Replace(Noun().Replace(label, noun => Nouns[noun.Value]), ",")
        : throw new ArgumentException($"No word for “{label}” in {Tag}.", nameof(label));

    [GeneratedRegex(@"^[≤\d]")]
    private static partial Regex Numbers();

    [GeneratedRegex(@"\p{L}+")]
    private static partial Regex Noun();

    [GeneratedRegex(@"(?<=\d)\.(?=\d)")]
    private static partial Regex Decimal();
}
