using System.Globalization;
using System.Text.RegularExpressions;
using Xunit;

namespace Indicators.Wording.Tests;

public sealed partial class LanguageTests
{
    public static TheoryData<string> Others => [.. Language.All.Where(language => !language.IsDefault).Select(language => language.Tag)];

    /// <summary>Does something as a page in one language would.</summary>
    internal static T In<T>(string tag, Func<T> act)
    {
        var before = CultureInfo.CurrentUICulture;
        try
        {
            CultureInfo.CurrentUICulture = CultureInfo.GetCultureInfo(tag);
            return act();
        }
        finally
        {
            CultureInfo.CurrentUICulture = before;
        }
    }

    private static Language Of(string tag) => Language.Of(CultureInfo.GetCultureInfo(tag));

    [Fact]
    public void English_and_Spanish_are_there() => Assert.Equal(["en", "es"], Language.All.Select(language => language.Tag));

    [Theory]
    [InlineData("es", "es")]
    [InlineData("es-MX", "es")]
    [InlineData("en-GB", "en")]
    [InlineData("de-DE", "en")]
    [InlineData("", "en")]
    public void Culture_picks_its_language_and_English_where_there_is_none(string culture, string tag) => Assert.Equal(tag, Of(culture).Tag);

    [Theory]
    [MemberData(nameof(Others))]
    public void Every_message_exists_in_every_language_and_has_the_same_places(string tag)
    {
        var other = Of(tag);
        Assert.Equal(Keys(Language.Default), Keys(other));
        foreach (string key in Keys(Language.Default))
            Assert.True(Language.Default.ArgumentsOf(key).SetEquals(other.ArgumentsOf(key)), key);
    }

    private static List<string> Keys(Language language) =>
        [.. language.Messages.Select(message => message.Key).Where(key => !key.StartsWith("language.plural", StringComparison.Ordinal)).Order(StringComparer.Ordinal)];

    [Fact]
    public void Message_is_tidy_in_every_language()
    {
        foreach (var language in Language.All)
        {
            foreach (var (key, pattern) in language.Messages.Where(message => !message.Key.StartsWith("language.", StringComparison.Ordinal)))
                Assert.False(pattern.Trim().Length == 0 || pattern != pattern.Trim() || Untidy().IsMatch(pattern), $"{language.Tag} {key}: {pattern}");
        }
    }

    [Fact]
    public void Spanish_is_not_English_left_as_it_was()
    {
        var english = Language.Default.Messages.ToDictionary(message => message.Key, message => message.Pattern);
        var same = Of("es").Messages.Where(message => Letters().Count(Places().Replace(message.Pattern, "")) > 14 && english.GetValueOrDefault(message.Key) == message.Pattern);
        Assert.Equal([], same.Select(message => message.Key));
    }

    [Fact]
    public void Key_that_is_not_in_the_files_is_an_error() => Assert.Throws<KeyNotFoundException>(() => Language.Say("no.such.message"));

    [Fact]
    public void Numbers_and_days_are_written_the_language_s_way()
    {
        Assert.Equal("4,1 % menos", In("es", () => ChangeWords.Amount(-4.1, 0.5)).Replace('\u00A0', ' '));
        Assert.Equal("12 345", In("es", () => Phrases.Count(12345)).Replace('\u00A0', ' '));
        Assert.Equal("2 de abril", In("es", () => Phrases.Day(new NodaTime.AnnualDate(4, 2))));
        Assert.Equal("29 February", Phrases.Day(new NodaTime.AnnualDate(2, 29)).Replace('\u00A0', ' '));
        Assert.Equal("a, b y c", In("es", () => Phrases.Join(["a", "b", "c"])));
    }

    // Real Academia Española, Ortografía 2010: y becomes e before the sound of i that makes a syllable of its own; from memory.
    [Theory]
    [InlineData("Isla Verde", "Lago e Isla Verde")]
    [InlineData("Higuera", "Lago e Higuera")]
    [InlineData("Hielo", "Lago y Hielo")]
    [InlineData("Otter Lake", "Lago y Otter Lake")]
    public void Spanish_joins_with_e_before_the_sound_of_i(string last, string said) => Assert.Equal(said, In("es", () => Phrases.Join(["Lago", last])));

    /// <summary>Left, what was said in other words before; right, the one word for it.</summary>
    [Theory]
    [InlineData("puntuaci|calificaci", "puntaje")]
    [InlineData("intervalo", "rango", "analyst.")]
    [InlineData("respald", "apoyo")]
    [InlineData("censo|sondeo", "muestreo")]
    [InlineData("temporada a temporada", "temporada por temporada")]
    [InlineData("normas", "reglas")]
    [InlineData("descenso", "baja")]
    [InlineData("poblaci|abundan", "canto")]
    [InlineData("(^|[^\\p{L}])(vosotros|os|vuestr)([^\\p{L}]|$)", "usted")]
    public void Spanish_keeps_to_one_word_for_each_thing(string wrong, string right, string but = "-")
    {
        var messages = Of("es").Messages.ToList();
        Assert.Equal([], messages.Where(message => Regex.IsMatch(message.Pattern, wrong, RegexOptions.IgnoreCase) && !message.Key.StartsWith(but, StringComparison.Ordinal)).Select(message => message.Key));
        if (right != "usted")
            Assert.Contains(messages, message => message.Pattern.Contains(right, StringComparison.OrdinalIgnoreCase));
    }

    [Fact]
    public void What_rounds_to_nothing_has_no_sign()
    {
        Assert.Equal("0.0", Phrases.WithSign(-0.04, "0.0"));
        Assert.Equal("\u22120.1", Phrases.WithSign(-0.06, "0.0"));
        Assert.Equal("+3", Phrases.WithSign(3.2, "0"));
    }

    [GeneratedRegex(@"  | [.,;:](?!\d)|\.\.|\s%(?<!\u00A0%)|\d %")]
    private static partial Regex Untidy();

    [GeneratedRegex(@"\{[^{}]*\}")]
    private static partial Regex Places();

    [GeneratedRegex(@"\p{L}")]
    private static partial Regex Letters();
}
