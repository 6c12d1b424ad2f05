using PdfSharp.Drawing;
using PdfSharp.Pdf;
using PdfSharp.UniversalAccessibility;

namespace Meltwise.Publishing.Documents;

/// <summary>An element of the document's structure that several slabs share: a paragraph of several lines, a table of many rows. Two slabs belong to one element when they hold the same object.</summary>
/// <param name="Tag">Its kind.</param>
internal sealed class PdfElement(PdfBlockLevelElementTag tag)
{
    /// <summary>Its kind.</summary>
    public PdfBlockLevelElementTag Tag { get; } = tag;
}

/// <summary>The pages of a document as they are drawn, each mark with its place in the structure that a screen reader follows: headings, paragraphs, lists, tables with their heads, figures with the words
/// that stand for them; rules, frames and the foot are marked as decoration.</summary>
/// <remarks>Logical structure and tagged PDF: ISO 32000-1:2008, 14.7 and 14.8; what a reader needs of it: PDF/UA-1, ISO 14289-1 (both from memory). Marked content and text objects must nest,
/// hence the change of mode before each mark and after it; only the first mark of a page is begun by the library inside a text object.</remarks>
internal sealed class PdfSurface
{
    private readonly UAManager _structure;
    private XGraphics _page = null!;
    private PdfElement? _shared;
    private bool _isFirstMark, _isDecoration;
    private int _depth;

    /// <summary>Begins the structure of a document that has no page yet.</summary>
    public PdfSurface(PdfDocument document, string language)
    {
        _structure = UAManager.ForDocument(document);
        _structure.SetDocumentLanguage(language);
    }

    private StructureBuilder Builder => _structure.StructureBuilder;

    /// <summary>Goes to a page that was just added.</summary>
    public void Turn(XGraphics page) => (_page, _isFirstMark) = (page, true);

    /// <summary>Goes on in a shared element, or begins it; null ends the one that is open.</summary>
    public void Share(PdfElement? element)
    {
        if (ReferenceEquals(element, _shared))
            return;
        if (_shared is not null)
            End();
        if (element is not null)
            Begin(element.Tag);
        _shared = element;
    }

    /// <summary>Draws inside an element of its own.</summary>
    public void Element(PdfBlockLevelElementTag tag, Action content)
    {
        if (_isDecoration)
        {
            content();
            return;
        }
        Begin(tag);
        content();
        End();
    }

    /// <summary>Names the cell that was begun as the head of its column.</summary>
    public void HeadsColumn()
    {
        if (!_isDecoration)
            Builder.CurrentStructureElement.TableAttributes.Elements.SetName("/Scope", "/Column");
    }

    /// <summary>Sets a line of text in the element that is open, or in a paragraph of its own.</summary>
    public void Text(PdfText.Line line, double x, double baseline)
    {
        if (line.Pieces.Count == 0)
            return;
        if (_isDecoration)
            PdfText.Draw(_page, line, x, baseline);
        else if (_depth == 0)
            Element(PdfBlockLevelElementTag.Paragraph, () => Text(line, x, baseline));
        else
            Mark(() => PdfText.Draw(_page, line, x, baseline), Builder.EndMarkedContentsWithId);
    }

    /// <summary>Draws what carries no meaning of its own: rules, frames, repeated heads, the foot.</summary>
    public void Decoration(Action<XGraphics> draw)
    {
        if (_isDecoration)
        {
            draw(_page);
            return;
        }
        _structure.BeginGraphicMode();
        Builder.BeginArtifact();
        _isDecoration = true;
        draw(_page);
        _isDecoration = false;
        _structure.BeginGraphicMode();
        Builder.End();
    }

    /// <summary>Draws a figure.</summary>
    /// <param name="words">What a person who cannot see it is told.</param>
    /// <param name="box">Its place on the page, pt from the upper left corner.</param>
    /// <param name="draw">Draws it.</param>
    public void Figure(string words, XRect box, Action<XGraphics> draw)
    {
        if (_isDecoration)
        {
            draw(_page);
            return;
        }
        _structure.BeginGraphicMode();
        Builder.BeginElement(PdfIllustrationElementTag.Figure, words, new XRect(box.X, PdfFlow.PageHeight - box.Y - box.Height, box.Width, box.Height));
        Mark(() => draw(_page), Builder.End);
    }

    /// <summary>Ends the element that slabs shared.</summary>
    public void Close() => Share(null);

    private void Begin(PdfBlockLevelElementTag tag)
    {
        Builder.BeginElement(tag);
        _depth++;
    }

    private void End()
    {
        Builder.End();
        _depth--;
    }

    private void Mark(Action draw, Action end)
    {
        bool inText = _isFirstMark;
        _isFirstMark = false;
        if (!inText)
            _structure.BeginGraphicMode();
        draw();
        if (inText)
            _structure.BeginTextMode();
        else
            _structure.BeginGraphicMode();
        end();
    }
}
