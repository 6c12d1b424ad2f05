using System.Globalization;
using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Demonstration;

/// <summary>Makes the records of the demonstration bench: an invented maker of cold-forging punches, five years, three sources, three enquiries.</summary>
/// <remarks>Everything is drawn from <see cref="PunchMakerModel"/> with its seed, so the records are the same on every machine. Nothing here was measured.</remarks>
public static class DemonstrationBench
{
    /// <summary>Who is said to have written the demonstration records.</summary>
    public const string Author = "the punch maker";

    /// <summary>Why they were written.</summary>
    public const string Reason = "invented for the demonstration bench";

    /// <summary>All records, in an order in which each refers only to earlier ones.</summary>
    /// <param name="seed">Another seed gives another bench of the same model; the shipped one is <see cref="PunchMakerModel.Seed"/>.</param>
    public static IReadOnlyList<BenchChange> Changes(int seed = PunchMakerModel.Seed)
    {
        NormalDraws draws = new(seed);
        DemonstrationCoupons coupons = new(draws);
        DemonstrationChemistry chemistry = new(draws);
        List<BenchChange> changes = [.. Frame()];
        foreach (DemonstrationHeat heat in HistoryHeats(draws))
        {
            changes.Add(new BenchChange.PutHeat(heat.Record()));
            changes.AddRange(chemistry.Of(heat, ownAnalysis: heat.Route == "powder"));
            changes.AddRange(HistorySeries(heat, coupons, draws));
        }
        foreach (DemonstrationEnquiry enquiry in DemonstrationEnquiry.All)
            changes.AddRange(enquiry.Changes(draws, coupons, chemistry));
        return [.. changes, .. DemonstrationTraces.All];
    }

    private static IEnumerable<BenchChange> Frame()
    {
        yield return new BenchChange.PutSource(new("Upriver", "Source A", "Invented. The incumbent."));
        yield return new BenchChange.PutSource(new("Downriver", "Source B", "Invented. The second source being qualified."));
        yield return new BenchChange.PutSource(new("Hillside", "Source C", "Invented. Occasional purchases, ingot and powder."));
        yield return new BenchChange.PutGrade(new(DemonstrationHeat.PowderGrade, "powder high-speed"));
        yield return new BenchChange.PutGrade(new(DemonstrationHeat.IngotGrade, "ingot high-speed"));
        foreach (DemonstrationTreatment treatment in DemonstrationTreatment.All) yield return new BenchChange.PutTreatment(treatment.Treatment);
        yield return new BenchChange.PutInstrument(DemonstrationVerifications.HardnessTester);
        yield return new BenchChange.PutInstrument(new(DemonstrationVerifications.Pendulum, "pendulum", "impact energy", "J", 0.1, 2.5, 120, "Striker 8 mm. Usable to 80 % of capacity. Invented."));
        foreach (Verification verification in DemonstrationVerifications.All) yield return new BenchChange.PutVerification(verification);
    }

    private static IEnumerable<DemonstrationHeat> HistoryHeats(NormalDraws draws)
    {
        (string Prefix, string Source, string Route, int Count)[] bought =
            [("U", "Upriver", "powder", 15), ("D", "Downriver", "powder", 6), ("H", "Hillside", "powder", 9), ("G", "Hillside", "ingot", 4)];
        foreach ((string prefix, string source, string route, int count) in bought)
            for (int i = 1; i <= count; i++)
            {
                DateOnly received = new DateOnly(2021, 9, 6).AddDays((int)(1500.0 * (i - 0.5) / count) + draws.Whole(-20, 20));
                yield return DemonstrationHeat.Make(string.Create(CultureInfo.InvariantCulture, $"{prefix}{i:00}"), source, route, received, 0, draws);
            }
    }

    private static IEnumerable<BenchChange> HistorySeries(DemonstrationHeat heat, DemonstrationCoupons coupons, NormalDraws draws)
    {
        int number = int.Parse(heat.Name.AsSpan(1), CultureInfo.InvariantCulture);
        DateOnly session = heat.Received.AddDays(40);
        int made = 0;
        foreach ((DemonstrationTreatment treatment, string orientation, int count) in Wanted(number, draws))
        {
            string load = session.ToString("yy-MM", CultureInfo.InvariantCulture) + "/" + (char)('a' + DemonstrationTreatment.All.ToList().IndexOf(treatment));
            Dictionary<string, double> loads = new(StringComparer.Ordinal) { [load] = draws.Next(0, PunchMakerModel.LoadSd) };
            foreach (BenchChange change in coupons.Series(heat, treatment, orientation, loads, count, made + 1, session)) yield return change;
            made += count;
        }
    }

    private static IEnumerable<(DemonstrationTreatment Treatment, string Orientation, int Count)> Wanted(int number, NormalDraws draws)
    {
        yield return (DemonstrationTreatment.Punch, "L", draws.Whole(5, 8));
        if (number % 3 == 0) yield return (DemonstrationTreatment.Punch, "T", 4);
        if (number % 4 == 1) yield return (DemonstrationTreatment.PunchLowHeat, "L", 4);
        if (number % 4 == 2) yield return (DemonstrationTreatment.PunchCold, "L", 4);
        if (number % 5 == 2) yield return (DemonstrationTreatment.PunchFourTempers, "L", 4);
    }
}
