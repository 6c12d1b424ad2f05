using System.Text.Json;
using Meltwise.Imaging.Stereology;
using Xunit;

namespace Meltwise.Imaging.Tests;

/// <summary>Nearest neighbours against the truth of a made picture; Ripley's function against random and clustered points and against its definition by direct summation.</summary>
public sealed class ClusteringTests
{
    [Fact]
    public void Nearest_neighbours_of_the_exact_centres_agree_with_SciPy()
    {
        JsonElement json = MadePicture.Read("discs_af10").Json, truth = json.GetProperty("clark_evans");
        double width = json.GetProperty("width").GetDouble(), height = json.GetProperty("height").GetDouble();
        (double X, double Y)[] centres = [.. json.GetProperty("particles").EnumerateArray().Select(p => (p.GetProperty("x").GetDouble(), p.GetProperty("y").GetDouble())).Where(p => p.Item1 >= 0 && p.Item2 >= 0 && p.Item1 < width && p.Item2 < height)];
        Clustering found = NearestNeighbours.Of([.. centres.Select(c => c.X)], [.. centres.Select(c => c.Y)], width, height)!;
        Assert.Equal(truth.GetProperty("n_centres").GetInt32(), found.Points);
        Assert.Equal(truth.GetProperty("mean_nn_px").GetDouble(), found.MeanDistance, 1e-9);
        Assert.Equal(truth.GetProperty("clark_evans_R_edge_corrected").GetDouble(), found.Ratio, 1e-9);
        Assert.Equal(truth.GetProperty("z_edge_corrected").GetDouble(), found.Z, 1e-6);
    }

    [Fact]
    public void Random_points_stay_in_the_envelope_and_clusters_leave_it()
    {
        Random draw = new(5);
        double[] x = [.. Enumerable.Range(0, 300).Select(_ => draw.NextDouble() * 400)], y = [.. Enumerable.Range(0, 300).Select(_ => draw.NextDouble() * 300)];
        RipleyCurve random = RipleyClustering.Of(x, y, 400, 300, cancel: TestContext.Current.CancellationToken)!;
        Assert.InRange(random.ClusteredAt.Count, 0, 4);
        double[] cx = [.. x.Select((_, i) => Math.Clamp(x[i / 30 * 30] + 12 * draw.NextDouble(), 0, 400))], cy = [.. y.Select((_, i) => Math.Clamp(y[i / 30 * 30] + 12 * draw.NextDouble(), 0, 300))];
        RipleyCurve clustered = RipleyClustering.Of(cx, cy, 400, 300, cancel: TestContext.Current.CancellationToken)!;
        Assert.True(clustered.ClusteredAt.Count > 20);
    }

    [Fact]
    public void Ripley_agrees_with_direct_summation()
    {
        Random draw = new(2);
        double[] x = [.. Enumerable.Range(0, 40).Select(_ => draw.NextDouble() * 80)], y = [.. Enumerable.Range(0, 40).Select(_ => draw.NextDouble() * 60)];
        RipleyCurve curve = RipleyClustering.Of(x, y, 80, 60, cancel: TestContext.Current.CancellationToken)!;
        double r = curve.Distance[^1], sum = 0;
        for (int i = 0; i < 40; i++)
            for (int j = 0; j < 40; j++)
                if (i != j && Math.Sqrt((x[i] - x[j]) * (x[i] - x[j]) + (y[i] - y[j]) * (y[i] - y[j])) <= r)
                    sum += 80.0 * 60 / ((80 - Math.Abs(x[i] - x[j])) * (60 - Math.Abs(y[i] - y[j])));
        Assert.Equal(Math.Sqrt(80.0 * 60 / (40 * 39) * sum / Math.PI) - r, curve.Excess[^1], 1e-9);
    }
}
