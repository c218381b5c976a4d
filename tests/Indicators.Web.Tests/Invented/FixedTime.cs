namespace Indicators.Web.Tests.Invented;

/// <summary>A clock that stands still: by default in the evening of 14 May 2026 in the invented programme's time zone, already the 15th in Greenwich.</summary>
internal sealed class FixedTime(DateTimeOffset? now = null) : TimeProvider
{
    public override DateTimeOffset GetUtcNow() => now ?? new DateTimeOffset(2026, 5, 15, 3, 0, 0, TimeSpan.Zero);
}
