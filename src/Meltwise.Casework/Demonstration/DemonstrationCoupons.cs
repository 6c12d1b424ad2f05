using System.Globalization;
using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Demonstration;

/// <summary>Breaks invented coupons: from a heat's true state to readings as a person would type them.</summary>
internal sealed class DemonstrationCoupons(NormalDraws draws)
{
    private const string Geometry = "unnotched 7×10×55";
    private const double RoomTemperatureK = 296.15;

    /// <summary>Coupons of one heat in one series.</summary>
    /// <param name="heat">The heat.</param>
    /// <param name="treatment">Its treatment.</param>
    /// <param name="orientation">L or T.</param>
    /// <param name="loads">Furnace loads, filled in turn.</param>
    /// <param name="count">How many.</param>
    /// <param name="from">Number of the first coupon of the heat.</param>
    /// <param name="session">Day of test.</param>
    /// <param name="codes">Blind codes, or null.</param>
    public IEnumerable<BenchChange> Series(
        DemonstrationHeat heat, DemonstrationTreatment treatment, string orientation, IReadOnlyDictionary<string, double> loads, int count, int from, DateOnly session, IReadOnlyList<string>? codes = null)
    {
        string[] names = [.. loads.Keys];
        for (int i = 0; i < count; i++)
        {
            string load = names[i % names.Length];
            Coupon coupon = new(heat.Name, (from + i).ToString(CultureInfo.InvariantCulture), orientation, Geometry, treatment.Treatment.Name, load, Code: codes?[i]);
            yield return new BenchChange.PutCoupon(coupon);
            foreach (Reading reading in Readings(coupon.Key, heat, treatment, orientation, loads[load], session))
                yield return new BenchChange.PutReading(reading);
        }
    }

    private IEnumerable<Reading> Readings(CouponKey key, DemonstrationHeat heat, DemonstrationTreatment treatment, string orientation, double logLoad, DateOnly session)
    {
        double heatHardness = heat.HardnessHrc + treatment.HardnessStepHrc;
        double hardness = draws.Next(heatHardness, PunchMakerModel.CouponHardnessSd);
        for (int indent = 1; indent <= 3; indent++)
        {
            string typed = draws.Next(hardness, PunchMakerModel.IndentSd).ToString("0.0", CultureInfo.InvariantCulture);
            yield return new(key, "hardness", indent, Figure(typed, "HRC"), DemonstrationVerifications.Tester, session.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), ReadOn: session);
        }
        double logMean = Math.Log(PunchMakerModel.EnergyJ) + PunchMakerModel.LogSource[heat.Source] + treatment.LogStep
            + (orientation == "T" ? PunchMakerModel.LogTransverse : 0) + (heat.Route == "ingot" ? PunchMakerModel.LogIngot : 0)
            + (PunchMakerModel.LogPerHrc * (heatHardness - PunchMakerModel.HardnessHrc)) + heat.LogHeat + logLoad;
        double energy = Math.Exp(draws.Next(logMean, PunchMakerModel.LogSdAt(Math.Exp(logMean))));
        string energyTyped = energy.ToString("0.0", CultureInfo.InvariantCulture);
        yield return new(key, "impact energy", 1, Figure(energyTyped, "J"), DemonstrationVerifications.Pendulum, session.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), RoomTemperatureK, ReadOn: session);
    }

    private static CensoredValue Figure(string typed, string unit) => new(double.Parse(typed, CultureInfo.InvariantCulture), unit, Censoring.None, typed);
}
