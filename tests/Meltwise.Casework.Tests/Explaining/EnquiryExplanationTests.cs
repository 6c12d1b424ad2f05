using Meltwise.Casework.Explaining;
using Meltwise.Casework.Recording;
using Meltwise.Casework.Tests.Recording;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Explaining;

/// <summary>The explanation of an enquiry on a bench: AISI H13 by its nominal composition, hardened at 1010 °C, tempered twice at 538 °C. Readings are invented.</summary>
public sealed class EnquiryExplanationTests : OwnBench
{
    private static readonly Treatment s_hot = new("hot", [new TreatmentStep.Austenitize(1010, 30), new TreatmentStep.Quench("air", 20), new TreatmentStep.Temper(537.8, 120), new TreatmentStep.Temper(537.8, 120)]);
    private static readonly Enquiry s_enquiry = new() { Name = "Q", Title = "t", ReferenceHeats = ["R"], CandidateHeats = ["C"] };

    // The curve that was read gives 53 HRC to its own steel; the reference is that steel.
    [Fact]
    public void High_tempers_of_a_grade_with_a_read_curve_are_computed_and_need_not_be_speculative()
    {
        Record(Heat("R", 0.40, 52.8, 53.0, 53.2), Heat("C", 0.44, 54.3, 54.5, 54.7));
        ExplanationDocument document = Explain();
        Assert.Equal("tempered, by the published curve of H13", document.HardnessMeaning);
        Assert.Equal(53, document.Reference.State.HardnessHrc.Estimate, 0.3);
        Assert.Equal("consistent", document.Strength);
        Assert.Null(document.Calibration);
        Assert.Equal(["R", "C"], document.Outlooks!.Select(o => o.Heat));
    }

    [Fact]
    public void Own_heats_of_the_route_hold_the_chain_to_account_with_every_residual()
    {
        Record(Heat("R", 0.40, 53.0, 53.2), Heat("C", 0.41, 53.4, 53.6), Heat("P1", 0.39, 53.6), Heat("P2", 0.40, 54.0), Heat("P3", 0.42, 54.4), Heat("P4", 0.38, 60.0, route: "powder"));
        CalibrationDocument own = Explain().Calibration!;
        Assert.Equal(["P1", "P2", "P3"], own.Cases.Select(c => c.Heat).Order(StringComparer.Ordinal));
        Assert.All(own.Cases, c => Assert.Equal(c.MeasuredHrc - c.PredictedHrc, c.BeforeHrc, 1e-9));

        // All three came out about 1 HRC harder than computed, so both heats are lifted, by less than that for the prior.
        Assert.InRange(own.OffsetHrc, 0.6, 1.1);
        Assert.InRange(own.Reference.Estimate, 53.5, 54.2);
        Assert.True(own.Reference.Lower < own.Reference.Estimate && own.Reference.Estimate < own.Reference.Upper);
        Assert.True(own.Cases.Sum(c => c.AfterHrc * c.AfterHrc) < own.Cases.Sum(c => c.BeforeHrc * c.BeforeHrc));
    }

    [Fact]
    public void The_hot_history_of_each_heat_is_in_its_outlook()
    {
        Record(Heat("R", 0.40, 53.0, 53.2), Heat("C", 0.41, 53.4, 53.6));
        Bench.Commit("A", null, [new BenchChange.PutHotHistory(new("C", [new("soak", 1000, 1000, 4)]))]);
        IReadOnlyList<HeatOutlookDocument> outlooks = Explain().Outlooks!;
        Assert.Empty(outlooks[0].Carbides);
        Assert.NotEmpty(outlooks[1].Carbides);
    }

    [Fact]
    public void It_tells_how_far_it_is_and_stops_when_told()
    {
        Record(Heat("R", 0.40, 53.0), Heat("C", 0.41, 53.4));
        using CancellationTokenSource stop = new();
        List<double> told = [];
        IProgress<double> listener = new AtOnce(share =>
        {
            told.Add(share);
            if (share > 0.2) stop.Cancel();
        });
        Assert.ThrowsAny<OperationCanceledException>(() => EnquiryExplanation.Explain(Bench, s_enquiry, 400, progress: listener, cancel: stop.Token));
        Assert.InRange(told[^1], 0.2, 0.5);
        Assert.Null(Bench.FindDocument("Q", EnquiryExplanation.DocumentKind));
    }

    [Fact]
    public void What_is_missing_or_cannot_be_is_said_in_words()
    {
        Record(Heat("R", 0.40, 53.0), Heat("C", double.NaN, 53.4));
        Assert.Contains("C has no carbon result", Refusal(), StringComparison.Ordinal);
        Bench.Commit("A", null, [Content("C", "C", 0.41), Content("C", "W", 40)]);
        Assert.Contains("W: found 40 mass percent", Refusal(), StringComparison.Ordinal);
    }

    [Fact] // An uncertainty of nothing is none stated: a laboratory cannot measure without one.
    public void An_uncertainty_of_zero_counts_as_not_stated()
    {
        Record(Heat("R", 0.40, 53.0), Heat("C", 0.41, 53.4));
        Bench.Commit("A", null, [new BenchChange.PutChemistry(new("R", "Ni", CensoredValue.Of(0.1, "wt%"), "spark OES", "own", 0, 2))]);
        Assert.Contains(Explain().Notes, n => n.StartsWith("R: uncertainty of", StringComparison.Ordinal) && n.Contains("Ni", StringComparison.Ordinal));
    }

    private ExplanationDocument Explain() => EnquiryExplanation.Explain(Bench, s_enquiry, 200);

    private string Refusal() => Assert.Throws<ExplanationRefusedException>(Explain).Message;

    private void Record(params IEnumerable<BenchChange>[] heats) => Bench.Commit("A", null, [new BenchChange.PutTreatment(s_hot), .. heats.SelectMany(h => h)]);

    private static IEnumerable<BenchChange> Heat(string name, double carbon, params double[] hrc) => Heat(name, carbon, hrc, "ingot");

    private static IEnumerable<BenchChange> Heat(string name, double carbon, double hrc, string route) => Heat(name, carbon, [hrc], route);

    private static IEnumerable<BenchChange> Heat(string name, double carbon, double[] hrc, string route)
    {
        yield return new BenchChange.PutHeat(new(name, null, null, route));
        if (!double.IsNaN(carbon)) yield return Content(name, "C", carbon);
        foreach ((string element, double massPercent) in new[] { ("Mn", 0.35), ("Si", 1.0), ("Cr", 5.2), ("Mo", 1.3), ("V", 0.95) }) yield return Content(name, element, massPercent);
        for (int i = 0; i < hrc.Length; i++)
        {
            CouponKey coupon = new(name, $"{i + 1}");
            yield return new BenchChange.PutCoupon(new(name, coupon.Coupon, "L", "unnotched 7×10×55", s_hot.Name));
            yield return new BenchChange.PutReading(new(coupon, "hardness", 1, CensoredValue.Of(hrc[i], "HRC")));
        }
    }

    private static BenchChange.PutChemistry Content(string heat, string element, double massPercent) =>
        new(new(heat, element, CensoredValue.Of(massPercent, "wt%"), element == "C" ? "combustion" : "spark OES", "own laboratory"));

    private sealed class AtOnce(Action<double> told) : IProgress<double>
    {
        public void Report(double value) => told(value);
    }
}
