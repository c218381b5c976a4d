namespace Indicators.Storage.Tests;

/// <summary>A folder that goes when the test ends.</summary>
internal sealed class TemporaryFolder : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("indicators-");

    internal string File(string name) => Path.Combine(_folder.FullName, name);

    internal string Database => File("programme.db");

    public void Dispose() => _folder.Delete(recursive: true);
}
