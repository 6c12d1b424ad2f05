using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Web.Tests.Readings;

/// <summary>A small invented bench: a history near 40 J, and one enquiry of six coupons that wait for their readings. It checks behaviour, not truth.</summary>
internal static class SmallBench
{
    public const string Enquiry = "E-1";

    public static IEnumerable<BenchChange> Changes()
    {
        yield return new BenchChange.PutSource(new Source("North", "Source A"));
        yield return new BenchChange.PutSource(new Source("South", "Source B"));
        yield return new BenchChange.PutGrade(new Grade("AISI M4"));
        yield return new BenchChange.PutTreatment(new Treatment("usual", [new TreatmentStep.Austenitize(1150, 5), new TreatmentStep.Quench("oil", null), new TreatmentStep.Temper(560, 120)]));
        yield return new BenchChange.PutInstrument(new Instrument("Pendulum, 150 J", "pendulum", "impact energy", "J", 0.1, 2.5, 120));
        foreach (string heat in (string[])["H1", "H2", "H3", "N1", "S1"])
        {
            yield return new BenchChange.PutHeat(new Heat(heat, heat.StartsWith('S') ? "South" : "North", "AISI M4", "powder"));
        }

        foreach (BenchChange change in History())
        {
            yield return change;
        }

        Coupon[] coupons = [.. Enumerable.Range(1, 6).Select(i => Made(i % 2 == 1 ? "N1" : "S1", $"{i}", i))];
        foreach (Coupon coupon in coupons)
        {
            yield return new BenchChange.PutCoupon(coupon);
        }

        yield return new BenchChange.PutEnquiry(new Enquiry
        {
            Name = Enquiry,
            Title = "Is the second source as tough?",
            ReferenceHeats = ["N1"],
            CandidateHeats = ["S1"],
            Coupons = [.. coupons.Select(c => c.Key)],
            Rule = new DecisionRule { Property = "impact energy", Margin = new Margin.Ratio(0.8, 1.25) },
        });
    }

    private static IEnumerable<BenchChange> History()
    {
        double[] energies = [36.2, 44.1, 39.5, 41.0, 37.7, 42.8, 38.4, 40.6, 43.3, 35.9, 39.9, 41.7];
        for (int i = 0; i < energies.Length; i++)
        {
            Coupon coupon = Made($"H{(i % 3) + 1}", $"{i + 1}", i + 1);
            yield return new BenchChange.PutCoupon(coupon);
            yield return new BenchChange.PutReading(new Reading(coupon.Key, "impact energy", 1, CensoredValue.Of(energies[i], "J"), "Pendulum, 150 J", null, 296.15, null, new DateOnly(2025, 5, 6)));
        }
    }

    private static Coupon Made(string heat, string name, int order) => new(heat, name, "L", "unnotched 7×10×55", "usual", "1", order);
}
