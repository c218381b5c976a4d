using Indicators.Web.Tests.Invented;
using Xunit;

[assembly: AssemblyFixture(typeof(SharedApp))]

namespace Indicators.Web.Tests.Invented;

/// <summary>One running app over the invented edition for all tests that only read.</summary>
public sealed class SharedApp : IAsyncLifetime
{
    internal RunningApp App { get; private set; } = null!;

    public async ValueTask InitializeAsync() => App = await RunningApp.Start();

    public ValueTask DisposeAsync() => App.DisposeAsync();
}
