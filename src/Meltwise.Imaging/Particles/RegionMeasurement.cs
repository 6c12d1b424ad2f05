using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;

namespace Meltwise.Imaging.Particles;

/// <summary>Measures the particles of one connected region: parts it, then takes area, place, axes, widths and grey level of each piece.</summary>
/// <remarks>
/// <para><b>Formula.</b> Axes are those of the ellipse with the same second moments, 4√λ, each pixel counting 1/12 for its own extent. Area is the sub-pixel area (<see cref="SubPixelArea"/>) plus πσ² for blur
/// (shared by the pieces of a region, half for one cut by the frame).</para>
/// <para><b>Source.</b> Second moments of a region: M. K. Hu, IRE Trans. Information Theory 8 (1962) 179-187.</para>
/// </remarks>
internal sealed class RegionMeasurement(float[] plane, PixelBox window, SegmentationPlan plan, bool keepMask)
{
    private readonly RegionRaster _raster = new();
    private readonly ConvexOutline _outline = new();
    private PieceSums[] _sums = new PieceSums[4];

    /// <summary>The particles of a region, in raster order of their first pixel.</summary>
    public List<Particle> Measure(Run[] region)
    {
        SegmentationSettings settings = plan.Settings;
        _raster.Draw(region, window, plane, (float)plan.BoundaryLevel);
        int area = region.Sum(r => r.Length);
        int pieces = settings.Split && area >= 2 * settings.MinimumAreaPx ? WatershedSplit.Part(_raster, settings.SplitNeck, settings.MinimumAreaPx) : 1;
        if (_sums.Length <= pieces) _sums = new PieceSums[2 * pieces];
        Array.Clear(_sums);
        AddPixels();
        AddRing();
        bool cut = IsCut(region);
        double blur = Math.PI * plan.BlurPx * plan.BlurPx / pieces * (cut ? 0.5 : 1);
        List<Particle> particles = new(pieces);
        for (int p = 1; p <= pieces; p++)
            if (_sums[p].Pixels + _sums[p].Edge + blur >= settings.MinimumAreaPx) particles.Add(Finish(p, blur, cut && (pieces == 1 || PieceIsCut(p))));
        return particles;
    }

    private void AddPixels()
    {
        PixelBox box = _raster.Box;
        for (int y = 0; y < box.Height; y++)
            for (int x = 0; x < box.Width; x++)
            {
                int piece = _raster.Piece[y * box.Width + x];
                if (piece == 0) continue;
                ref PieceSums s = ref _sums[piece];
                s.Add(x, y, plane[(box.Y + y) * window.Width + box.X + x]);
                if (IsRim(x, y)) AddShare(ref s, x, y, -1);
            }
    }

    private void AddRing()
    {
        PixelBox box = _raster.Box;
        for (int y = 0; y < box.Height; y++)
            for (int x = 0; x < box.Width; x++)
                if (_raster.Piece[y * box.Width + x] == 0 && PieceBeside(x, y) is var piece and > 0) AddShare(ref _sums[piece], x, y, 0);
    }

    private void AddShare(ref PieceSums s, int x, int y, double less)
    {
        double level = plan.BoundaryLevel;
        int px = _raster.Box.X + x, py = _raster.Box.Y + y;
        double share = SubPixelArea.Share(plane, window.Width, window.Height, px, py, level, out double slope);
        double height = (plane[py * window.Width + px] - level) / slope + 0.5;
        s.Edge += share + less;
        s.EdgeUp += Math.Clamp(height - 1 / slope, 0, 1) + less;
        s.EdgeDown += Math.Clamp(height + 1 / slope, 0, 1) + less;
    }

    private bool IsRim(int x, int y)
    {
        PixelBox b = _raster.Box;
        byte[] inside = _raster.Inside;
        int at = y * b.Width + x;
        return (x > 0 && inside[at - 1] == 0) || (x < b.Width - 1 && inside[at + 1] == 0) || (y > 0 && inside[at - b.Width] == 0) || (y < b.Height - 1 && inside[at + b.Width] == 0);
    }

    private int PieceBeside(int x, int y)
    {
        PixelBox b = _raster.Box;
        int[] piece = _raster.Piece;
        int at = y * b.Width + x, found = 0;
        if (x > 0) found = piece[at - 1];
        if (found == 0 && x < b.Width - 1) found = piece[at + 1];
        if (found == 0 && y > 0) found = piece[at - b.Width];
        if (found == 0 && y < b.Height - 1) found = piece[at + b.Width];
        return found;
    }

    private bool IsCut(Run[] region)
    {
        PixelBox frame = plan.Inspected;
        foreach (Run run in region)
        {
            int y = window.Y + run.Y, from = window.X + run.From, to = window.X + run.To;
            if (y == frame.Y || y == frame.Bottom - 1 || from == frame.X || to == frame.Right) return true;
            if (plan.LeftOut.Touches(new PixelBox(from - 1, y - 1, to - from + 2, 3))) return true;
        }
        return false;
    }

    private bool PieceIsCut(int piece)
    {
        ref PieceSums s = ref _sums[piece];
        PixelBox box = _raster.Box, at = new(window.X + box.X + s.Left, window.Y + box.Y + s.Top, s.Right - s.Left + 1, s.Bottom - s.Top + 1), frame = plan.Inspected;
        return at.X == frame.X || at.Y == frame.Y || at.Right == frame.Right || at.Bottom == frame.Bottom
            || plan.LeftOut.Touches(at.Grow(1, frame));
    }

    private Particle Finish(int piece, double blur, bool cut)
    {
        ref PieceSums s = ref _sums[piece];
        PixelBox box = _raster.Box;
        List<Run> mask = [];
        _outline.Clear();
        for (int y = s.Top; y <= s.Bottom; y++) AddRow(piece, y, s.Left, s.Right, mask);
        (double max, double min) = _outline.Widths();
        (double major, double minor, double angle) = s.Axes();
        return new Particle
        {
            X = window.X + box.X + s.SumX / s.Pixels + 0.5,
            Y = window.Y + box.Y + s.SumY / s.Pixels + 0.5,
            Pixels = s.Pixels,
            Area = s.Pixels + s.Edge + blur,
            AreaOneStepUp = s.Pixels + s.EdgeUp + blur,
            AreaOneStepDown = s.Pixels + s.EdgeDown + blur,
            FeretMax = max,
            FeretMin = min,
            MajorAxis = major,
            MinorAxis = minor,
            AngleDegrees = angle,
            MeanGrey = s.SumGrey / s.Pixels,
            Cut = cut,
            Box = new PixelBox(window.X + box.X + s.Left, window.Y + box.Y + s.Top, s.Right - s.Left + 1, s.Bottom - s.Top + 1),
            Mask = mask,
        };
    }

    private void AddRow(int piece, int y, int left, int right, List<Run> mask)
    {
        PixelBox box = _raster.Box;
        int first = -1, last = -1, start = -1;
        for (int x = left; x <= right + 1; x++)
        {
            bool inside = x <= right && _raster.Piece[y * box.Width + x] == piece;
            if (inside)
            {
                if (first < 0) first = x;
                if (start < 0) start = x;
                last = x;
            }
            else if (start >= 0)
            {
                if (keepMask) mask.Add(new Run(window.Y + box.Y + y, window.X + box.X + start, window.X + box.X + x));
                start = -1;
            }
        }
        if (first >= 0) _outline.AddRow(y, first, last + 1);
    }
}
