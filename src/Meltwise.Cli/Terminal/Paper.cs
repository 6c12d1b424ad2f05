using Spectre.Console;

namespace Meltwise.Cli.Terminal;

/// <summary>Standard output for people: wrapped text, tables with a rule under the head and at the end, no colour when it is not a terminal.</summary>
internal sealed class Paper
{
    private const int WidestText = 100;
    private readonly IAnsiConsole _console;

    public Paper()
    {
        _console = AnsiConsole.Create(new AnsiConsoleSettings { Out = new AnsiConsoleOutput(Console.Out) });
        int width = Console.IsOutputRedirected ? WidestText : Math.Clamp(_console.Profile.Width, 60, WidestText);
        _console.Profile.Width = width;
        Width = width;
    }

    /// <summary>Characters across.</summary>
    public int Width { get; }

    /// <summary>A title: bold on a terminal, a line of its own anywhere.</summary>
    public void Title(string text) => _console.MarkupLine($"[bold]{Markup.Escape(text)}[/]");

    /// <summary>A section title with a blank line before it.</summary>
    public void Section(string text)
    {
        Blank();
        Title(text);
    }

    /// <summary>Wrapped text.</summary>
    public void Text(string text) => Item("", text);

    /// <summary>Wrapped text behind a sign, continued under itself.</summary>
    public void Item(string sign, string text)
    {
        int indent = sign.Length;
        foreach ((int i, string line) in text.Split('\n').SelectMany(paragraph => Wrap(paragraph, Width - indent)).Index())
            _console.WriteLine((i == 0 ? sign : new string(' ', indent)) + line);
    }

    /// <summary>A line as it is, not wrapped.</summary>
    public void Line(string text) => _console.WriteLine(text);

    /// <summary>An empty line.</summary>
    public void Blank() => _console.WriteLine();

    /// <summary>A table: columns left, those of <paramref name="rightAligned"/> right, a rule under the head and at the end.</summary>
    public void Table(IReadOnlyList<string> head, IEnumerable<IReadOnlyList<string>> rows, params int[] rightAligned)
    {
        IReadOnlyList<string>[] all = [.. rows];
        bool[] right = [.. head.Select((_, i) => rightAligned.Contains(i))];
        (int gap, int[] widths) = (0, Array.Empty<int>());
        foreach (int between in (ReadOnlySpan<int>)(Width < 90 ? [2, 1] : [3, 2, 1]))
        {
            (gap, widths) = (between, ColumnWidths.Choose(head, all, right, Width - (between * (head.Count - 1))));
            if (widths.Sum() + (gap * (head.Count - 1)) <= Width) break;
        }
        string rule = new('─', widths.Sum() + (gap * (head.Count - 1)));
        Row(head, widths, right, gap, headsStandBelow: true);
        Line(rule);
        foreach (IReadOnlyList<string> row in all) Row(row, widths, right, gap, headsStandBelow: false);
        Line(rule);
    }

    private void Row(IReadOnlyList<string> cells, int[] widths, bool[] right, int gap, bool headsStandBelow)
    {
        string[][] set = [.. widths.Select((w, i) => Wrap(i < cells.Count ? cells[i] : "", w).ToArray())];
        int height = set.Max(c => c.Length);
        for (int line = 0; line < height; line++)
        {
            IEnumerable<string> parts = set.Select((c, i) =>
            {
                int own = headsStandBelow ? line - (height - c.Length) : line;
                string text = own >= 0 && own < c.Length ? c[own] : "";
                return right[i] ? text.PadLeft(widths[i]) : text.PadRight(widths[i]);
            });
            Line(string.Join(new string(' ', gap), parts).TrimEnd());
        }
    }

    private static IEnumerable<string> Wrap(string text, int width)
    {
        string line = "";
        foreach (string word in text.Split(' '))
        {
            if (line.Length > 0 && line.Length + 1 + word.Length > width)
            {
                yield return line;
                line = word;
            }
            else
            {
                line = line.Length == 0 ? word : line + " " + word;
            }
        }
        yield return line;
    }
}
