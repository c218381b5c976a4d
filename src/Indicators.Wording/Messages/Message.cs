using System.Globalization;
using System.Text;

namespace Indicators.Wording.Messages;

/// <summary>
/// A sentence with places for values, in the pattern syntax of ICU MessageFormat: <c>{name}</c>,
/// <c>{n, plural, =0 {none} one {# survey} other {# surveys}}</c> and <c>{x, select, yes {…} other {…}}</c>, nested at will.
/// An apostrophe quotes only right before <c>{</c>, <c>}</c> or <c>#</c>; two stand for one.
/// </summary>
/// <remarks>Parsed once, then written many times from any thread.</remarks>
internal sealed class Message
{
    private readonly IReadOnlyList<Piece> _pieces;

    private Message(string pattern, IReadOnlyList<Piece> pieces) => (Pattern, _pieces) = (pattern, pieces);

    /// <summary>The pattern as written.</summary>
    public string Pattern { get; }

    /// <summary>The names of all values it has places for.</summary>
    public IEnumerable<string> Arguments => _pieces.SelectMany(piece => piece.Arguments()).Distinct();

    /// <summary>Reads a pattern; throws <see cref="FormatException"/> for one that is no message.</summary>
    public static Message Parse(string pattern) => new(pattern, new Reader(pattern).ReadAll());

    /// <summary>The sentence with its values.</summary>
    public string Say(ReadOnlySpan<Argument> values, Grammar grammar)
    {
        if (_pieces is [Words words])
            return words.Text;
        var said = new StringBuilder();
        foreach (var piece in _pieces)
            piece.Say(said, values, grammar, null);
        return said.ToString();
    }

    private abstract record Piece
    {
        public abstract void Say(StringBuilder said, ReadOnlySpan<Argument> values, Grammar grammar, long? counted);

        public virtual IEnumerable<string> Arguments() => [];

        protected static Argument Find(string name, ReadOnlySpan<Argument> values)
        {
            foreach (var value in values)
            {
                if (value.Name == name)
                    return value;
            }
            throw new ArgumentException($"The message has a place for {name}, and no such value was given.", nameof(values));
        }
    }

    private sealed record Words(string Text) : Piece
    {
        public override void Say(StringBuilder said, ReadOnlySpan<Argument> values, Grammar grammar, long? counted) => said.Append(Text);
    }

    private sealed record Counted : Piece
    {
        public override void Say(StringBuilder said, ReadOnlySpan<Argument> values, Grammar grammar, long? counted) =>
            said.Append(grammar.Digits.Whole(counted ?? throw new FormatException("# stands outside a plural.")));
    }

    private sealed record Place(string Name) : Piece
    {
        public override void Say(StringBuilder said, ReadOnlySpan<Argument> values, Grammar grammar, long? counted)
        {
            var value = Find(Name, values);
            said.Append(value.Words ?? grammar.Digits.Whole(value.Number));
        }

        public override IEnumerable<string> Arguments() => [Name];
    }

    private sealed record Choice(string Name, bool IsPlural, IReadOnlyDictionary<string, IReadOnlyList<Piece>> Cases) : Piece
    {
        public override void Say(StringBuilder said, ReadOnlySpan<Argument> values, Grammar grammar, long? counted)
        {
            var value = Find(Name, values);
            foreach (var piece in IsPlural ? OfCount(value, grammar) : Of(value.Words ?? ""))
                piece.Say(said, values, grammar, IsPlural ? value.Number : counted);
        }

        public override IEnumerable<string> Arguments() => [Name, .. Cases.Values.SelectMany(pieces => pieces).SelectMany(piece => piece.Arguments())];

        private IReadOnlyList<Piece> OfCount(Argument value, Grammar grammar)
        {
            if (value.Words is not null)
                throw new ArgumentException($"{Name} is counted by, and words were given.", nameof(value));
            return Cases.TryGetValue("=" + value.Number.ToString(CultureInfo.InvariantCulture), out var exact) ? exact : Of(grammar.CategoryOf(value.Number));
        }

        private IReadOnlyList<Piece> Of(string key) => Cases.TryGetValue(key, out var found) ? found : Cases["other"];
    }

    private sealed class Reader(string pattern)
    {
        private int _at;

        public List<Piece> ReadAll()
        {
            var pieces = Pieces(inPlural: false);
            return _at == pattern.Length ? pieces : throw Wrong("a brace that closes nothing");
        }

        private List<Piece> Pieces(bool inPlural)
        {
            var pieces = new List<Piece>();
            var words = new StringBuilder();
            while (_at < pattern.Length && pattern[_at] != '}')
            {
                char now = pattern[_at++];
                if (now == '\'' && _at < pattern.Length && pattern[_at] is '{' or '}' or '#')
                    Quoted(words);
                else if (now == '\'' && _at < pattern.Length && pattern[_at] == '\'')
                    words.Append(pattern[_at++]);
                else if (now == '{')
                    Add(Braced(inPlural));
                else if (now == '#' && inPlural)
                    Add(new Counted());
                else
                    words.Append(now);
            }
            Flush();
            return pieces;

            void Add(Piece piece)
            {
                Flush();
                pieces.Add(piece);
            }

            void Flush()
            {
                if (words.Length > 0)
                    pieces.Add(new Words(words.ToString()));
                words.Clear();
            }
        }

        private void Quoted(StringBuilder words)
        {
            int end = pattern.IndexOf('\'', _at);
            if (end < 0)
                throw Wrong("a quotation that does not end");
            words.Append(pattern, _at, end - _at);
            _at = end + 1;
        }

        private Piece Braced(bool inPlural)
        {
            string name = UpTo(',', '}');
            if (pattern[_at++] == '}')
                return new Place(name);
            string kind = UpTo(',');
            _at++;
            if (kind is not ("plural" or "select"))
                throw Wrong($"a kind of place called {kind}");
            var cases = new Dictionary<string, IReadOnlyList<Piece>>(StringComparer.Ordinal);
            for (string key = UpTo('{', '}'); key.Length > 0; key = UpTo('{', '}'))
            {
                _at++;
                cases.Add(key, Pieces(inPlural || kind == "plural"));
                Close();
            }
            Close();
            return cases.ContainsKey("other") ? new Choice(name, kind == "plural", cases) : throw Wrong($"no case other for {name}");
        }

        private string UpTo(params ReadOnlySpan<char> ends)
        {
            int found = pattern.AsSpan(_at).IndexOfAny(ends);
            if (found < 0)
                throw Wrong("a brace that is not closed");
            string text = pattern.Substring(_at, found).Trim();
            _at += found;
            return text;
        }

        private void Close()
        {
            if (_at >= pattern.Length || pattern[_at++] != '}')
                throw Wrong("a brace that is not closed");
        }

        private FormatException Wrong(string what) => new($"There is {what} in: {pattern}");
    }
}
