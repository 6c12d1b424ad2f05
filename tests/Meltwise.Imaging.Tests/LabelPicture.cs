using Meltwise.Imaging.Reading;

namespace Meltwise.Imaging.Tests;

/// <summary>A label or class picture read as whole numbers.</summary>
internal sealed record LabelPicture(int Width, int Height, int[] Labels)
{
    public static string Folder(string set) => Path.Combine(AppContext.BaseDirectory, "Published", set);

    public static LabelPicture Read(string path)
    {
        using MicrographFile file = PictureReader.Open(path);
        var grey = new float[file.Grey.Width * file.Grey.Height];
        file.Grey.Read(file.Grey.Frame, grey);
        float scale = file.Metadata.BitsPerSample == 16 ? 257 : 1;
        return new(file.Grey.Width, file.Grey.Height, [.. grey.Select(v => (int)MathF.Round(v * scale))]);
    }

    public double Share => Labels.Count(v => v > 0) / (double)Labels.Length;

    /// <summary>The first rows only.</summary>
    public LabelPicture Top(int rows) => new(Width, rows, Labels[..(rows * Width)]);

    /// <summary>Without a box.</summary>
    public LabelPicture Without(PixelBox box) => this with { Labels = [.. Labels.Select((v, i) => box.Contains(i % Width, i / Width) ? 0 : v)] };

    /// <summary>Each 8-connected piece of the pixels that <paramref name="counts"/> holds for gets a number of its own.</summary>
    public LabelPicture Pieces(Func<int, bool> counts)
    {
        var pieces = new int[Labels.Length];
        int number = 0;
        Stack<int> open = new();
        for (int i = 0; i < pieces.Length; i++)
        {
            if (pieces[i] != 0 || !counts(Labels[i])) continue;
            pieces[i] = ++number;
            open.Push(i);
            while (open.TryPop(out int at))
                foreach (int next in Around(at))
                    if (pieces[next] == 0 && counts(Labels[next]))
                    {
                        pieces[next] = number;
                        open.Push(next);
                    }
        }
        return this with { Labels = pieces };
    }

    /// <summary>Without the pieces that touch the frame.</summary>
    public LabelPicture Inside()
    {
        HashSet<int> cut = [.. Labels.Where((_, i) => i % Width == 0 || i % Width == Width - 1 || i / Width == 0 || i / Width == Height - 1)];
        return this with { Labels = [.. Labels.Select(v => cut.Contains(v) ? 0 : v)] };
    }

    private IEnumerable<int> Around(int i)
    {
        int x = i % Width, y = i / Width;
        for (int ny = Math.Max(0, y - 1); ny <= Math.Min(Height - 1, y + 1); ny++)
            for (int nx = Math.Max(0, x - 1); nx <= Math.Min(Width - 1, x + 1); nx++) yield return ny * Width + nx;
    }

    /// <summary>Dice overlap with another mask of the same size: twice the common pixels over the pixels of both.</summary>
    public double Dice(LabelPicture other)
    {
        long both = 0, sum = 0;
        for (int i = 0; i < Labels.Length; i++)
        {
            bool a = Labels[i] > 0, b = other.Labels[i] > 0;
            if (a && b) both++;
            sum += (a ? 1 : 0) + (b ? 1 : 0);
        }
        return sum == 0 ? 1 : 2.0 * both / sum;
    }

    /// <summary>The mask that a measurement found.</summary>
    public static LabelPicture Of(PictureResult result, int width, int height, bool insideOnly = false)
    {
        var labels = new int[width * height];
        foreach (Meltwise.Imaging.Particles.Particle p in result.ParticleList.Where(p => !insideOnly || !p.Cut))
            foreach (Meltwise.Imaging.Segmentation.Run run in p.Mask) labels.AsSpan(run.Y * width + run.From, run.Length).Fill(p.Number);
        return new(width, height, labels);
    }
}
