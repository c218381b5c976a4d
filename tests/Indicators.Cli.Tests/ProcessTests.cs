using System.Diagnostics;
using Xunit;

namespace Indicators.Cli.Tests;

/// <summary>The program itself, started as people start it and stopped with a signal.</summary>
public sealed class ProcessTests
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);

    [Fact]
    public async Task Interrupt_during_an_analysis_ends_with_130_and_a_whole_database()
    {
        using var bench = new Bench();
        await bench.Run("import", bench.Folder, "--db", bench.Db);
        // Far more resamples than can be done before the signal comes.
        using var running = Start("analyse", "--db", bench.Db, "--resamples", "400000", "--threads", "1");
        // Under way, and so listening for signals, once the edition is begun, however long a busy machine takes to start a program.
        await Until(() => bench.Sql("SELECT count(*) FROM edition") is > 0L);
        Assert.False(running.HasExited);
        await Interrupt(running);
        string said = await running.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        Assert.Equal(130, await Ended(running));
        Assert.Contains("The database is whole.", said, StringComparison.Ordinal);
        Assert.Equal("", await running.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken));

        Assert.Equal("ok", bench.Sql("PRAGMA integrity_check"));
        Assert.Equal(0, (await bench.Run("analyse", "--db", bench.Db, "--resamples", "60")).Code);
    }

    [Fact]
    public async Task Serve_prints_its_address_shows_pages_with_their_style_and_stops_well()
    {
        using var bench = await new Bench().Published();
        using var running = Start("serve", "--db", bench.Db);
        string? line = await running.StandardError.ReadLineAsync(TestContext.Current.CancellationToken);
        Assert.StartsWith("Serving http://127.0.0.1:", line!, StringComparison.Ordinal);
        using var client = new HttpClient { BaseAddress = new Uri(line!.Split(' ')[1]) };

        string page = await client.GetStringAsync(new Uri("/", UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Contains("Upper Invented", page, StringComparison.Ordinal);
        string style = page.Split("rel=\"stylesheet\" href=\"")[1].Split('"')[0];
        byte[] bytes = await client.GetByteArrayAsync(new Uri(style, UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.True(bytes.Length > 200, $"The style sheet has {bytes.Length} bytes.");

        await Interrupt(running);
        Assert.Equal(0, await Ended(running));
        Assert.Equal([bench.Db], Directory.GetFiles(Path.GetDirectoryName(bench.Db)!, "programme.db*"));
    }

    private static Process Start(params string[] args)
    {
        // Tests started in the background of a script inherit an ignored interrupt, which the program rightly keeps ignoring.
        string[] line = [.. OperatingSystem.IsLinux() ? new[] { "env", "--default-signal=INT" } : [], "dotnet", Path.Combine(AppContext.BaseDirectory, "indicators.dll"), .. args];
        var start = new ProcessStartInfo(line[0], line[1..])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            WorkingDirectory = Path.GetTempPath(),
        };
        start.Environment["ASPNETCORE_URLS"] = "http://127.0.0.1:0";
        return Process.Start(start)!;
    }

    private static async Task Until(Func<bool> holds)
    {
        using var patience = new CancellationTokenSource(Patience);
        while (!holds())
            await Task.Delay(TimeSpan.FromMilliseconds(100), patience.Token);
    }

    private static async Task Interrupt(Process running)
    {
        using var kill = Process.Start("kill", ["-INT", FormattableString.Invariant($"{running.Id}")]);
        await kill.WaitForExitAsync(TestContext.Current.CancellationToken);
        Assert.Equal(0, kill.ExitCode);
    }

    private static async Task<int> Ended(Process running)
    {
        using var patience = new CancellationTokenSource(Patience);
        try
        {
            await running.WaitForExitAsync(patience.Token);
        }
        catch (OperationCanceledException)
        {
            running.Kill(entireProcessTree: true);
            throw;
        }
        return running.ExitCode;
    }
}
