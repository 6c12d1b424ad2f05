using System.Numerics;
using Meltwise.Metallurgy.Composition;

namespace Meltwise.Metallurgy.Explanation;

/// <summary>What one element contributes to the difference of two heats.</summary>
/// <param name="Element">Element symbol, or several joined by a comma where small ones were pooled.</param>
/// <param name="MassPercentDifference">Candidate less reference, mass percent; the sum for pooled elements.</param>
/// <param name="HardnessHrc">Share in the hardness difference, HRC, with the interval of the analysis' uncertainty.</param>
/// <param name="CarbonInAustenite">Share in the difference of dissolved carbon, mass percent, with its interval.</param>
public sealed record ElementContribution(string Element, double MassPercentDifference, Interval HardnessHrc, Interval CarbonInAustenite);

/// <summary>Splits the difference of two heats among the elements that differ, by Shapley values.</summary>
/// <remarks>
/// <para><b>Formula.</b> φ_i = Σ over sets S without i of |S|! (n-|S|-1)! / n! (v(S and i) - v(S)); v(S) is the chain's answer with the elements of S at the candidate's
/// content and the others at the reference's. The shares add up to the whole difference.</para>
/// <para><b>Interval.</b> First order: share divided by the difference of content is a slope, times the uncertainty of that difference. The models' errors are
/// not in it.</para>
/// <para><b>Limits.</b> Up to eight players; when more elements differ, the ones of least single effect play together as one.</para>
/// <para><b>Source.</b> Shapley, A Value for n-Person Games, Contributions to the Theory of Games II (1953) 307.</para>
/// </remarks>
internal static class ShapleyContributions
{
    private const int MostPlayers = 8;

    public static IReadOnlyList<ElementContribution> Of(ChemistryDraws chemistry, HardnessChain chain, ISoak soak, double level, CancellationToken cancel = default)
    {
        AlloyContent reference = chemistry.Reference, candidate = chemistry.Candidate;
        List<AlloyElement[]> players = Players(reference, candidate, steel => Value(chain, soak, steel).Hrc);
        int n = players.Count;
        (double Hrc, double Carbon)[] values = new (double, double)[1 << n];
        for (int set = 0; set < values.Length; set++)
        {
            cancel.ThrowIfCancellationRequested();
            values[set] = Value(chain, soak, Mixed(reference, candidate, players, set));
        }

        double[] weight = [.. Enumerable.Range(0, Math.Max(n, 1)).Select(size => 1 / (n * Choose(n - 1, size)))];
        double z = MathNet.Numerics.Distributions.Normal.InvCDF(0, 1, (1 + level) / 2);
        List<ElementContribution> contributions = [];
        for (int i = 0; i < n; i++)
        {
            double hrc = 0, carbon = 0;
            for (int set = 0; set < values.Length; set++)
            {
                if ((set >> i & 1) == 1) continue;
                double w = weight[BitOperations.PopCount((uint)set)];
                hrc += w * (values[set | 1 << i].Hrc - values[set].Hrc);
                carbon += w * (values[set | 1 << i].Carbon - values[set].Carbon);
            }
            double difference = players[i].Sum(e => candidate[e] - reference[e]);
            double relative = z * RelativeSd(players[i], chemistry);
            contributions.Add(new(string.Join(", ", players[i]), difference, Around(hrc, relative, level), Around(carbon, relative, level)));
        }
        return [.. contributions.OrderByDescending(c => Math.Abs(c.HardnessHrc.Estimate))];
    }

    /// <summary>Whether all shares are numbers; they are not where a curve ends between the two heats.</summary>
    public static string? Fault(IReadOnlyList<ElementContribution> contributions) =>
        contributions.Any(c => double.IsNaN(c.HardnessHrc.Estimate))
            ? "Contributions by element: the chain has no answer for some mixtures of the two heats."
            : null;

    private static List<AlloyElement[]> Players(AlloyContent reference, AlloyContent candidate, Func<AlloyContent, double> hrc)
    {
        AlloyElement[] differing = [.. AlloyContent.Elements.Where(e => candidate[e] != reference[e])];
        if (differing.Length <= MostPlayers) return [.. differing.Select(e => (AlloyElement[])[e])];
        double at = hrc(reference);
        AlloyElement[] ordered = [.. differing.OrderByDescending(e =>
        {
            AlloyContent one = reference;
            one[e] = candidate[e];
            return Math.Abs(hrc(one) - at);
        })];
        return [.. ordered.Take(MostPlayers - 1).Select(e => (AlloyElement[])[e]), ordered[(MostPlayers - 1)..]];
    }

    private static AlloyContent Mixed(AlloyContent reference, AlloyContent candidate, List<AlloyElement[]> players, int set)
    {
        AlloyContent mixed = reference;
        for (int i = 0; i < players.Count; i++)
            if ((set >> i & 1) == 1)
                foreach (AlloyElement e in players[i]) mixed[e] = candidate[e];
        return mixed;
    }

    private static (double Hrc, double Carbon) Value(HardnessChain chain, ISoak soak, AlloyContent steel)
    {
        ChainState state = chain.Of(soak.Of(steel), ChainErrors.None);
        return (state.HardnessHrc, state.Austenite.C);
    }

    private static double RelativeSd(AlloyElement[] player, ChemistryDraws chemistry)
    {
        double variance = 0, difference = 0;
        foreach (AlloyElement e in player)
        {
            variance += chemistry.DifferenceSd(e) * chemistry.DifferenceSd(e);
            difference += Math.Abs(chemistry.Candidate[e] - chemistry.Reference[e]);
        }
        return Math.Sqrt(variance) / difference;
    }

    private static Interval Around(double share, double relative, double level) =>
        new(share, share - Math.Abs(share) * relative, share + Math.Abs(share) * relative, level);

    private static double Choose(int n, int k)
    {
        double c = 1;
        for (int i = 1; i <= k; i++) c = c * (n - k + i) / i;
        return c;
    }
}
