using Indicators.Storage.Editions;
using Indicators.Web.Serving;
using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.DependencyInjection;

namespace Indicators.Web.Tests.Invented;

/// <summary>The web app on a free local port, as a host other than itself starts it.</summary>
internal sealed class RunningApp : IAsyncDisposable
{
    private readonly WebApplication _app;

    private RunningApp(WebApplication app)
    {
        _app = app;
        Address = new Uri(app.Urls.Single());
        Client = new HttpClient(new SocketsHttpHandler { AllowAutoRedirect = false }) { BaseAddress = Address };
    }

    public Uri Address { get; }

    public HttpClient Client { get; }

    public static async Task<RunningApp> Start(IEditionReader? reader = null, TimeProvider? clock = null, string? publicAddress = null, Action<IServiceCollection>? change = null)
    {
        var app = WebHost.Build(["--urls", "http://127.0.0.1:0", .. publicAddress is null ? Array.Empty<string>() : ["--" + PublicAddress.Setting, publicAddress]], reader ?? InventedEdition.Reader(), clock ?? new FixedTime(), change);
        await app.StartAsync();
        return new RunningApp(app);
    }

    /// <summary>Reads a few pages itself, as a host asks it to once it listens.</summary>
    public Task WarmUp() => WebHost.WarmUp(_app);

    public async ValueTask DisposeAsync()
    {
        Client.Dispose();
        await _app.StopAsync();
        await _app.DisposeAsync();
    }
}
