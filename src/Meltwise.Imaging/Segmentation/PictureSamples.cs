using Meltwise.Imaging.Areas;
using Meltwise.Imaging.Reading;

namespace Meltwise.Imaging.Segmentation;

/// <summary>Every k-th pixel of a picture in both directions, taken as it is: enough to choose settings for a picture of any size in bounded memory.</summary>
/// <remarks>k is 1 up to two million pixels; beyond, it is the least that leaves at most 0.7 million samples. A sample carries the least and greatest level among its own 3 x 3 neighbours in the full picture and the slope there, so that
/// particle cores, matrix and edges are told apart at full resolution.</remarks>
internal sealed class PictureSamples
{
    private const int AllUpTo = 2_000_000, MostBeyond = 700_000;

    private bool _allUsable = true;

    private PictureSamples(PixelBox frame, int step)
    {
        (Frame, Step) = (frame, step);
        Columns = (frame.Width + step - 1) / step;
        Rows = (frame.Height + step - 1) / step;
        Grey = new float[Columns * Rows];
        Usable = new bool[Columns * Rows];
    }

    /// <summary>Distance between samples, in pixels.</summary>
    public int Step { get; }
    public PixelBox Frame { get; }
    public int Columns { get; }
    public int Rows { get; }
    public int FrameWidth => Frame.Width;
    public int FrameHeight => Frame.Height;

    /// <summary>Grey levels of the samples, row by row.</summary>
    public float[] Grey { get; private init; }

    /// <summary>Least level in the 3 x 3 neighbourhood of each sample; empty until <see cref="Take"/> is asked for neighbours.</summary>
    public float[] Least { get; private set; } = [];

    /// <summary>Greatest level in the 3 x 3 neighbourhood of each sample.</summary>
    public float[] Greatest { get; private set; } = [];

    /// <summary>Size of the slope at each sample by central differences, in grey levels a pixel.</summary>
    public float[] Slope { get; private set; } = [];

    /// <summary>Whether a sample lies outside the areas left out.</summary>
    public bool[] Usable { get; private init; }

    /// <summary>Column of a sample, within the frame.</summary>
    public int X(int column) => Math.Min(FrameWidth - 1, column * Step + Step / 2);

    /// <summary>Row of a sample, within the frame.</summary>
    public int Y(int row) => Math.Min(FrameHeight - 1, row * Step + Step / 2);

    /// <summary>The same places with other grey levels.</summary>
    public PictureSamples With(float[] grey) => new(Frame, Step) { Grey = grey, Usable = Usable, _allUsable = _allUsable };

    /// <summary>Grey levels of the usable samples.</summary>
    public float[] UsableGrey() => _allUsable ? Grey : [.. Grey.Where((_, i) => Usable[i])];

    /// <summary>Samples the part <paramref name="frame"/> of a picture.</summary>
    /// <param name="source">The picture.</param>
    /// <param name="frame">The part sampled.</param>
    /// <param name="leftOut">Pixels whose samples are not usable.</param>
    /// <param name="prepare">What is done to a window before sampling (flattening, smoothing), or null; it may draw from <paramref name="reach"/> pixels around.</param>
    /// <param name="reach">Pixels that <paramref name="prepare"/> draws from.</param>
    /// <param name="neighbours">Whether neighbourhood figures are wanted.</param>
    /// <param name="cancel">Stops the work.</param>
    public static PictureSamples Take(GreySource source, PixelBox frame, LeftOutMask leftOut, Action<float[], PixelBox>? prepare, int reach, bool neighbours, CancellationToken cancel)
    {
        int step = frame.Area <= AllUpTo ? 1 : (int)Math.Ceiling(Math.Sqrt((double)frame.Area / MostBeyond));
        PictureSamples samples = new(frame, step);
        samples.MarkUsable(leftOut);
        if (neighbours)
            (samples.Least, samples.Greatest, samples.Slope) = (new float[samples.Grey.Length], new float[samples.Grey.Length], new float[samples.Grey.Length]);
        // Bands of sample rows small enough to hold, whatever the width of the picture.
        int rowsPerBand = Math.Max(1, (int)Math.Min(samples.Rows, 4_000_000L / ((long)frame.Width * step)));
        for (int first = 0; first < samples.Rows; first += rowsPerBand)
        {
            cancel.ThrowIfCancellationRequested();
            int last = Math.Min(samples.Rows, first + rowsPerBand) - 1;
            PixelBox core = new(frame.X, frame.Y + samples.Y(first), frame.Width, samples.Y(last) - samples.Y(first) + 1);
            PixelBox window = core.Grow(neighbours ? reach + 1 : 0, frame);
            var plane = new float[window.Area];
            source.Read(window, plane);
            prepare?.Invoke(plane, window);
            RowBands.Run(last - first + 1, (from, to) => samples.Fill(plane, window, first + from, first + to, neighbours), cancel);
        }
        return samples;
    }

    private void MarkUsable(LeftOutMask leftOut)
    {
        Array.Fill(Usable, true);
        _allUsable = leftOut.Pixels == 0;
        if (_allUsable) return;
        for (int j = 0; j < Rows; j++)
            for (int i = 0; i < Columns; i++) Usable[j * Columns + i] = !leftOut.Contains(Frame.X + X(i), Frame.Y + Y(j));
    }

    private void Fill(float[] plane, PixelBox window, int from, int to, bool neighbours)
    {
        for (int j = from; j < to; j++)
        {
            int y = Frame.Y + Y(j) - window.Y, up = Math.Max(0, y - 1) * window.Width, at = y * window.Width, down = Math.Min(window.Height - 1, y + 1) * window.Width;
            for (int i = 0; i < Columns; i++)
            {
                int x = X(i), s = j * Columns + i;
                Grey[s] = plane[at + x];
                if (!neighbours) continue;
                int left = Math.Max(0, x - 1), right = Math.Min(window.Width - 1, x + 1);
                (Least[s], Greatest[s]) = Extremes(plane, up, at, down, left, x, right);
                float gx = 0.5f * (plane[at + right] - plane[at + left]), gy = 0.5f * (plane[down + x] - plane[up + x]);
                Slope[s] = MathF.Sqrt(gx * gx + gy * gy);
            }
        }
    }

    private static (float Least, float Greatest) Extremes(float[] plane, int up, int at, int down, int left, int x, int right)
    {
        float least = MathF.Min(MathF.Min(plane[up + x], plane[down + x]), MathF.Min(plane[at + left], plane[at + right]));
        float greatest = MathF.Max(MathF.Max(plane[up + x], plane[down + x]), MathF.Max(plane[at + left], plane[at + right]));
        float leastCorner = MathF.Min(MathF.Min(plane[up + left], plane[up + right]), MathF.Min(plane[down + left], plane[down + right]));
        float greatestCorner = MathF.Max(MathF.Max(plane[up + left], plane[up + right]), MathF.Max(plane[down + left], plane[down + right]));
        return (MathF.Min(MathF.Min(least, leastCorner), plane[at + x]), MathF.Max(MathF.Max(greatest, greatestCorner), plane[at + x]));
    }
}
