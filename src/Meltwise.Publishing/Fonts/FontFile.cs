using Meltwise.Publishing.Drawing;

namespace Meltwise.Publishing.Fonts;

/// <summary>The bundled fonts (SIL Open Font License 1.1): static faces for print, variable faces for the web, licences.</summary>
public static class FontFile
{
    private static readonly System.Collections.Concurrent.ConcurrentDictionary<string, byte[]> s_read = new(StringComparer.Ordinal);

    /// <summary>Files a web page needs, with the CSS that declares them under <c>fonts/</c>.</summary>
    public static IReadOnlyList<string> ForWeb { get; } =
    [
        "vollkorn-latin-wght-normal.woff2", "vollkorn-latin-wght-italic.woff2", "ysabeau-office-latin-wght-normal.woff2", "ysabeau-office-latin-wght-italic.woff2",
        "meltwise-text-signs.woff2", "meltwise-label-signs.woff2",
    ];

    /// <summary>Files of the licences, which travel with the fonts.</summary>
    public static IReadOnlyList<string> Licences { get; } = ["Vollkorn-OFL.txt", "Ysabeau-Office-OFL.txt"];

    /// <summary>Content of a bundled file.</summary>
    /// <exception cref="ArgumentException">No such file.</exception>
    public static byte[] Read(string name) => s_read.GetOrAdd(name, Load);

    private static byte[] Load(string name)
    {
        using Stream stream = typeof(FontFile).Assembly.GetManifestResourceStream("fonts/" + name) ?? throw new ArgumentException($"There is no bundled font file {name}.", nameof(name));
        byte[] content = new byte[stream.Length];
        stream.ReadExactly(content);
        return content;
    }

    /// <summary>Name of the static face that sets a style: the nearest weight there is.</summary>
    public static string For(TypeStyle style) => style.Face switch
    {
        Face.Label when style.Italic => "meltwise-label-500-italic.ttf",
        Face.Label => style.Weight >= 600 ? "meltwise-label-650.ttf" : "meltwise-label-500.ttf",
        Face.Text when style.Italic => style.Weight >= 500 ? "meltwise-text-500-italic.ttf" : "meltwise-text-400-italic.ttf",
        _ => style.Weight >= 600 ? "meltwise-text-600.ttf" : style.Weight >= 500 ? "meltwise-text-500.ttf" : "meltwise-text-400.ttf",
    };

    /// <summary>CSS that declares the web faces; with <paramref name="inside"/> the files are written into it as data.</summary>
    /// <param name="inside">True for a single file that needs nothing beside it.</param>
    /// <param name="folder">Address of the files when they stand beside the page.</param>
    public static string Css(bool inside, string folder = "fonts/")
    {
        System.Text.StringBuilder css = new();
        Declare("Vollkorn", "vollkorn-latin-wght-normal.woff2", "400 900", "normal");
        Declare("Vollkorn", "vollkorn-latin-wght-italic.woff2", "400 900", "italic");
        Declare("Ysabeau", "ysabeau-office-latin-wght-normal.woff2", "100 900", "normal");
        Declare("Ysabeau", "ysabeau-office-latin-wght-italic.woff2", "100 900", "italic");
        Declare("Vollkorn Signs", "meltwise-text-signs.woff2", "100 900", "normal");
        Declare("Ysabeau Signs", "meltwise-label-signs.woff2", "100 900", "normal");
        return css.ToString();

        void Declare(string family, string file, string weight, string style)
        {
            string source = inside ? "data:font/woff2;base64," + Convert.ToBase64String(Read(file)) : folder + file;
            css.Append("@font-face{font-family:\"").Append(family).Append("\";src:url(").Append(source).Append(") format(\"woff2\");font-weight:")
                .Append(weight).Append(";font-style:").Append(style).Append(";font-display:swap}\n");
        }
    }
}
