using System.Globalization;

namespace Indicators.Benchmarks.Coverage;

/// <summary>Counts of one kind of interval over worlds. Series of one world go together, so errors are those of worlds.</summary>
internal sealed class Tally
{
    private readonly List<(int Given, int Seasons, int Beneath)> _worlds = [];
    private double _width;
    private int _finite, _series, _up, _down, _steady;

    /// <summary>Adds what one world's series gave.</summary>
    public void AddWorld(IReadOnlyList<Outcome> outcomes)
    {
        int given = 0, seasons = 0, beneath = 0;
        foreach (var one in outcomes)
        {
            _series++;
            if (one.Lower is not { } lower || one.Upper is not { } upper)
                continue;
            given++;
            seasons += lower <= one.SeasonsTruth && one.SeasonsTruth <= upper ? 1 : 0;
            beneath += lower <= one.BeneathTruth && one.BeneathTruth <= upper ? 1 : 0;
            _up += one.Word > 0 ? 1 : 0;
            _down += one.Word < 0 ? 1 : 0;
            _steady += one.Word == 0 ? 1 : 0;
            if (double.IsFinite(upper) && double.IsFinite(lower))
                (_width, _finite) = (_width + upper - lower, _finite + 1);
        }
        _worlds.Add((given, seasons, beneath));
    }

    public const string Heading = "given,held_seasons,held_seasons_error,held_beneath,held_beneath_error,width,said_up,said_down,said_steady";

    /// <summary>The columns of <see cref="Heading"/>; empty where nothing was given.</summary>
    public override string ToString()
    {
        double given = _worlds.Sum(w => w.Given);
        if (given == 0)
            return string.Create(CultureInfo.InvariantCulture, $"{given / _series:0.####},,,,,,,,");
        double seasons = _worlds.Sum(w => w.Seasons) / given, beneath = _worlds.Sum(w => w.Beneath) / given;
        double seasonsError = Math.Sqrt(_worlds.Sum(w => Square(w.Seasons - seasons * w.Given))) / given;
        double beneathError = Math.Sqrt(_worlds.Sum(w => Square(w.Beneath - beneath * w.Given))) / given;
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{given / _series:0.####},{seasons:0.####},{seasonsError:0.####},{beneath:0.####},{beneathError:0.####},{_width / _finite:0.###},{_up / given:0.####},{_down / given:0.####},{_steady / given:0.####}");
    }

    private static double Square(double x) => x * x;
}

/// <summary>One interval of one series beside the truths, in the same unit; a word is 1 up, −1 down, 0 steady, else null.</summary>
internal readonly record struct Outcome(double? Lower, double? Upper, double SeasonsTruth, double BeneathTruth, int? Word);

/// <summary>The mean of one value a series, with its error over worlds.</summary>
internal sealed class Mean
{
    private readonly List<(double Sum, int Count)> _worlds = [];

    public void AddWorld(IEnumerable<double> values)
    {
        double[] finite = [.. values.Where(double.IsFinite)];
        _worlds.Add((finite.Sum(), finite.Length));
    }

    public double Value => _worlds.Sum(w => w.Sum) / _worlds.Sum(w => w.Count);

    public double Error
    {
        get
        {
            double mean = Value;
            return Math.Sqrt(_worlds.Sum(w => (w.Sum - mean * w.Count) * (w.Sum - mean * w.Count))) / _worlds.Sum(w => w.Count);
        }
    }
}
