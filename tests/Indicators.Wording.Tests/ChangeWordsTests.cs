using Xunit;

namespace Indicators.Wording.Tests;

public sealed class ChangeWordsTests
{
    [Theory]
    [InlineData(-6.2, -2.3, "2 to 6 % less")]
    [InlineData(2.3, 6.2, "2 to 6 % more")]
    [InlineData(-6.2, 2.3, "from 6 % less to 2 % more")]
    [InlineData(-6.2, -1.3, "1.3 to 6.2 % less")]
    [InlineData(-6.2, -0.02, "from 6.2 % less to almost no change")]
    [InlineData(-0.02, 0.03, "almost no change")]
    [InlineData(-4.1, -3.9, "about 4 % less")]
    [InlineData(-99.8, -20.0, "20 to over 99 % less")]
    [InlineData(20.0, 123456.0, "20 to over 1,000 % more")]
    [InlineData(null, -12.0, "at least 12 % less")]
    [InlineData(null, 8.0, "from total loss to 8 % more")]
    [InlineData(12.0, null, "at least 12 % more")]
    [InlineData(-12.0, null, "from 12 % less to a rise with no limit")]
    [InlineData(null, null, "from total loss to a rise with no limit")]
    public void Range_reads_as_people_say_it(double? lower, double? upper, string words) =>
        Assert.Equal(words, ChangeWords.Range(lower, upper).Replace('\u00A0', ' '));

    [Theory]
    [InlineData(-0.04, "almost no change")]
    [InlineData(0.0, "almost no change")]
    [InlineData(-0.3, "0.3 % less")]
    [InlineData(-1.96, "2.0 % less")]
    [InlineData(-4.4, "4 % less")]
    [InlineData(37.5, "38 % more")]
    public void Amount_is_rounded_sensibly_and_never_minus_nothing(double percent, string words) =>
        Assert.Equal(words, ChangeWords.Amount(percent).Replace('\u00A0', ' '));

    [Fact]
    public void Numbers_of_one_sentence_share_their_decimals() =>
        Assert.Equal("4.1 % less", ChangeWords.Amount(-4.1, -6.2, -0.7).Replace('\u00A0', ' '));
}
