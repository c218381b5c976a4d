using System.Text.RegularExpressions;
using Indicators.Wording;
using Markdig;
using Markdig.Syntax;
using Markdig.Syntax.Inlines;

namespace Indicators.Web.Tests;

/// <summary>The method text in one language, taken apart into what every language must have alike.</summary>
internal static partial class MethodTwins
{
    /// <summary>Every difference between a text and its translation, each with its chapter.</summary>
    public static List<string> Differences(string english, string other, Language language)
    {
        var (ours, theirs) = (Chapters(english, Language.Default), Chapters(other, language));
        if (ours.Count != theirs.Count)
            return [$"{ours.Count} chapters in English, {theirs.Count} in {language.Name}: {string.Join(" | ", theirs.Select(chapter => chapter.Title))}"];
        var names = Surnames(ours[^1]);
        var found = new List<string>();
        foreach (var (mine, yours) in ours.Zip(theirs))
        {
            string chapter = $"{mine.Title} ({yours.Title})";
            if (mine.Blocks.Count != yours.Blocks.Count)
                found.Add($"{chapter}: {mine.Blocks.Count} paragraphs, list items and headings in English, {yours.Blocks.Count} in {language.Name}");
            foreach (var (one, two) in mine.Blocks.Zip(yours.Blocks))
            {
                string where = $"{chapter}, “{one.Text[..Math.Min(60, one.Text.Length)]}…”";
                bool source = ReferenceEquals(mine, ours[^1]) && IsItem(one);
                Compare("kind of block", [one.Kind], [two.Kind]);
                Compare("numbers", one.Numbers, two.Numbers);
                Compare("code", one.Code, two.Code);
                Compare("pictures and links", one.Links, two.Links);
                // A source is named alike in every language; elsewhere those whom the list of sources names.
                Compare("sources", Named(one), Named(two));
                Compare(source ? "titles" : "number of emphasised terms", Emphasised(one), Emphasised(two));

                IEnumerable<string> Named(Block block) => Names().Matches(block.Text).Select(match => match.Value).Where(name => source || names.Contains(name));

                IEnumerable<string> Emphasised(Block block) => source ? block.Emphasised : [$"{block.Emphasised.Count}"];

                void Compare(string what, IEnumerable<string> first, IEnumerable<string> second)
                {
                    string here = string.Join(' ', first.Order(StringComparer.Ordinal)), there = string.Join(' ', second.Order(StringComparer.Ordinal));
                    if (here != there)
                        found.Add($"{where}: {what} “{here}” in English, “{there}” in {language.Name}");
                }
            }
        }
        return found;
    }

    private static List<Chapter> Chapters(string text, Language language)
    {
        var chapters = new List<Chapter>();
        foreach (var block in Markdown.Parse(text))
        {
            if (block is HeadingBlock { Level: <= 2 } heading)
                chapters.Add(new Chapter(Words(heading.Inline!), []));
            int place = chapters[^1].Blocks.Count;
            foreach (var leaf in block is LeafBlock alone ? [alone] : ((ContainerBlock)block).Descendants<LeafBlock>())
                chapters[^1].Blocks.Add(BlockOf(leaf, place, language));
        }
        return chapters;
    }

    private static Block BlockOf(LeafBlock leaf, int place, Language language)
    {
        var inlines = leaf.Inline!.Descendants().ToList();
        string text = Words(leaf.Inline!);
        return new Block(
            Kind(leaf, place), text,
            [.. Numbers().Matches(text).Select(match => Plain(match.Value, language)), .. Signs().Matches(text).Select(match => match.Value)],
            [.. inlines.OfType<CodeInline>().Select(code => code.Content)],
            [.. inlines.OfType<LinkInline>().Select(link => link.IsImage ? link.Url!.Replace($".{language.Tag}.svg", ".svg", StringComparison.Ordinal) : link.Url!)],
            [.. inlines.OfType<EmphasisInline>().Select(Words)]);
    }

    /// <summary>What a block is and what it stands in, such as the second item of a numbered list.</summary>
    private static string Kind(Markdig.Syntax.Block block, int place)
    {
        string own = block switch
        {
            HeadingBlock heading => $"{nameof(HeadingBlock)}{heading.Level}",
            ListBlock { IsOrdered: true } => "numbered ListBlock",
            ListItemBlock item => $"{nameof(ListItemBlock)}{item.Parent!.IndexOf(item)}",
            _ => block.GetType().Name,
        };
        return block.Parent is null or MarkdownDocument ? $"{place} {own}" : $"{Kind(block.Parent, place)} {own}";
    }

    private static string Words(ContainerInline inlines) => string.Concat(inlines.Descendants<LiteralInline>().Select(words => words.ToString()));

    /// <summary>A number as a program writes it. A language's point and group are its own, so 0.2 in Spanish stays a difference.</summary>
    private static string Plain(string number, Language language)
    {
        var digits = language.Messages.Where(message => message.Key is "language.point" or "language.group").ToDictionary(message => message.Key, message => message.Pattern);
        if (digits["language.group"] == ",")
            number = Grouped().Replace(number, "");
        return digits["language.point"] == "," ? number.Replace('.', '!').Replace(',', '.') : number;
    }

    private static HashSet<string> Surnames(Chapter sources) =>
        [.. sources.Blocks.Where(IsItem).SelectMany(source => Names().Matches(Year().Split(source.Text)[0])).Select(match => match.Value)];

    private static bool IsItem(Block block) => block.Kind.Contains(nameof(ListItemBlock), StringComparison.Ordinal);

    private sealed record Chapter(string Title, List<Block> Blocks);

    /// <param name="Kind">What it is and what it stands in.</param>
    /// <param name="Text">Its words without code.</param>
    /// <param name="Numbers">Its numbers and the signs of its formulas.</param>
    /// <param name="Code">Names of tables, columns and commands.</param>
    /// <param name="Links">Where its links and pictures lead.</param>
    /// <param name="Emphasised">Its emphasised words.</param>
    private sealed record Block(string Kind, string Text, IReadOnlyList<string> Numbers, IReadOnlyList<string> Code, IReadOnlyList<string> Links, IReadOnlyList<string> Emphasised);

    [GeneratedRegex(@"\d+(?:[.,]\d+)*")]
    private static partial Regex Numbers();

    [GeneratedRegex("[=+×−±√^τ]")]
    private static partial Regex Signs();

    [GeneratedRegex(@",(?=\d{3}(?!\d))")]
    private static partial Regex Grouped();

    [GeneratedRegex(@"\p{Lu}[\p{L}-]{2,}")]
    private static partial Regex Names();

    [GeneratedRegex(@"\b(?:19|20)\d\d\b")]
    private static partial Regex Year();
}
