using Indicators.Statistics.Resampling;

namespace Indicators.Statistics.Occupancy;

/// <summary>
/// Draws of a fit's parameters from their asymptotic normal distribution on the logit scale, parameters at 0 or 1 held there.
/// </summary>
/// <remarks>
/// Draws come in pairs mirrored at the estimate, so that averages carry no error of odd order. A draw depends only on the
/// seed, the stream and its number.
/// </remarks>
public sealed class ParameterDraws
{
    private readonly double[] _root;
    private readonly uint _key0, _key1, _stream0, _stream1;

    private ParameterDraws(OccupancyFit fit, double[] root, int count, ulong seed, ulong stream)
    {
        (Fit, _root, Count) = (fit, root, count);
        (_key0, _key1) = ((uint)seed, (uint)(seed >> 32));
        (_stream0, _stream1) = ((uint)stream, (uint)(stream >> 32));
    }

    /// <summary>The fit.</summary>
    public OccupancyFit Fit { get; }

    /// <summary>How many draws there are, an even number.</summary>
    public int Count { get; }

    /// <summary>Prepares draws.</summary>
    /// <param name="fit">The fit.</param>
    /// <param name="count">How many, rounded up to an even number.</param>
    /// <param name="seed">The run's seed: the generator's key.</param>
    /// <param name="stream">Tells draws under one seed apart.</param>
    /// <returns>Null when the fit has no estimates, or no covariance.</returns>
    public static ParameterDraws? Of(OccupancyFit fit, int count, ulong seed, ulong stream)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(count, 1);
        if (!fit.HasEstimates || !fit.HasCovariance)
            return null;
        // Cholesky by rows; a parameter that is held has a row of zeros.
        int n = fit.Layout.Count;
        var root = new double[n * n];
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j <= i; j++)
            {
                double sum = fit.Covariance(i, j);
                for (int k = 0; k < j; k++)
                    sum -= root[i * n + k] * root[j * n + k];
                root[i * n + j] = i == j ? Math.Sqrt(Math.Max(0, sum)) : root[j * n + j] > 0 ? sum / root[j * n + j] : 0;
            }
        }
        return new ParameterDraws(fit, root, (count + 1) / 2 * 2, seed, stream);
    }

    /// <summary>Fills in one draw.</summary>
    /// <param name="number">0 up to <see cref="Count"/>; 2k and 2k + 1 are mirrored.</param>
    /// <param name="parameters">One place a parameter.</param>
    public void Draw(int number, Span<double> parameters)
    {
        int n = Fit.Layout.Count;
        Fit.Point.CopyTo(parameters);
        double sign = number % 2 == 0 ? 1 : -1;
        for (int k = 0; k < n; k += 2)
        {
            // Two normals from four words (Box and Muller 1958, "A note on the generation of random normal deviates").
            var (a, b, c, d) = Philox.Block((uint)k, (uint)(number / 2), _stream0, _stream1, _key0, _key1);
            double radius = sign * Math.Sqrt(-2 * Math.Log(Unit(a, b)));
            var (sine, cosine) = Math.SinCos(2 * Math.PI * Unit(c, d));
            Add(k, radius * cosine, parameters);
            if (k + 1 < n)
                Add(k + 1, radius * sine, parameters);
        }
    }

    private void Add(int column, double normal, Span<double> parameters)
    {
        int n = parameters.Length;
        for (int i = column; i < n; i++)
            parameters[i] += _root[i * n + column] * normal;
    }

    /// <summary>A number between 0 and 1, ends excluded, from 52 bits.</summary>
    private static double Unit(uint high, uint low) => (((ulong)high << 20 | low >> 12) + 0.5) * (1.0 / (1UL << 52));
}
