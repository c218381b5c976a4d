using Indicators.Analysis.Cells;
using Indicators.Monitoring;
using NodaTime;
using Xunit;
using static Indicators.Analysis.Tests.Programmes;

namespace Indicators.Analysis.Tests;

public class CellTableTests
{
    private static readonly Station[] OneStation = [Pond("s", "w", "990101")];

    [Fact]
    public void Survey_inside_the_window_counts_silence_as_zero_and_outside_says_nothing()
    {
        var data = Data(OneStation, [Frog("a")],
        [
            Listen("1", "s", new LocalDate(2020, 4, 1), ("a", 2)),
            Listen("2", "s", new LocalDate(2020, 7, 31)),
            Listen("3", "s", new LocalDate(2020, 8, 1), ("a", 3)),
            Listen("4", "s", new LocalDate(2020, 3, 31)),
        ]);
        var cells = CellTable.Build(data, null);
        int year = 2020 - cells.FirstYear;
        Assert.Equal((2, 2), (cells[0].Effort(0, year), cells[0].Calls(0, year)));
        Assert.Equal(2, cells.OutsideEveryWindow);
        Assert.Equal(4, cells.Surveys(0, year));
        Assert.Equal(0, cells[0].FullChorus(0, year));
    }

    [Fact]
    public void Window_over_the_years_end_belongs_to_the_year_it_opened()
    {
        var winter = new CallingWindow(new AnnualDate(11, 15), new AnnualDate(2, 10));
        var data = Data(OneStation, [Frog("a", window: winter)],
            [Listen("1", "s", new LocalDate(2020, 1, 5), ("a", 1)), Listen("2", "s", new LocalDate(2020, 12, 1), ("a", 3))]);
        var cells = CellTable.Build(data, null);
        Assert.Equal(1, cells[0].Calls(0, 2019 - cells.FirstYear));
        Assert.Equal(3, cells[0].Calls(0, 2020 - cells.FirstYear));
    }

    [Fact]
    public void Nearest_watershed_with_a_window_of_its_own_decides()
    {
        var late = new CallingWindow(new AnnualDate(6, 1), new AnnualDate(6, 30));
        var early = new CallingWindow(new AnnualDate(4, 1), new AnnualDate(4, 30));
        var data = Data(OneStation, [Frog("a")], [Listen("1", "s", new LocalDate(2020, 4, 10), ("a", 1))],
            [new ExpectedSpecies(Code("99"), SpeciesId("a"), late), new ExpectedSpecies(Code("9901"), SpeciesId("a"), early)]);
        Assert.Equal(1, CellTable.Build(data, null)[0].TotalEffort(0));
    }

    [Fact]
    public void Seasons_after_the_last_are_left_out()
    {
        var data = Data(OneStation, [Frog("a")],
            [Listen("1", "s", new LocalDate(2020, 5, 1), ("a", 1)), Listen("2", "s", new LocalDate(2021, 5, 1), ("a", 1))]);
        Assert.Equal(1, CellTable.Build(data, 2020)[0].TotalEffort(0));
    }
}
