using Meltwise.Publishing.Figures;

namespace Meltwise.Publishing.Documents;

/// <summary>How a paragraph is set.</summary>
public enum TextKind
{
    /// <summary>Text.</summary>
    Body,

    /// <summary>First words under a title.</summary>
    Lead,

    /// <summary>The sentence of a verdict.</summary>
    Sentence,

    /// <summary>A note.</summary>
    Note,

    /// <summary>A warning that stands before everything.</summary>
    Warning,
}

/// <summary>A block of a document. A closed set; every writer sets each of them.</summary>
public abstract record Block
{
    private Block() { }

    /// <summary>Title of the document, with the lines above it.</summary>
    public sealed record Title(IReadOnlyList<string> Above, string Text) : Block;

    /// <summary>A part: number, title, state.</summary>
    public sealed record Part(int Number, string Text, string? State = null, bool Locked = false) : Block;

    /// <summary>A heading inside a part.</summary>
    public sealed record Heading(string Text) : Block;

    /// <summary>A paragraph.</summary>
    public sealed record Paragraph(Rich Text, TextKind Kind = TextKind.Body) : Block;

    /// <summary>An outcome: what was asked, the word, its qualifier.</summary>
    public sealed record OutcomeHead(string Under, string Word, string Qualifier) : Block;

    /// <summary>The rule in its frame: double when locked, dashed while open.</summary>
    public sealed record RuleFrame(bool Locked, string Legend, string Question, IReadOnlyList<Term> Terms) : Block;

    /// <summary>Terms with what they are.</summary>
    public sealed record TermList(IReadOnlyList<Term> Terms) : Block;

    /// <summary>A table; with <paramref name="ToWriteIn"/> its rows are high enough for handwriting.</summary>
    public sealed record Table(IReadOnlyList<Column> Columns, IReadOnlyList<IReadOnlyList<Rich>> Rows, Rich? Caption = null, bool ToWriteIn = false) : Block;

    /// <summary>A figure.</summary>
    public sealed record Drawn(Figure Figure, bool ShowTitle = true) : Block;

    /// <summary>Pictures side by side at one magnification.</summary>
    public sealed record Micrographs(IReadOnlyList<Micrograph> Pictures) : Block;

    /// <summary>What may and what may not be claimed.</summary>
    public sealed record Claims(IReadOnlyList<string> May, IReadOnlyList<string> MayNot) : Block;

    /// <summary>A list of short items.</summary>
    public sealed record Items(IReadOnlyList<Rich> Lines) : Block;

    /// <summary>A caution: step, text, where it is written.</summary>
    public sealed record Caution(string Step, string Text, string WrittenIn) : Block;

    /// <summary>The next block begins a page in print where less than half a page is left.</summary>
    public sealed record NewPage : Block;
}

/// <summary>A picture of a document.</summary>
/// <param name="Caption">Words under it.</param>
/// <param name="File">PNG or JPEG.</param>
/// <param name="WidthPx">Width, px.</param>
/// <param name="MicrometresPerPixel">Scale; null when unknown.</param>
public sealed record Micrograph(Rich Caption, ReadOnlyMemory<byte> File, int WidthPx, double? MicrometresPerPixel);

/// <summary>A term and what it is.</summary>
public sealed record Term(string Name, Rich Text);

/// <summary>A column of a table.</summary>
/// <param name="Heading">Heading, with the unit.</param>
/// <param name="Share">Share of the width.</param>
/// <param name="Right">Set against the right edge: numbers.</param>
public sealed record Column(string Heading, double Share = 1, bool Right = false);
