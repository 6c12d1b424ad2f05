using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Metallurgy.Equilibrium;
using Meltwise.Metallurgy.Explanation;
using Meltwise.Metallurgy.Tempering;

namespace Meltwise.Casework.Explaining;

/// <summary>Holds the chain from chemistry to hardness against the bench's own heats of one treatment: by how much was it off?</summary>
public static class HistoryCalibration
{
    /// <summary>Fewest own heats a calibration is worth showing for.</summary>
    public const int FewestCases = 3;

    /// <summary>The calibration, or null when the bench has fewer than <see cref="FewestCases"/> heats of the treatment with chemistry and hardness.</summary>
    /// <param name="bench">The bench.</param>
    /// <param name="treatment">The treatment; heats count when their set values are equal, whatever the treatment's name.</param>
    /// <param name="soak">What the soak reaches.</param>
    /// <param name="grade">Grade whose published temper curve the explanation rests on, or null; heats judged by another curve are no cases of it.</param>
    /// <param name="leftOut">Heats that may not be used: those that are to be explained. Where they are all of one route, only heats of that route are cases, if there are enough.</param>
    /// <param name="cancel">Stops between heats.</param>
    public static ChainCalibration? Of(IBench bench, Treatment treatment, ISoakAssumption soak, string? grade, IReadOnlyCollection<string> leftOut, CancellationToken cancel = default)
    {
        if (TreatmentWords.ToHardening(treatment, out _) is not { } hardening) return null;
        ILookup<string, Domain.ChemistryResult> chemistry = bench.Chemistry().ToLookup(c => c.Heat, StringComparer.Ordinal);
        IGrouping<string, CouponRow>[] heats =
        [
            .. bench.CouponTable(new CouponSelection()).Rows
                .Where(r => r.Treatment == treatment.SetValues && r.Hardness.Count > 0 && r.State is CouponState.Valid or CouponState.NotBroken)
                .Where(r => !leftOut.Contains(r.Heat)).GroupBy(r => r.Heat, StringComparer.Ordinal),
        ];
        PastCase?[] predictedOf = new PastCase?[heats.Length];
        Parallel.For(0, heats.Length, new ParallelOptions { CancellationToken = cancel }, i =>
        {
            IGrouping<string, CouponRow> heat = heats[i];
            if (MeasuredChemistry.Of(heat.Key, [.. chemistry[heat.Key]]) is { } measured && measured["C"] is not null
                && Predict(measured, soak, grade, hardening) is { } predicted)
                predictedOf[i] = new(heat.Key, predicted, heat.Average(r => r.Hardness.Average(h => h.Value)));
        });
        List<PastCase> cases = OfOneRoute(bench, leftOut, [.. predictedOf.OfType<PastCase>()]);
        return cases.Count < FewestCases ? null : new ChainCalibration(cases, CalibrationPrior.FromModelErrorBars);
    }

    private static List<PastCase> OfOneRoute(IBench bench, IReadOnlyCollection<string> explained, List<PastCase> cases)
    {
        Dictionary<string, string?> routes = bench.Heats().ToDictionary(h => h.Name, h => h.Route, StringComparer.Ordinal);
        if (explained.Select(h => routes.GetValueOrDefault(h)).Distinct().ToArray() is not [{ } route]) return cases;
        List<PastCase> alike = [.. cases.Where(c => routes.GetValueOrDefault(c.Name) == route)];
        return alike.Count < FewestCases ? cases : alike;
    }

    private static double? Predict(HeatChemistry measured, ISoakAssumption soak, string? grade, HardeningTreatment treatment)
    {
        try
        {
            TemperShift temper = TemperShift.Of(treatment, [measured.Alloy], soak);
            if (temper.Curve?.Grade != grade) return null;
            double hrc = new HardnessChain(treatment, temper.Hrc).Of(soak.Near(measured.Alloy, treatment.HardeningTemperatureK).Of(measured.Alloy), ChainErrors.None).HardnessHrc;
            return double.IsFinite(hrc) ? hrc : null;
        }
        catch (Exception refused) when (refused is EquilibriumRefusedException or ChainRefusedException)
        {
            // A heat outside the parameter set is no case of the chain.
            return null;
        }
    }
}
