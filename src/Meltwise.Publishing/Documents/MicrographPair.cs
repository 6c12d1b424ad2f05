using Meltwise.Publishing.Drawing;

namespace Meltwise.Publishing.Documents;

/// <summary>Where the pictures of a row go: side by side at one magnification, with a bar of one length under each.</summary>
public static class MicrographPair
{
    /// <summary>A picture with its drawn size and bar.</summary>
    /// <param name="Picture">Pixels.</param>
    /// <param name="Caption">Words under it.</param>
    /// <param name="Width">Drawn width.</param>
    /// <param name="Height">Drawn height.</param>
    /// <param name="Bar">Drawn length of the bar; 0 for none.</param>
    /// <param name="BarLabel">Its length with unit.</param>
    public sealed record Placed(PreparedPicture Picture, Rich Caption, double Width, double Height, double Bar, string BarLabel);

    /// <summary>Sizes the pictures so that the widest fills its column and all share one scale.</summary>
    /// <param name="pictures">The pictures.</param>
    /// <param name="column">Width of a column.</param>
    public static IReadOnlyList<Placed> Place(IReadOnlyList<Micrograph> pictures, double column)
    {
        bool scaled = pictures.All(p => p.MicrometresPerPixel is > 0);
        double[] extents = [.. pictures.Select(p => p.WidthPx * (scaled ? p.MicrometresPerPixel!.Value : 1))];
        double perUnit = column / extents.Max(), bar = scaled ? ScaleLength.Of(extents.Min()) : 0;
        return [.. pictures.Select((p, i) =>
        {
            PreparedPicture ready = PreparedPicture.Of(p.File);
            double width = extents[i] * perUnit;
            return new Placed(ready, p.Caption, width, width * ready.HeightPx / ready.WidthPx, bar * perUnit, scaled ? ScaleLength.Label(bar) : "");
        })];
    }
}
