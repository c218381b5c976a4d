namespace Indicators.Analysis.Fits;

/// <summary>Counts how many threads are at work at once. Any thread may use it.</summary>
internal sealed class ThreadGauge
{
    private int _now, _most;

    /// <summary>The most that were at work at once so far.</summary>
    public int Most => Volatile.Read(ref _most);

    /// <summary>A thread begins to work; it ends when what is returned is disposed of.</summary>
    public Shift Enter()
    {
        int now = Interlocked.Increment(ref _now);
        for (int most = Most; now > most;)
        {
            int before = Interlocked.CompareExchange(ref _most, now, most);
            if (before == most) break;
            most = before;
        }
        return new Shift(this);
    }

    /// <summary>One thread's time at work.</summary>
    internal readonly struct Shift(ThreadGauge gauge) : IDisposable
    {
        /// <summary>The thread is done.</summary>
        public void Dispose() => Interlocked.Decrement(ref gauge._now);
    }
}
