using System.Globalization;
using Indicators.Monitoring;

namespace Indicators.Wording.Problems;

/// <summary>Says problems in plain English: where it stands, what was given, what would be right.</summary>
public static class ProblemSentences
{
    private const int LongestValue = 60;

    /// <summary>The whole sentence: <c>calls.csv line 12, call_index: '7' is not a call level: give 0 …</c></summary>
    public static string Sentence(Problem problem)
    {
        string line = problem.Line is { } number ? $" line {Text(number)}" : "";
        string column = problem.Column is null ? "" : $", {Shown(problem.Column)}";
        return $"{problem.File}{line}{column}: {Says(problem)}";
    }

    /// <summary>The sentence without file and line, for a row that carries it: <c>call_index: '7' is not a call level: …</c></summary>
    public static string Reason(Problem problem) => problem.Column is null ? Says(problem) : $"{Shown(problem.Column)}: {Says(problem)}";

    private static string Says(Problem p) => p.Severity switch
    {
        ProblemSeverity.Failure => Failure(p),
        ProblemSeverity.Warning => Warning(p),
        ProblemSeverity.Note => Note(p),
        _ => FileRefusal(p) ?? RowRefusal(p) ?? SettingsRefusal(p),
    };

    private static string Failure(Problem p) => p.Kind switch
    {
        ProblemKind.FolderMissing => $"There is no folder '{p.Value}': give the folder that holds the files.",
        ProblemKind.FolderWithoutFiles => $"The folder '{p.Value}' holds none of the files that are read: {List(p.Names)}.",
        ProblemKind.Unreadable => $"It could not be read: {p.Value} Check that it exists and that you may read it.",
        ProblemKind.RejectsNotWritten => $"The refused rows could not be written: {p.Value} Nothing was loaded. Give another folder for them.",
        ProblemKind.RejectsInsideFolder => "The refused rows cannot go into the folder they come from: give a folder beside it.",
        ProblemKind.RejectsFileNotOurs => $"'{p.Value}' would be overwritten, and it has no column of reasons, so it is not a file of refused rows: move it, or give another folder for the refused rows.",
        _ => throw Unworded(p),
    };

    private static string Warning(Problem p) => p.Kind switch
    {
        ProblemKind.RejectsNotRemoved => $"The refused rows of an earlier import could not be removed: {p.Value} They are out of date; remove them yourself.",
        ProblemKind.StationOutsideShape => $"Station {Quoted(p.Value)} lies outside the shape of its watershed {Shown(p.Thing)}: check its coordinates and its watershed code.",
        ProblemKind.WatershedNotNamed => $"No file names the watershed {Quoted(p.Value)}, which {Many(p.Count, "station uses", "stations use")}: add it to watersheds.csv, or check the code.",
        ProblemKind.WetlandDisagrees => $"{Quoted(p.Value)} differs from what line {Text(p.OtherLine)} says of the same wetland, {Quoted(p.Stored)}, which is used: make them the same.",
        ProblemKind.ProtocolNotKept => $"{Many(p.Count, "survey", "surveys")} {Breach(p)}{Source(p)}: {First(p)}. {(p.Count == 1 ? "It is" : "They are")} taken all the same.",
        _ => throw Unworded(p),
    };

    private static string Note(Problem p) => p.Kind switch
    {
        ProblemKind.ColumnsIgnored => $"{(p.Names.Count == 1 ? "This column is" : "These columns are")} not read: {List(p.Names)}.",
        ProblemKind.FileIgnored => "This file is not read; its name is none of those of an import folder.",
        ProblemKind.EveningBefore => $"{Many(p.Count, "event", "events")} began between midnight and noon and {(p.Count == 1 ? "was" : "were")} given to the evening before, when the night began.",
        _ => throw Unworded(p),
    };

    private static string? FileRefusal(Problem p) => p.Kind switch
    {
        ProblemKind.FileEmpty => "The file is empty: give a heading line and the rows, or leave the file out.",
        ProblemKind.ColumnsMissing => $"The heading lacks {List(p.Names)}: add {(p.Names.Count == 1 ? "it" : "them")}. Found: {(p.Found.All(f => f.Length == 0) ? "nothing" : List(p.Found))}.",
        ProblemKind.ColumnRepeated => $"The headings {List(p.Names)} mean the same column: leave one of them out.",
        ProblemKind.QuoteNotClosed => "The quote that opens a cell on this line is never closed, so the rows after it cannot be told apart: close it, and write a quote inside a quoted cell twice.",
        ProblemKind.QuoteClosedLate => $"The quote that opens a cell on this line is only closed on line {Text(p.OtherLine)}, in the middle of a cell, so the rows between cannot be told apart: close it where it belongs, and write a quote inside a quoted cell twice.",
        ProblemKind.FileNotUtf8 => $"Byte {Text(p.Count)} of this line is not UTF-8 text: save the file as UTF-8.",
        ProblemKind.NotGeoJson => "This is not GeoJSON: give a FeatureCollection as RFC 7946 has it.",
        _ => null,
    };

    private static string? RowRefusal(Problem p) => p.Kind switch
    {
        ProblemKind.RowNotUtf8 => $"Byte {Text(p.Count)} of this line is not UTF-8 text: save the file as UTF-8.",
        ProblemKind.TextAfterQuote => "Text follows a closing quote: put the whole cell in quotes, and write a quote inside it twice.",
        ProblemKind.CellCount => $"The row has {Many(p.Count, "cell", "cells")} and the heading has {p.Rule}: give as many, and put a cell that holds the delimiter in quotes.",
        ProblemKind.Value => new FieldProblem(Shown(p.Value), p.Thing!, p.Rule!).Sentence,
        ProblemKind.FutureDate => $"{Quoted(p.Value)} lies in the future: give a date up to today, {p.Rule}.",
        ProblemKind.IdRepeated => $"{Quoted(p.Value)} stands on line {Text(p.OtherLine)} too, and nobody can say which is meant: keep one of them, or give each its own id.",
        ProblemKind.SpeciesRepeated => $"{Quoted(p.Value)} is given for this survey on line {Text(p.OtherLine)} too: keep the highest call level heard, once.",
        ProblemKind.ReferenceUnknown => $"There is no {p.Thing} {Quoted(p.Value)}, here or stored: add it to {p.OtherFile}, or correct the id.",
        ProblemKind.ReferenceRefused => $"The {p.Thing} {Quoted(p.Value)} was itself refused, on line {Text(p.OtherLine)} of {p.OtherFile}: mend that row first.",
        ProblemKind.ReferenceFileRefused => $"The {p.Thing} {Quoted(p.Value)} is not known, because {p.OtherFile} was refused: mend that file first.",
        ProblemKind.CallWithoutItsSurvey => $"The survey {Quoted(p.Value)} is stored, but it is not in this folder: give the survey and all its calls together.",
        ProblemKind.CallOfRefusedSurvey => $"Its survey {Quoted(p.Value)} was refused, on line {Text(p.OtherLine)} of {p.OtherFile}: a survey is taken with all its calls or not at all.",
        ProblemKind.SurveyWithRefusedCall => $"A call of this survey was refused, on line {Text(p.OtherLine)} of {p.OtherFile}, and without it the species would count as silent: mend that row, and give the survey and all its calls together.",
        ProblemKind.SurveyWithoutCallsFile => $"The file {p.OtherFile} was refused, so nobody knows what was heard on this survey: mend that file first.",
        ProblemKind.SurveyWithoutCalls => $"The folder has no {p.OtherFile}, so nobody knows what was heard on this survey: add that file, with nothing but its heading if nothing was heard.",
        ProblemKind.Conflict => $"{Quoted(p.Value)} differs from {Quoted(p.Stored)}, which is stored under the same id: correct it, or import with replacing if this row is right.",
        _ => null,
    };

    private static string SettingsRefusal(Problem p) => p.Kind switch
    {
        ProblemKind.SettingsNotJson => "This is not JSON with each key once: check commas, quotes and braces.",
        ProblemKind.SettingUnknown => $"Nobody knows this key: correct it or leave it out. Known here: {List(p.Names)}.",
        ProblemKind.SettingValue => string.IsNullOrEmpty(p.Value) ? $"A value is missing: give {p.Rule}." : $"{Quoted(p.Value)} cannot be: give {p.Rule}.",
        _ => throw Unworded(p),
    };

    private static string Breach(Problem p) => p.Breach switch
    {
        ProtocolBreach.TooShort => $"lasted less than {p.Rule} minutes",
        ProtocolBreach.TooEarly => $"began sooner than {p.Rule} minutes after sunset",
        ProtocolBreach.TooLate => $"began later than {p.Rule}",
        ProtocolBreach.TooWindy => $"had more wind than Beaufort {p.Rule}",
        ProtocolBreach.TooCold => "had colder air than the protocol allows for the run",
        _ => throw Unworded(p),
    };

    private static string Source(Problem p) => p.Thing is null ? "" : $" ({p.Thing})";

    private static string First(Problem p)
    {
        int more = p.Count.GetValueOrDefault() - p.Names.Count;
        return more > 0 ? $"{string.Join(", ", p.Names)} and {Text(more)} more" : List(p.Names);
    }

    private static string Many(int? count, string one, string many) => count == 1 ? $"1 {one}" : $"{Text(count)} {many}";

    private static string List(IReadOnlyList<string> names) => names.Count switch
    {
        0 => "",
        1 => Shown(names[0]),
        _ => $"{string.Join(", ", names.Take(names.Count - 1).Select(Shown))} and {Shown(names[^1])}",
    };

    private static string Quoted(string? value) => $"'{Shown(value)}'";

    /// <summary>A value on one line, cut short when it is long.</summary>
    private static string Shown(string? value)
    {
        string line = string.Concat((value ?? "").Select(c => char.IsControl(c) ? ' ' : c));
        return line.Length <= LongestValue ? line : string.Concat(line.AsSpan(0, LongestValue - 1), "…");
    }

    private static string Text(int? number) => number.GetValueOrDefault().ToString(CultureInfo.InvariantCulture);

    private static InvalidOperationException Unworded(Problem p) => new($"No sentence for {p.Kind} {p.Breach}.");
}
