using Meltwise.Imaging.Reading;

namespace Meltwise.Imaging.Segmentation;

/// <summary>Standard deviation of the pixel noise of a picture.</summary>
/// <remarks>
/// <para><b>Formula.</b> The 3 x 3 difference of two Laplacians (1 -2 1; -2 4 -2; 1 -2 1) cancels planes and straight edges along rows and columns; σ = median |response| / (6 · 0.6745).</para>
/// <para><b>Limits.</b> White noise is assumed; noise smoothed by an instrument reads low, and fine texture reads as noise. Taken on up to 200 evenly spaced rows.</para>
/// <para><b>Source.</b> J. Immerkær, Computer Vision and Image Understanding 64 (1996) 300-302, with the median in place of the mean.</para>
/// </remarks>
internal static class NoiseEstimate
{
    private const int MaxRows = 200;

    public static double Of(GreySource source, PixelBox frame)
    {
        if (frame.Width < 3 || frame.Height < 3) return 0;
        int rows = Math.Min(MaxRows, frame.Height - 2), stride = Math.Max(1, frame.Width * rows / 250_000);
        var lines = new float[3 * frame.Width];
        List<float> responses = [];
        for (int k = 0; k < rows; k++)
        {
            int y = (int)((k + 0.5) * (frame.Height - 2) / rows);
            source.Read(new PixelBox(frame.X, frame.Y + y, frame.Width, 3), lines);
            for (int x = 1; x < frame.Width - 1; x += stride) responses.Add(Math.Abs(Response(lines, frame.Width, x)));
        }
        responses.Sort();
        int middle = responses.Count / 2;
        // Integer grey levels leave ties at the median; the mean of the middle fifth breaks them.
        int half = Math.Max(1, responses.Count / 10);
        double sum = 0;
        for (int i = middle - half; i < middle + half; i++) sum += responses[Math.Clamp(i, 0, responses.Count - 1)];
        return sum / (2 * half) / (6 * 0.6745);
    }

    private static float Response(float[] v, int width, int x)
    {
        float Column(int c) => v[c] - 2 * v[width + c] + v[2 * width + c];
        return Column(x - 1) - 2 * Column(x) + Column(x + 1);
    }
}
