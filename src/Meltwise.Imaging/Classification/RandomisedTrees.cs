namespace Meltwise.Imaging.Classification;

/// <summary>A forest of decision trees whose cuts are drawn at random and chosen by purity: a classifier that needs no tuning.</summary>
/// <remarks>
/// <para><b>Formula.</b> At each node √F features are drawn, a cut uniform between the least and greatest value of each; the cut that lowers the Gini impurity 1 - Σ p² most is kept, until a node is pure or holds fewer than
/// five examples. Classes are weighted so that each counts the same. The forest's answer is the mean of the class shares in the leaves.</para>
/// <para><b>Limits.</b> Knows only what was marked: a feature value outside the marked range is taken as its nearest end.</para>
/// <para><b>Source.</b> P. Geurts, D. Ernst, L. Wehenkel, Machine Learning 63 (2006) 3-42.</para>
/// </remarks>
internal sealed class RandomisedTrees
{
    private const int LeastExamples = 5, MaxDepth = 24;
    private readonly Node[] _roots;
    private readonly int _classes;

    private RandomisedTrees(Node[] roots, int classes) => (_roots, _classes) = (roots, classes);

    /// <summary>Grows a forest; the same at any number of threads.</summary>
    /// <param name="features">One row of features an example.</param>
    /// <param name="labels">Class of each, from 0.</param>
    /// <param name="classes">Number of classes.</param>
    /// <param name="trees">Number of trees.</param>
    /// <param name="seed">Seed.</param>
    public static RandomisedTrees Grow(float[][] features, int[] labels, int classes, int trees, int seed)
    {
        double[] weight = [.. Enumerable.Range(0, classes).Select(c => 1.0 / Math.Max(1, labels.Count(l => l == c)))];
        var roots = new Node[trees];
        Parallel.For(0, trees, Segmentation.RowBands.Workers(), t => roots[t] = Split(features, labels, weight, [.. Enumerable.Range(0, labels.Length)], new Random(unchecked(seed * 7919 + t)), 0));
        return new(roots, classes);
    }

    /// <summary>Adds the shares of the classes to <paramref name="shares"/> and returns the class with the largest.</summary>
    public int Classify(ReadOnlySpan<float> features, Span<double> shares)
    {
        shares.Clear();
        foreach (Node root in _roots)
        {
            Node node = root;
            while (node.Shares is null) node = features[node.Feature] <= node.Cut ? node.Low! : node.High!;
            for (int c = 0; c < _classes; c++) shares[c] += node.Shares[c] / _roots.Length;
        }
        int best = 0;
        for (int c = 1; c < _classes; c++)
            if (shares[c] > shares[best]) best = c;
        return best;
    }

    private static Node Split(float[][] features, int[] labels, double[] weight, int[] members, Random random, int depth)
    {
        double[] shares = Shares(labels, weight, members);
        if (members.Length < LeastExamples || depth >= MaxDepth || shares.Max() > 0.9999) return new(0, 0, null, null, shares);
        int count = features[0].Length, draws = (int)Math.Ceiling(Math.Sqrt(count));
        (int feature, float cut, double gain) = (-1, 0f, double.NegativeInfinity);
        for (int k = 0; k < draws; k++)
        {
            int f = random.Next(count);
            float low = members.Min(m => features[m][f]), high = members.Max(m => features[m][f]);
            float at = low + (float)random.NextDouble() * (high - low);
            if (high <= low || at >= high) continue;
            double purity = Purity(features, labels, weight, members, f, at);
            if (purity > gain) (feature, cut, gain) = (f, at, purity);
        }
        if (feature < 0) return new(0, 0, null, null, shares);
        int[] lower = [.. members.Where(m => features[m][feature] <= cut)], upper = [.. members.Where(m => features[m][feature] > cut)];
        return new(feature, cut, Split(features, labels, weight, lower, random, depth + 1), Split(features, labels, weight, upper, random, depth + 1), null);
    }

    private static double[] Shares(int[] labels, double[] weight, int[] members)
    {
        var shares = new double[weight.Length];
        foreach (int m in members) shares[labels[m]] += weight[labels[m]];
        double sum = shares.Sum();
        return sum > 0 ? [.. shares.Select(s => s / sum)] : shares;
    }

    /// <summary>Σ over both sides of Σ w_c² / Σ w: largest where the sides are purest.</summary>
    private static double Purity(float[][] features, int[] labels, double[] weight, int[] members, int feature, float cut)
    {
        Span<double> low = stackalloc double[weight.Length], high = stackalloc double[weight.Length];
        foreach (int m in members)
            if (features[m][feature] <= cut) low[labels[m]] += weight[labels[m]];
            else high[labels[m]] += weight[labels[m]];
        return Side(low) + Side(high);

        static double Side(ReadOnlySpan<double> w)
        {
            double sum = 0, squares = 0;
            foreach (double v in w)
            {
                sum += v;
                squares += v * v;
            }
            return sum > 0 ? squares / sum : 0;
        }
    }

    private sealed record Node(int Feature, float Cut, Node? Low, Node? High, double[]? Shares);
}
