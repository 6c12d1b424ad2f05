using Meltwise.Statistics.Bayesian;
using Meltwise.Statistics.Resampling;

namespace Meltwise.Casework.Judging;

/// <summary>Step 8, what is shown and not counted: two bootstrap intervals and a posterior probability for the lots as tested, and the posterior of the two sources.</summary>
internal static class ShownStep
{
    /// <summary>Seed of the bootstrap; one for all verdicts, so that the same rows give the same digits.</summary>
    public const int Seed = 1;

    private const int Replicates = 10_000;

    /// <summary>Null where there is neither.</summary>
    public static ShownOnly? Of(Assessment main)
    {
        SourcesPosterior? sources = main.SourcesStep?.Posterior;
        return OfLots(main) is { } lots ? lots with { Sources = sources } : sources is null ? null : new(null, null, null, sources);
    }

    /// <summary>Null with several loads or heats, bounds among the readings, a linear scale, or no judged comparison as tested.</summary>
    private static ShownOnly? OfLots(Assessment main)
    {
        LotData lots = main.Lots;
        if (main.AsTested is not { Stands: true, Ratio: not null } || !main.Rule.IsLog || lots.HasBounds || lots.SeveralHeats || lots.Loads.Count > 1 || main.AsTestedStep is not { Contrast.HasScatter: true }) return null;
        double[] candidate = lots.Of(lots.Z, true), reference = lots.Of(lots.Z, false);
        double level = 1 - main.Rule.Alpha;
        BootstrapResult bootstrap = Bootstrap.TwoSample(candidate, reference, DifferenceOfMeans, Replicates, Seed, level);
        (double low, double high) = main.Rule.Limits;
        double inside = new RatioPosterior(candidate, reference).Inside(low, high);
        if (!double.IsFinite(bootstrap.Bca.Lower) || !double.IsFinite(bootstrap.Bca.Upper) || !double.IsFinite(inside)) return null;
        (double lower, double upper) = Bootstrap.Studentized(candidate, reference, DifferenceOverError, Replicates, Seed, level);
        ShownOnly shown = new(new(Math.Exp(bootstrap.Observed), Math.Exp(bootstrap.Bca.Lower), Math.Exp(bootstrap.Bca.Upper), level), Math.Clamp(inside, 0, 1), Replicates,
            Studentized: double.IsFinite(lower) && double.IsFinite(upper) ? new(Math.Exp(bootstrap.Observed), Math.Exp(lower), Math.Exp(upper), level) : null);
        return shown with { Note = ShownWords.Of(shown, Math.Min(candidate.Length, reference.Length)) };
    }

    private static double DifferenceOfMeans(ReadOnlySpan<double> first, ReadOnlySpan<double> second) => Mean(first) - Mean(second);

    private static (double, double) DifferenceOverError(ReadOnlySpan<double> first, ReadOnlySpan<double> second)
    {
        double a = Mean(first), b = Mean(second);
        return (a - b, Math.Sqrt(Squares(first, a) / (first.Length * (first.Length - 1.0)) + Squares(second, b) / (second.Length * (second.Length - 1.0))));
    }

    private static double Mean(ReadOnlySpan<double> readings)
    {
        double sum = 0;
        foreach (double v in readings) sum += v;
        return sum / readings.Length;
    }

    private static double Squares(ReadOnlySpan<double> readings, double mean)
    {
        double sum = 0;
        foreach (double v in readings) sum += (v - mean) * (v - mean);
        return sum;
    }
}
