using System.Text;
using Indicators.Exchange.Folders;
using Indicators.Exchange.Rejects;
using Indicators.Monitoring;
using Xunit;

namespace Indicators.Exchange.Tests.Rejects;

public class RejectsFolderTests
{
    private static RejectedFile Reject<T>(FolderFile<T> file, params (int Row, string Reason)[] rows)
        where T : class =>
        new(file.Name, file.Bytes!, file.Written, [.. rows.Select(r => new RejectedRow(file.Rows[r.Row].Source, r.Reason))], file.Refusal is null ? null : "the file");

    private static byte[] WriteAndRead<T>(TempFolder folder, FolderFile<T> file, params (int Row, string Reason)[] rows)
        where T : class
    {
        Assert.Null(RejectsFolder.Replace(folder.Beside("rejects"), [Reject(file, rows)]));
        return File.ReadAllBytes(Path.Combine(folder.Beside("rejects"), file.Name));
    }

    [Fact]
    public void Rows_keep_their_bytes_heading_delimiter_mark_and_line_ending_and_get_a_quoted_reason()
    {
        byte[] bad = [.. "S2;SP1;\"x\r\n"u8, 0xE9, .. "\""u8];
        byte[] content = [0xEF, 0xBB, 0xBF, .. "Survey_ID;taxonID;call_index\r\nS1;SP1;1\r\n"u8, .. bad, .. "\r\nS3;SP1;2\r\n"u8];
        using var folder = new TempFolder().With("calls.csv", content);
        byte[] written = WriteAndRead(folder, folder.Read().Calls, (1, "not \"good\"; at all"));
        byte[] expected = [0xEF, 0xBB, 0xBF, .. "Survey_ID;taxonID;call_index;reason\r\n"u8, .. bad, .. ";\"not \"\"good\"\"; at all\"\r\n"u8];
        Assert.Equal(expected, written);
    }

    [Fact]
    public void Reason_of_an_earlier_import_is_replaced_not_repeated()
    {
        using var folder = new TempFolder().With("calls.csv", "survey_id,species_id,call_index,reason\nS1,SP1,8,\"call_index: bad, bad\"\nS1,SP2,7\n");
        byte[] written = WriteAndRead(folder, folder.Read().Calls, (0, "new"), (1, "newer"));
        Assert.Equal("survey_id,species_id,call_index,reason\nS1,SP1,8,\"new\"\nS1,SP2,7,\"newer\"\n", Encoding.UTF8.GetString(written));
    }

    [Fact]
    public void File_that_cannot_be_split_is_copied_with_its_reason_beside()
    {
        using var folder = new TempFolder().With("calls.csv", "survey_id,species_id,call_index\nS1,\"SP1,1\n");
        byte[] written = WriteAndRead(folder, folder.Read().Calls);
        Assert.Equal(File.ReadAllBytes(Path.Combine(folder.Path, "calls.csv")), written);
        Assert.Equal("the file\n", File.ReadAllText(Path.Combine(folder.Beside("rejects"), "calls.csv.reason.txt")));
    }

    [Fact]
    public void Refused_features_stay_features_and_can_be_read_again()
    {
        const string Features = """{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"watershed_code":"99"},"geometry":null},7,{}]}""";
        using var folder = new TempFolder().With("watersheds.geojson", Features);
        byte[] written = WriteAndRead(folder, folder.Read().Shapes, (0, "no \"shape\""), (1, "no feature"), (2, "empty"));
        using var again = new TempFolder().With("watersheds.geojson", written);
        Assert.Equal(["99", null, null], again.Read().Shapes.Rows.Select(r => r.Key));
        Assert.Contains("""{"reason":"no \u0022shape\u0022","type":"Feature",""", Encoding.UTF8.GetString(written), StringComparison.Ordinal);
    }

    [Fact]
    public void Earlier_rejects_are_replaced_and_other_files_left_alone()
    {
        using var folder = new TempFolder().With("calls.csv", "survey_id,species_id,call_index\nS1,SP1,7\n").With("surveys.csv", "survey_id,station_id,date\nS1,ST1,\"x\n");
        var read = folder.Read();
        string rejects = folder.Beside("rejects");
        Assert.Null(RejectsFolder.Replace(rejects, [Reject(read.Calls, (0, "bad")), Reject(read.Surveys)]));
        File.WriteAllText(Path.Combine(rejects, "mine.txt"), "mine");
        Assert.Null(RejectsFolder.Check(rejects, folder.Path));
        Assert.Null(RejectsFolder.Replace(rejects, [Reject(read.Calls, (0, "bad"))]));
        Assert.Equal(["calls.csv", "mine.txt"], Directory.GetFiles(rejects).Select(Path.GetFileName).Order(StringComparer.Ordinal));
        Assert.Null(RejectsFolder.Replace(rejects, []));
        Assert.Equal(["mine.txt"], Directory.GetFiles(rejects).Select(Path.GetFileName));
        File.Delete(Path.Combine(rejects, "mine.txt"));
        Assert.Null(RejectsFolder.Replace(rejects, []));
        Assert.False(Directory.Exists(rejects));
    }

    [Fact]
    public void Folder_that_is_read_or_holds_files_of_others_takes_no_rejects()
    {
        using var folder = new TempFolder().With("calls.csv", "survey_id,species_id,call_index\nS1,SP1,1\n");
        Assert.Equal(ProblemKind.RejectsInsideFolder, RejectsFolder.Check(folder.Path, folder.Path)!.Kind);
        Assert.Equal(ProblemKind.RejectsInsideFolder, RejectsFolder.Check(Path.Combine(folder.Path, "x", ".."), folder.Path)!.Kind);
        Assert.Equal(ProblemKind.RejectsInsideFolder, RejectsFolder.Check(Path.Combine(folder.Path, "in"), folder.Path)!.Kind);
        Assert.Equal(ProblemKind.RejectsFileNotOurs, RejectsFolder.Check(folder.Path, folder.Beside("another"))!.Kind);
        Assert.Null(RejectsFolder.Check(RejectsFolder.BesideOf(folder.Path), folder.Path));
        Assert.Equal(folder.Path + "-rejects", RejectsFolder.BesideOf(folder.Path + Path.DirectorySeparatorChar));
    }
}
