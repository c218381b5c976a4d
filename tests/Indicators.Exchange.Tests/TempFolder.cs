using System.Text;
using Indicators.Exchange.Folders;
using NodaTime;
using Xunit;

namespace Indicators.Exchange.Tests;

/// <summary>An import folder that lives as long as one test.</summary>
internal sealed class TempFolder : IDisposable
{
    private readonly DirectoryInfo _root = Directory.CreateTempSubdirectory("indicators-");

    public TempFolder() => Directory.CreateDirectory(Path);

    public string Path => System.IO.Path.Combine(_root.FullName, "night");

    public string Beside(string name) => System.IO.Path.Combine(_root.FullName, name);

    public TempFolder With(string file, string content) => With(file, Encoding.UTF8.GetBytes(content));

    public TempFolder With(string file, byte[] content)
    {
        File.WriteAllBytes(System.IO.Path.Combine(Path, file), content);
        return this;
    }

    public FolderRead TryRead() =>
        FolderReader.Read(Path, new FolderReadOptions(DateTimeZoneProviders.Tzdb["America/Chicago"], new LocalDate(2026, 6, 1)), null, TestContext.Current.CancellationToken);

    public SurveyFolder Read()
    {
        var read = TryRead();
        Assert.Null(read.Failure);
        return read.Folder!;
    }

    public void Dispose() => _root.Delete(recursive: true);
}
