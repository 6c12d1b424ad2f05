using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Intake;

/// <summary>What the bench holds already of the things a file speaks of.</summary>
internal sealed class BenchBefore
{
    public BenchBefore(IBench bench, IntakePreview preview)
    {
        HashSet<string> heats = [.. preview.Coupons.Select(r => r.Heat), .. preview.Chemistry.Select(c => c.Heat)];
        foreach (string heat in preview.HotHistories.Select(h => h.History.Heat))
            if (bench.FindHotHistory(heat) is { } history) HotHistories[heat] = history;
        Heats = bench.Heats().ToDictionary(h => h.Name, StringComparer.Ordinal);
        Sources = bench.Sources().ToDictionary(s => s.Name, StringComparer.Ordinal);
        Grades = bench.Grades().Select(g => g.Name).ToHashSet(StringComparer.Ordinal);
        Instruments = bench.Instruments().Select(i => i.Name).ToHashSet(StringComparer.Ordinal);
        Treatments = bench.Treatments().ToDictionary(t => t.Name, StringComparer.Ordinal);
        TreatmentOfSetValues = Treatments.Values.GroupBy(t => t.SetValues, StringComparer.Ordinal).ToDictionary(g => g.Key, g => g.First().Name, StringComparer.Ordinal);
        foreach (string heat in heats.Where(Heats.ContainsKey))
        {
            foreach (Coupon coupon in bench.Coupons(heat)) Coupons[coupon.Key] = coupon;
            foreach (Reading reading in bench.Readings(new(heat, ""))) Readings[(reading.Coupon, reading.Property, reading.Number)] = reading;
            foreach (FractureOrigin origin in bench.FractureOrigins(heat)) Origins[origin.Coupon] = origin;
            foreach (ChemistryResult result in bench.Chemistry(heat)) Chemistry[(heat, result.Element, result.Method, result.Laboratory, result.Date)] = result;
        }
    }

    public Dictionary<string, Heat> Heats { get; }

    public Dictionary<string, Source> Sources { get; }

    public HashSet<string> Grades { get; }

    public HashSet<string> Instruments { get; }

    public Dictionary<string, Treatment> Treatments { get; }

    /// <summary>A treatment by its set values: our own exports carry these instead of the name.</summary>
    public Dictionary<string, string> TreatmentOfSetValues { get; }

    public Dictionary<string, HotHistory> HotHistories { get; } = new(StringComparer.Ordinal);

    public Dictionary<CouponKey, Coupon> Coupons { get; } = [];

    public Dictionary<CouponKey, FractureOrigin> Origins { get; } = [];

    public Dictionary<(CouponKey Coupon, string Property, int Number), Reading> Readings { get; } = [];

    public Dictionary<(string Heat, string Element, string? Method, string? Laboratory, DateOnly? Date), ChemistryResult> Chemistry { get; } = [];
}
