using System.Globalization;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Metallurgy.Equilibrium;
using Meltwise.Metallurgy.Explanation;
using Meltwise.Metallurgy.Sources;

namespace Meltwise.Casework.Explaining;

/// <summary>Explains the hardness difference of an enquiry's two heats from what the bench has recorded of them.</summary>
public static class EnquiryExplanation
{
    /// <summary>Kind of the stored document.</summary>
    public const string DocumentKind = "explanation";

    /// <summary>Computes the explanation.</summary>
    /// <param name="bench">The bench.</param>
    /// <param name="enquiry">The enquiry.</param>
    /// <param name="draws">Random draws.</param>
    /// <param name="seed">Seed.</param>
    /// <param name="soak">What the soak reaches; null takes equilibrium.</param>
    /// <param name="progress">Told the share of the draws made, 0 to 1.</param>
    /// <param name="cancel">Stops the work; nothing is stored by it.</param>
    /// <exception cref="ExplanationRefusedException">Something it needs is not recorded, or is outside the models.</exception>
    /// <exception cref="OperationCanceledException">Stopped by <paramref name="cancel"/>.</exception>
    public static ExplanationDocument Explain(
        IBench bench, Enquiry enquiry, int draws = 10_000, ulong seed = 1, ISoakAssumption? soak = null, IProgress<double>? progress = null, CancellationToken cancel = default)
    {
        (string reference, string candidate) = Heats(enquiry);
        HeatChemistry referenceChemistry = Chemistry(bench, reference), candidateChemistry = Chemistry(bench, candidate);
        IReadOnlyList<CouponRow> rows = Rows(bench, enquiry);
        Treatment treatment = CommonTreatment(bench, rows);
        HardeningTreatment hardening = TreatmentWords.ToHardening(treatment, out string missing) ?? throw new ExplanationRefusedException($"The explanation needs the treatment: {missing}. Record it and try again.");
        try
        {
            soak ??= new EquilibriumSoak();
            string? grade = TemperShift.Of(hardening, [referenceChemistry.Alloy, candidateChemistry.Alloy], soak).Curve?.Grade;
            ExplanationOptions options = new() { Draws = draws, Seed = seed, Soak = soak, Calibration = HistoryCalibration.Of(bench, treatment, soak, grade, [reference, candidate], cancel) };
            ExplanationDocument document = ExplanationDocument.Of(Explainer.Explain(referenceChemistry, candidateChemistry, hardening, Observed(rows, reference, candidate), options, progress, cancel),
                OxygenComparison.Of(bench, reference, candidate));
            return document with { Outlooks = [Outlook(bench, reference, referenceChemistry, rows), Outlook(bench, candidate, candidateChemistry, rows)] };
        }
        catch (OutsideModelRangeException range)
        {
            throw new ExplanationRefusedException(range.Words);
        }
        catch (Exception refused) when (refused is EquilibriumRefusedException or ChainRefusedException or SteelCompositionException)
        {
            throw new ExplanationRefusedException(refused.Message);
        }
    }

    /// <summary>The change that stores it.</summary>
    public static BenchChange Store(Enquiry enquiry, ExplanationDocument document, DateTime nowUtc) =>
        new BenchChange.PutDocument(new StoredDocument(enquiry.Name, DocumentKind, ExplanationJson.Write(document), nowUtc));

    private static HeatOutlookDocument Outlook(IBench bench, string heat, HeatChemistry chemistry, IReadOnlyList<CouponRow> rows)
    {
        HeatBackground background = bench.Heats().FirstOrDefault(h => h.Name == heat) is { } recorded ? RecordedBackground.Of(bench, recorded) : new();
        return HeatOutlookDocument.Of(chemistry, background with { Coupons = Math.Max(1, rows.Count(r => r.Heat == heat)) });
    }

    private static (string Reference, string Candidate) Heats(Enquiry enquiry) => (enquiry.ReferenceHeats, enquiry.CandidateHeats) switch
    {
        ([var reference], [var candidate]) => (reference, candidate),
        _ => throw new ExplanationRefusedException($"An explanation compares one heat with one. {enquiry.Name} has {enquiry.ReferenceHeats.Count} reference and {enquiry.CandidateHeats.Count} candidate heats."),
    };

    private static HeatChemistry Chemistry(IBench bench, string heat) => MeasuredChemistry.Of(heat, bench.Chemistry(heat))
        ?? throw new ExplanationRefusedException($"No chemistry of heat {heat} is recorded. Bring in its analysis; carbon is needed at least.");

    private static IReadOnlyList<CouponRow> Rows(IBench bench, Enquiry enquiry) =>
        [.. bench.CouponTable(new CouponSelection(Heats: [.. enquiry.ReferenceHeats, .. enquiry.CandidateHeats], Coupons: enquiry.Coupons.Count > 0 ? enquiry.Coupons : null, Enquiry: enquiry.Name))
            .Rows.Where(r => r.State is CouponState.Valid or CouponState.NotBroken)];

    private static Treatment CommonTreatment(IBench bench, IReadOnlyList<CouponRow> rows)
    {
        string[] setValues = [.. rows.Select(r => r.Treatment).OfType<string>().Distinct(StringComparer.Ordinal)];
        return setValues.Length == 1 && bench.Treatments().FirstOrDefault(t => t.SetValues == setValues[0]) is { } treatment
            ? treatment
            : throw new ExplanationRefusedException(setValues.Length == 0
                ? "No heat treatment of the enquiry's coupons is recorded. Record it and try again."
                : $"The enquiry's coupons had {setValues.Length} different treatments; an explanation by chemistry needs one for both heats.");
    }

    private static ObservedHardnessDifference? Observed(IReadOnlyList<CouponRow> rows, string reference, string candidate)
    {
        (double Mean, double Variance)? MeanOf(string heat)
        {
            double[] hardness = [.. rows.Where(r => r.Heat == heat && r.Hardness.Count > 0).Select(r => r.Hardness.Average(h => h.Value))];
            if (hardness.Length < 2) return null;
            double mean = hardness.Average();
            return (mean, hardness.Sum(h => (h - mean) * (h - mean)) / (hardness.Length - 1) / hardness.Length);
        }
        return (MeanOf(reference), MeanOf(candidate)) is ({ } r, { } c) ? new(c.Mean - r.Mean, Math.Sqrt(r.Variance + c.Variance)) : null;
    }
}

/// <summary>An explanation that cannot be given; the message says what is missing.</summary>
public sealed class ExplanationRefusedException(string message) : Exception(message);
