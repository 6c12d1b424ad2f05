using Meltwise.Domain;

namespace Meltwise.Casework.Planning;

/// <summary>The primary properties of a plan, each as a request of its own, and how their readings on one coupon go together.</summary>
internal sealed class PlannedProperties
{
    private PlannedProperties(IReadOnlyList<PlanRequest> requests, double[,] factor, int hardness)
        => (Requests, Factor, SharedHardness) = (requests, factor, hardness);

    /// <summary>One request a property, the plan's first one first.</summary>
    public IReadOnlyList<PlanRequest> Requests { get; }

    /// <summary>Lower triangle L of the correlation matrix LL' of the readings on one coupon.</summary>
    public double[,] Factor { get; }

    /// <summary>Place of hardness among the properties where another one is judged through the same hardness readings; −1 otherwise.</summary>
    public int SharedHardness { get; }

    /// <summary>True where no property tells anything about another one.</summary>
    public bool AreIndependent => SharedHardness < 0 && IsDiagonal(Factor);

    /// <summary>Takes the properties of a plan apart.</summary>
    /// <exception cref="PlanFaultException">A property is named twice, or the correlations contradict each other.</exception>
    public static PlannedProperties Of(PlanRequest plan)
    {
        PlannedTrend? trend = plan.Ladder is not null ? null : plan.Trend ?? plan.Further.Select(f => f.Own.Trend).FirstOrDefault(t => t is not null);
        int hardness = trend is null ? -1 : plan.Further.Select((f, i) => f.IsHardness ? i + 1 : 0).DefaultIfEmpty(0).Max();
        if (plan.Further.Count > 0 && trend is not null && PropertyTable.Find(plan.Property) == PropertyTable.Hardness)
            throw new PlanFaultException("Hardness is the first property and another one is judged through hardness. Plan with that one first and hardness beside it.");
        HashSet<string> named = new(StringComparer.OrdinalIgnoreCase) { plan.Property };
        foreach (FurtherPrimary f in plan.Further)
            if (!named.Add(f.Own.Property)) throw new PlanFaultException($"{f.Own.Property} is named twice. A property has one margin and one role.");
        return new([plan with { Further = [], Trend = plan.Ladder is null ? plan.Trend : null }, .. plan.Further.Select(f => f.Beside(plan, trend))], Cholesky(Matrix(plan)), hardness > 0 ? hardness : -1);
    }

    private static double[,] Matrix(PlanRequest plan)
    {
        int count = plan.Further.Count + 1;
        double[,] matrix = new double[count, count];
        for (int i = 0; i < count; i++) matrix[i, i] = 1;
        for (int i = 1; i < count; i++)
            for (int j = 0; j < Math.Min(i, plan.Further[i - 1].Correlations.Count); j++)
            {
                double r = plan.Further[i - 1].Correlations[j];
                if (r is not (> -1 and < 1)) throw new PlanFaultException(FormattableString.Invariant($"The correlation {r:G6} of {plan.Further[i - 1].Own.Property} with {Name(plan, j)} must lie between -1 and 1."));
                matrix[i, j] = matrix[j, i] = r;
            }
        return matrix;
    }

    private static double[,] Cholesky(double[,] matrix)
    {
        int n = matrix.GetLength(0);
        double[,] l = new double[n, n];
        for (int i = 0; i < n; i++)
            for (int j = 0; j <= i; j++)
            {
                double sum = matrix[i, j];
                for (int k = 0; k < j; k++) sum -= l[i, k] * l[j, k];
                if (i == j && !(sum > 1e-9)) throw new PlanFaultException("The correlations of the properties contradict each other: two that both follow a third cannot be that unlike. Bring them nearer to 0.");
                l[i, j] = i == j ? Math.Sqrt(sum) : sum / l[j, j];
            }
        return l;
    }

    private static string Name(PlanRequest plan, int property) => property == 0 ? plan.Property : plan.Further[property - 1].Own.Property;

    private static bool IsDiagonal(double[,] factor)
    {
        for (int i = 1; i < factor.GetLength(0); i++)
            for (int j = 0; j < i; j++)
                if (factor[i, j] != 0) return false;
        return true;
    }
}
