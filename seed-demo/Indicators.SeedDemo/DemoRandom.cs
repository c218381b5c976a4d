namespace Indicators.SeedDemo;

/// <summary>What a stream of random numbers is for. Streams do not disturb each other.</summary>
public enum Draw
{
    Border,
    Place,
    Years,
    Visit,
    Evening,
    Observer,
    Wetland,
    Station,
    Season,
    Call,
}

/// <summary>
/// A small seeded generator for the demo only: SplitMix64 (Steele, Lea and Flood 2014, "Fast splittable pseudorandom number
/// generators"), keyed by what is drawn, so that a change in one thing leaves every other draw as it was.
/// </summary>
public sealed class DemoRandom
{
    private const ulong Step = 0x9E3779B97F4A7C15UL;
    private ulong _state;

    private DemoRandom(ulong state) => _state = state;

    /// <summary>The stream of one purpose and one thing.</summary>
    public static DemoRandom For(ulong seed, Draw purpose, params ReadOnlySpan<int> key)
    {
        ulong state = Mix(seed + Step);
        state = Mix(state ^ ((ulong)purpose + 1) * Step);
        foreach (int part in key)
            state = Mix((state + Step) ^ (uint)part);
        return new DemoRandom(state);
    }

    /// <summary>The next 64 bits.</summary>
    public ulong Bits() => Mix(_state += Step);

    /// <summary>Uniform in [0, 1).</summary>
    public double Uniform() => (Bits() >> 11) * (1.0 / (1UL << 53));

    /// <summary>Uniform from <paramref name="low"/> to <paramref name="high"/>.</summary>
    public double Between(double low, double high) => low + (high - low) * Uniform();

    /// <summary>A whole number from <paramref name="low"/> to <paramref name="high"/>, both included.</summary>
    public int Whole(int low, int high) => low + (int)(Uniform() * (high - low + 1));

    /// <summary>True with this probability.</summary>
    public bool Chance(double probability) => Uniform() < probability;

    /// <summary>A standard normal draw (Box and Muller 1958).</summary>
    public double Normal() => Math.Sqrt(-2 * Math.Log(1 - Uniform())) * Math.Cos(2 * Math.PI * Uniform());

    private static ulong Mix(ulong z)
    {
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EBUL;
        return z ^ (z >> 31);
    }
}
