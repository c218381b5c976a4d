using System.Text;
using Indicators.Cli.Running;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Indicators.Cli.Tests;

/// <summary>What a command came to.</summary>
internal sealed record Ran(int Code, string Output, string Messages);

/// <summary>A folder to work in and the command line run inside this process, its streams caught.</summary>
internal sealed class Bench : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("indicators-");

    internal Bench() => InventedFolder.Write(Folder);

    /// <summary>Whether the commands are told that a person watches a terminal.</summary>
    internal bool MessagesAreSeen { get; init; }

    /// <summary>What the commands of <see cref="Published"/> said.</summary>
    internal string Said { get; private set; } = "";

    internal string Folder => File("spring");

    internal string Db => File("programme.db");

    internal string File(string name) => Path.Combine(_folder.FullName, name);

    /// <summary>Does something to the database, or asks it one thing, past the program.</summary>
    internal object? Sql(string text)
    {
        using var connection = new SqliteConnection($"Data Source={Db};Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = text;
        return command.ExecuteScalar();
    }

    internal async Task<Ran> Run(params string[] args)
    {
        using var never = new CancellationTokenSource();
        return await Run(never, new Clock(), args);
    }

    internal async Task<Ran> Run(CancellationTokenSource stop, IClock clock, params string[] args)
    {
        using var output = new MemoryStream();
        using var messages = new StringWriter();
        var surroundings = new Surroundings(
            clock,
            name => name == "INDICATORS_DATA" ? File("data") : null,
            "E. Operator",
            output,
            messages,
            MessagesAreSeen,
            stop.Token);
        int code = await CommandLine.RunAsync(args, surroundings);
        return new Ran(code, Encoding.UTF8.GetString(output.ToArray()), messages.ToString());
    }

    /// <summary>Imports, analyses and publishes the invented folder, each of which must succeed.</summary>
    internal async Task<Bench> Published(params string[] analyseOptions)
    {
        foreach (string[] args in new[]
        {
            ["import", Folder, "--db", Db],
            [.. analyseOptions.Contains("--resamples") ? ["analyse", "--db", Db] : new[] { "analyse", "--db", Db, "--resamples", "60" }, .. analyseOptions],
            new[] { "publish", "--db", Db },
        })
        {
            var ran = await Run(args);
            if (ran.Code != 0)
                throw new InvalidOperationException($"{args[0]} ended with {ran.Code}: {ran.Messages}");
            Said += ran.Messages;
        }
        return this;
    }

    internal async Task<string> Export(string what, string format = "csv") =>
        (await Run("export", what, "--db", Db, "--format", format)).Output;

    public void Dispose() => _folder.Delete(recursive: true);

    /// <summary>A clock that goes on by two seconds whenever it is looked at, and can ring at a look.</summary>
    internal sealed class Clock(int ringAt = int.MaxValue, Action? ring = null) : IClock
    {
        private int _looks;

        public Instant GetCurrentInstant()
        {
            if (++_looks == ringAt)
                ring!();
            return Instant.FromUtc(2026, 6, 1, 0, 0) + Duration.FromSeconds(2 * _looks);
        }
    }
}
