namespace Indicators.Monitoring;

/// <summary>What a problem does to what was given.</summary>
public enum ProblemSeverity
{
    /// <summary>Worth saying; nothing is wrong.</summary>
    Note,

    /// <summary>Worth looking at; what was given is taken all the same.</summary>
    Warning,

    /// <summary>What was given cannot be taken.</summary>
    Refusal,

    /// <summary>The work as a whole could not be done.</summary>
    Failure,
}

/// <summary>What kind of thing is wrong with what somebody gave us.</summary>
public enum ProblemKind
{
    /// <summary>The folder to read does not exist. Failure.</summary>
    FolderMissing,

    /// <summary>The folder holds none of the files that an import reads. Failure.</summary>
    FolderWithoutFiles,

    /// <summary>A file or folder could not be read; <see cref="Problem.Value"/> is the system's own reason. Failure.</summary>
    Unreadable,

    /// <summary>A rejects file could not be written; <see cref="Problem.Value"/> is the system's own reason. Failure.</summary>
    RejectsNotWritten,

    /// <summary>Rejects of an earlier import could not be removed; <see cref="Problem.Value"/> is the system's own reason. Warning.</summary>
    RejectsNotRemoved,

    /// <summary>The folder for rejects is the folder that is read, or lies in it. Failure.</summary>
    RejectsInsideFolder,

    /// <summary>A file in the rejects folder was not written by an import, so it is left alone. Failure.</summary>
    RejectsFileNotOurs,

    /// <summary>A file has no heading line, or only empty lines.</summary>
    FileEmpty,

    /// <summary>Required columns are not in the heading: <see cref="Problem.Names"/>; found: <see cref="Problem.Found"/>.</summary>
    ColumnsMissing,

    /// <summary>Two headings mean the same column: <see cref="Problem.Names"/>.</summary>
    ColumnRepeated,

    /// <summary>A quoted cell is never closed; the line is where it opens.</summary>
    QuoteNotClosed,

    /// <summary>A quoted cell that runs over lines is followed by text; <see cref="Problem.OtherLine"/> is where.</summary>
    QuoteClosedLate,

    /// <summary>The heading, or a file of shapes, has bytes that are not UTF-8; <see cref="Problem.Count"/> is the first one's place in its line, from 1.</summary>
    FileNotUtf8,

    /// <summary>A file of shapes is not GeoJSON.</summary>
    NotGeoJson,

    /// <summary>A row has bytes that are not UTF-8; <see cref="Problem.Count"/> is the first one's place in its line, from 1.</summary>
    RowNotUtf8,

    /// <summary>Text follows the closing quote of a cell.</summary>
    TextAfterQuote,

    /// <summary>A row has more or fewer cells than the heading: <see cref="Problem.Count"/> instead of <see cref="Problem.Rule"/>.</summary>
    CellCount,

    /// <summary>A value is missing or is not what it should be.</summary>
    Value,

    /// <summary>A date lies in the future.</summary>
    FutureDate,

    /// <summary>The same identifier on several rows of one file; <see cref="Problem.OtherLine"/> is another of them.</summary>
    IdRepeated,

    /// <summary>The same species on several call rows of one survey; <see cref="Problem.OtherLine"/> is another of them.</summary>
    SpeciesRepeated,

    /// <summary>What a value refers to is neither in the folder nor stored.</summary>
    ReferenceUnknown,

    /// <summary>What a value refers to stands on a row that was refused: <see cref="Problem.OtherLine"/>.</summary>
    ReferenceRefused,

    /// <summary>What a value refers to would stand in a file that was refused whole: <see cref="Problem.OtherFile"/>.</summary>
    ReferenceFileRefused,

    /// <summary>A call of a survey that is stored but not in the folder.</summary>
    CallWithoutItsSurvey,

    /// <summary>A call of a survey that was refused; <see cref="Problem.OtherLine"/> is the survey's line.</summary>
    CallOfRefusedSurvey,

    /// <summary>A survey with a call row that was refused: <see cref="Problem.OtherLine"/>.</summary>
    SurveyWithRefusedCall,

    /// <summary>A survey whose file of calls was refused whole.</summary>
    SurveyWithoutCallsFile,

    /// <summary>A new survey in a folder without a file of calls, so that nobody knows what was heard.</summary>
    SurveyWithoutCalls,

    /// <summary>Stored under the same identifier with another content; <see cref="Problem.Stored"/> is the stored value.</summary>
    Conflict,

    /// <summary>A station lies outside the shape of its own watershed.</summary>
    StationOutsideShape,

    /// <summary>Stations use a watershed code that no file names.</summary>
    WatershedNotNamed,

    /// <summary>Stations of one wetland disagree about its name or class; that of <see cref="Problem.OtherLine"/> is used.</summary>
    WetlandDisagrees,

    /// <summary>Surveys did not keep one limit of the protocol; <see cref="Problem.Count"/> of them.</summary>
    ProtocolNotKept,

    /// <summary>Columns that are not read: <see cref="Problem.Names"/>.</summary>
    ColumnsIgnored,

    /// <summary>A file that is not read.</summary>
    FileIgnored,

    /// <summary>Events after midnight that were given to the evening before; <see cref="Problem.Count"/> of them.</summary>
    EveningBefore,

    /// <summary>Settings that are not JSON at all.</summary>
    SettingsNotJson,

    /// <summary>A key of the settings that nobody knows.</summary>
    SettingUnknown,

    /// <summary>A value of the settings that cannot be.</summary>
    SettingValue,
}

/// <summary>How much each kind of problem weighs.</summary>
public static class ProblemKinds
{
    /// <summary>The severity of a kind: failures, then refusals, then warnings, then notes.</summary>
    public static ProblemSeverity Severity(this ProblemKind kind) => kind switch
    {
        ProblemKind.FolderMissing or ProblemKind.FolderWithoutFiles or ProblemKind.Unreadable or ProblemKind.RejectsNotWritten
            or ProblemKind.RejectsInsideFolder or ProblemKind.RejectsFileNotOurs => ProblemSeverity.Failure,
        ProblemKind.StationOutsideShape or ProblemKind.WatershedNotNamed or ProblemKind.WetlandDisagrees
            or ProblemKind.ProtocolNotKept or ProblemKind.RejectsNotRemoved => ProblemSeverity.Warning,
        ProblemKind.ColumnsIgnored or ProblemKind.FileIgnored or ProblemKind.EveningBefore => ProblemSeverity.Note,
        _ => ProblemSeverity.Refusal,
    };

    /// <summary>Whether a problem only follows from another one, so that mending that one mends this one too.</summary>
    public static bool IsConsequence(this ProblemKind kind) => kind
        is ProblemKind.ReferenceRefused
        or ProblemKind.ReferenceFileRefused
        or ProblemKind.CallOfRefusedSurvey
        or ProblemKind.SurveyWithRefusedCall
        or ProblemKind.SurveyWithoutCallsFile;
}
