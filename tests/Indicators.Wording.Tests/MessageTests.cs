using Indicators.Wording.Messages;
using Xunit;

namespace Indicators.Wording.Tests;

/// <summary>
/// The pattern syntax is that of ICU MessageFormat as published (ICU User Guide, "Formatting Messages"; apostrophes in the
/// mode DOUBLE_OPTIONAL), the plural rules those of Unicode CLDR (Unicode Technical Standard 35, part 3). Both from memory.
/// </summary>
public sealed class MessageTests
{
    private static readonly Digits Plain = new(".", ",", 4);

    private static readonly Grammar English = new(Plain, [("one", PluralRule.Parse("n = 1"))]);

    // CLDR's rules for Russian, whole numbers.
    private static readonly Grammar Russian = new(
        new Digits(",", "\u00A0", 5),
        [
            ("one", PluralRule.Parse("n % 10 = 1 and n % 100 != 11")),
            ("few", PluralRule.Parse("n % 10 = 2..4 and n % 100 != 12..14")),
            ("many", PluralRule.Parse("n % 10 = 0 or n % 10 = 5..9 or n % 100 = 11..14")),
        ]);

    private static string Say(string pattern, params Argument[] values) => Message.Parse(pattern).Say(values, English);

    [Theory]
    [InlineData(0, "no files")]
    [InlineData(1, "1 file of Ann")]
    [InlineData(2, "2 files of Ann")]
    [InlineData(12345, "12,345 files of Ann")]
    public void Plural_takes_exact_numbers_before_categories_and_writes_the_number(int n, string said) =>
        Assert.Equal(said, Say("{n, plural, =0 {no files} one {# file of {who}} other {# files of {who}}}", ("n", n), ("who", "Ann")));

    [Theory]
    [InlineData(1, "one")]
    [InlineData(2, "few")]
    [InlineData(5, "many")]
    [InlineData(11, "many")]
    [InlineData(12, "many")]
    [InlineData(21, "one")]
    [InlineData(22, "few")]
    [InlineData(111, "many")]
    [InlineData(0, "many")]
    public void Plural_rules_come_from_the_language(int n, string category) => Assert.Equal(category, Russian.CategoryOf(n));

    [Fact]
    public void Select_takes_the_case_that_is_named_and_other_else()
    {
        const string Pattern = "{kind, select, wetland {a {kind}} other {something}} {sure, select, yes {surely} other {perhaps}}";
        Assert.Equal("a wetland surely", Say(Pattern, ("kind", "wetland"), ("sure", true)));
        Assert.Equal("something perhaps", Say(Pattern, ("kind", "stream"), ("sure", false)));
    }

    [Fact]
    public void Apostrophes_are_letters_unless_they_quote() =>
        Assert.Equal("can't say {n} or it's", Say("can't say '{n}' or it''s", ("n", 1)));

    [Fact]
    public void Number_sign_is_a_letter_outside_plurals() => Assert.Equal("#1", Say("#{n}", ("n", 1)));

    [Theory]
    [InlineData("{n")]
    [InlineData("n}")]
    [InlineData("{n, plural, one {a}}")]
    [InlineData("{n, number, integer}")]
    [InlineData("{n, plural, one {a} other {b}")]
    [InlineData("a '{b")]
    public void Pattern_that_is_no_message_is_refused(string pattern) => Assert.Throws<FormatException>(() => Message.Parse(pattern));

    [Fact]
    public void Value_that_is_missing_is_an_error_and_not_a_gap() => Assert.Throws<ArgumentException>(() => Say("{n} of {all}", ("n", 1)));

    [Theory]
    [InlineData(1234, "1234")]
    [InlineData(12345, "12\u00A0345")]
    [InlineData(-3, "\u22123")]
    public void Digits_are_set_apart_from_where_the_language_does(long number, string text) => Assert.Equal(text, Russian.Digits.Whole(number));

    [Fact]
    public void Decimals_stand_behind_the_language_s_own_point()
    {
        Assert.Equal("0,5", Russian.Digits.Text(0.5, "0.0"));
        Assert.Equal("1234", Russian.Digits.Text(1234.2, "#,0"));
        Assert.Equal("1,234", Plain.Text(1234.2, "#,0"));
    }
}
