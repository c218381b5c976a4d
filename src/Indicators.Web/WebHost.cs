using Indicators.Application.Editions;
using Indicators.Storage;
using Indicators.Storage.Editions;
using Indicators.Web.Pages;
using Indicators.Web.Reading;
using Indicators.Web.Serving;
using Microsoft.AspNetCore.DataProtection.KeyManagement;

namespace Indicators.Web;

/// <summary>Puts the web app together, for whoever hosts it.</summary>
public static class WebHost
{
    /// <summary>Where the app listens unless told otherwise by ASPNETCORE_URLS or --urls.</summary>
    public const string DefaultUrl = "http://localhost:5080";

    /// <summary>The app over any reader of editions.</summary>
    /// <param name="args">What the web server is started with, such as --urls.</param>
    /// <param name="reader">Where editions are read; used from several threads at once.</param>
    /// <param name="clock">What day it is; null for the machine's own clock.</param>
    public static WebApplication Build(string[] args, IEditionReader reader, TimeProvider? clock = null) => Build(args, reader, clock, null);

    /// <summary>The same, with a service of it changed.</summary>
    internal static WebApplication Build(string[] args, IEditionReader reader, TimeProvider? clock, Action<IServiceCollection>? change)
    {
        var builder = WebApplication.CreateBuilder(new WebApplicationOptions
        {
            // Pages are compiled into this assembly; its name, not the host's, is where they are looked for.
            ApplicationName = typeof(WebHost).Assembly.GetName().Name,
            ContentRootPath = AppContext.BaseDirectory,
            EnvironmentName = Environments.Production,
            Args = args,
        });
        if (string.IsNullOrWhiteSpace(builder.Configuration[WebHostDefaults.ServerUrlsKey]))
            builder.WebHost.UseUrls(DefaultUrl);
        builder.WebHost.ConfigureKestrel(kestrel => kestrel.AddServerHeader = false);
        Quieten(builder.Logging);
        AddServices(builder.Services, reader, clock ?? TimeProvider.System);
        change?.Invoke(builder.Services);

        var app = builder.Build();
        Use(app);
        return app;
    }

    /// <summary>
    /// Makes the app ready for its first readers once it listens, by reading a few pages itself. Nobody need wait for it: the app
    /// answers meanwhile. It asks nobody but this app.
    /// </summary>
    /// <param name="app">An app that was started.</param>
    public static Task WarmUp(WebApplication app) => Pages.WarmUp.Run(app);

    // Addresses name places and species, so requests are not logged.
    private static void Quieten(ILoggingBuilder logging)
    {
        logging.AddFilter("Microsoft.AspNetCore", LogLevel.Warning);
        logging.AddFilter("Microsoft.AspNetCore.DataProtection", LogLevel.Error);
        logging.AddFilter("Microsoft.Hosting.Lifetime", LogLevel.Warning);
    }

    private static void AddServices(IServiceCollection services, IEditionReader reader, TimeProvider clock)
    {
        services.AddSingleton(clock);
        services.AddSingleton<PublicAddress>();
        services.AddSingleton(reader);
        services.AddSingleton(services => new ExportEdition(services.GetRequiredService<IEditionReader>(), services.GetRequiredService<ComparisonShelf>().Of));
        services.AddSingleton<CompareEditions>();
        services.AddSingleton<EditionShelf>();
        services.AddSingleton<ComparisonShelf>();
        services.AddSingleton<Assets>();
        services.AddSingleton<MethodsTexts>();
        services.AddRazorPages(pages => pages.Conventions.AddPageRoute("/Season", "/season"));
        services.Configure<RouteOptions>(routes => routes.LowercaseUrls = true);
        services.Configure<KeyManagementOptions>(keys => keys.XmlRepository = new KeysInMemory());
        services.AddKeptPages();
    }

    private static void Use(WebApplication app)
    {
        app.UseSecurityHeaders();
        app.UseLanguageByAddress();
        app.UseExceptionHandler("/problem");
        app.UseStatusCodePagesWithReExecute("/problem", "?code={0}");
        app.UseKeptPages();
        app.UseRouting();
        app.MapAssets();
        app.MapDownloads();
        app.MapShapes();
        app.MapShared();
        app.MapRazorPages();
    }
}
