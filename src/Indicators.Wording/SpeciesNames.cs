using Indicators.Monitoring;

namespace Indicators.Wording;

/// <summary>
/// Common names as they stand inside a sentence: <c>wood frog</c>, but <c>American toad</c> and <c>Cope's gray treefrog</c>,
/// however the programme's list writes them.
/// </summary>
public static class SpeciesNames
{
    // Names of places and people that stand in common names of North American frogs and toads (from memory). A name that is
    // missing here reads in small letters, which is a blemish and no error.
    private static readonly HashSet<string> Proper = new(StringComparer.Ordinal)
    {
        "American", "Arizona", "Basin", "California", "Californian", "Canadian", "Carolina", "Cascades", "Colorado", "Columbia",
        "Florida", "Houston", "Illinois", "Mexican", "Mexico", "Oregon", "Pacific", "Sierra", "Texas", "Wyoming", "Yosemite",
    };

    private static readonly string[] Pairs = ["Great Plains", "Great Basin", "Rio Grande", "Gulf Coast", "New Mexico", "New Jersey", "Rocky Mountain"];

    /// <summary>The name inside a sentence, in the language sentences speak where the programme gave one, else the programme's own.</summary>
    public static string Inside(Species species) => species.OtherNames.In(Language.Current.Tag) ?? Inside(species.CommonName);

    /// <summary>The programme's own name inside a sentence.</summary>
    /// <param name="commonName">The name as the programme wrote it.</param>
    public static string Inside(string commonName)
    {
        string kept = Array.Find(Pairs, pair => commonName.StartsWith(pair, StringComparison.Ordinal)) ?? "";
        return kept + string.Join(' ', commonName[kept.Length..].Split(' ').Select(Small));
    }

    private static string Small(string word)
    {
        bool capitalised = word.Length > 1 && char.IsUpper(word[0]) && word.Skip(1).All(letter => !char.IsUpper(letter));
        bool possessive = word.EndsWith("'s", StringComparison.Ordinal) || word.EndsWith("\u2019s", StringComparison.Ordinal);
        return capitalised && !possessive && !Proper.Contains(word) ? char.ToLowerInvariant(word[0]) + word[1..] : word;
    }
}
