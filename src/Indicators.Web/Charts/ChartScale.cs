namespace Indicators.Web.Charts;

/// <summary>The two axes of an index chart in pixels: seasons along, index from 0 up.</summary>
internal sealed class ChartScale
{
    // A band may reach so many times as high as the line before it is cut, so that one wild season does not flatten the rest.
    private const double HighestBandToLine = 1.8;
    private const double LowestTop = 120;

    /// <summary>The index of the baseline seasons.</summary>
    public const double Baseline = 100;

    private readonly int _firstSeason, _seasons;

    public ChartScale(ChartSeries series, ChartSize size)
    {
        Size = size;
        _firstSeason = series.FirstSeason;
        _seasons = Math.Max(1, series.LastSeason - series.FirstSeason);
        if (series.IsShare)
        {
            (Top, Step) = (100, 25);
            return;
        }
        HasBaseline = true;
        double line = series.Points.Max(point => Math.Max(Math.Max(point.Index ?? 0, point.Dot ?? 0), point.Smooth ?? 0));
        double band = series.Points.Max(point => point.Upper ?? 0);
        double wanted = Math.Max(Math.Max(LowestTop, line * 1.05), Math.Min(band, HighestBandToLine * Math.Max(line, 100)));
        Step = StepOf(wanted);
        Top = Step * Math.Ceiling(wanted / Step);
        Cuts = band > Top;
    }

    public ChartSize Size { get; }

    /// <summary>Whether there are baseline seasons to set values beside.</summary>
    public bool HasBaseline { get; }

    /// <summary>Whether the baseline's own label has room beside the zero's.</summary>
    public bool HasRoomForBaselineLabel => Y(0) - Y(Baseline) >= 14;

    /// <summary>The index at the top of the chart.</summary>
    public double Top { get; }

    /// <summary>The index between two grid lines.</summary>
    public double Step { get; }

    /// <summary>Whether part of the band lies above the top.</summary>
    public bool Cuts { get; }

    public double X(int season) => Size.Left + (Size.PlotWidth * (season - _firstSeason) / _seasons);

    public double Y(double index) => Size.Top + (Size.PlotHeight * (1 - (Math.Min(index, Top) / Top)));

    /// <summary>The grid's lines, without the one of the baseline, which is always drawn.</summary>
    public IEnumerable<double> IndexTicks()
    {
        for (double index = 0; index <= Top; index += Step)
        {
            if (index != Baseline || !HasBaseline)
                yield return index;
        }
    }

    /// <summary>Seasons to label, last one included, far enough apart to read.</summary>
    public IEnumerable<int> SeasonTicks()
    {
        const double LabelWidth = 46;
        int most = Math.Max(1, (int)(Size.PlotWidth / LabelWidth));
        int step = (int)Math.Ceiling((double)_seasons / most);
        for (int season = _firstSeason + _seasons; season >= _firstSeason; season -= step)
            yield return season;
    }

    private static double StepOf(double top)
    {
        double[] steps = [20, 25, 50, 100, 200, 250, 500, 1000, 2000, 5000, 10000];
        foreach (double step in steps)
        {
            // A line at 100 must always be one of them.
            if (top / step <= 5 && 100 % step == 0) return step;
            if (step > 100 && top / step <= 5) return step;
        }
        return Math.Pow(10, Math.Ceiling(Math.Log10(top / 5)));
    }
}

/// <summary>The size of a chart and of its margins, in the pixels it is drawn for.</summary>
internal sealed record ChartSize(string Name, int Width, int Height)
{
    public static ChartSize Wide { get; } = new("wide", 720, 330);

    public static ChartSize Narrow { get; } = new("narrow", 330, 250);

    public static ChartSize Small { get; } = new("small", 330, 190);

    public int Left { get; } = 38;

    public int Right { get; } = 46;

    public int Top { get; } = 14;

    public int Bottom { get; } = 26;

    public int PlotWidth => Width - Left - Right;

    public int PlotHeight => Height - Top - Bottom;
}
