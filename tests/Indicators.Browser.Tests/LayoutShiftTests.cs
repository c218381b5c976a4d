using Xunit;

namespace Indicators.Browser.Tests;

/// <summary>Nothing on a page moves while it loads (Layout Instability API; under 0.1 is good by the Web Vitals, we ask for a tenth of that).</summary>
public sealed class LayoutShiftTests(Chromium chromium)
{
    private const double Most = 0.01;

    private const string Watch = """
        () => new Promise(done => {
          const shifts = [];
          new PerformanceObserver(list => { for (const shift of list.getEntries()) shifts.push(shift.value); }).observe({ type: 'layout-shift', buffered: true });
          setTimeout(() => done(shifts.reduce((sum, shift) => sum + shift, 0)), 700);
        })
        """;

    public static TheoryData<string, int> Pages
    {
        get
        {
            var pages = new TheoryData<string, int>();
            foreach (string address in new[] { "/", "/watersheds/990100010101", "/watersheds/99010001", "/species/RASY", "/neighbourhood", "/neighbourhood/990100010101", "/season", "/w/w1", "/es/watersheds/990100010101" })
            {
                pages.Add(address, 360);
                pages.Add(address, 1280);
            }
            return pages;
        }
    }

    [Theory]
    [MemberData(nameof(Pages))]
    public async Task Page_does_not_move_while_it_loads(string address, int width)
    {
        await using var view = await chromium.Open(address, width);
        double moved = await view.Page.EvaluateAsync<double>(Watch);
        Assert.True(moved < Most, $"{address} at {width} px moved by {moved}.");
    }

    [Fact]
    public async Task Watch_sees_a_page_that_moves()
    {
        await using var view = await chromium.Open("/watersheds/990100010101", 1280);
        await view.Page.EvaluateAsync("() => { const gap = document.createElement('div'); gap.style.setProperty('height', '300px'); document.body.prepend(gap); }");
        Assert.True(await view.Page.EvaluateAsync<double>(Watch) > 10 * Most);
    }
}
