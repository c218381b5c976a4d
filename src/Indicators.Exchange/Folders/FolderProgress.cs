namespace Indicators.Exchange.Folders;

/// <summary>How far the reading of a folder has come.</summary>
/// <param name="File">The file being read.</param>
/// <param name="BytesRead">Bytes read so far, over all files.</param>
/// <param name="BytesTotal">Bytes of all files.</param>
public readonly record struct FolderProgress(string File, long BytesRead, long BytesTotal);
