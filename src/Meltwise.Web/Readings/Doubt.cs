using Meltwise.Domain;
using Meltwise.Web.Page;

namespace Meltwise.Web.Readings;

/// <summary>A question about a reading. Nothing is altered for the person.</summary>
/// <param name="Says">What was noticed, and the question.</param>
/// <param name="OtherUnit">The other unit it may have been read in, or null.</param>
/// <param name="AsOther">The figure in the stored unit if it was read in the other one.</param>
/// <param name="AboveRange">True when it lies above the usable range of the instrument, so that it is only a bound.</param>
public sealed record Doubt(string Says, PropertyUnit? OtherUnit, double AsOther, bool AboveRange)
{
    /// <summary>Marks a reading that a person confirmed.</summary>
    public const string Confirmed = "asked and confirmed as read";

    /// <summary>The question about a reading, or null when there is none.</summary>
    public static Doubt? About(Reading reading, Property property, Expectation? expected, Instrument? instrument, IReadOnlyList<double> others, Written written)
    {
        if (reading.Cause == Confirmed || reading.State != CouponState.Valid || reading.Typed.Censoring != Censoring.None)
        {
            return null;
        }

        string unit = property.StoredUnit.Name;
        double value = property.Convert(reading.Typed.Value, reading.Typed.Unit, unit);
        string typed = written.TypedWithUnit(reading.Typed);
        if (instrument is { UsableHigh: { } high } && property.FindUnit(instrument.Unit) is { } scale && value > high * scale.Factor)
        {
            return new($"{typed} lies above the usable range of {instrument.Name}, which ends at {written.Quantity(high, 0, instrument.Unit)}. Beyond it the figure is only a lower bound.", null, 0, true);
        }

        if (expected is null || !expected.Doubts(value))
        {
            return null;
        }

        string place = others.Count < 3 ? "" : value < others.Min() ? "would be the lowest of the series, and " : value > others.Max() ? "would be the highest of the series, and " : "";
        string band = $"{typed} {place}{(place.Length > 0 ? "it " : "")}lies outside what {Written.Figure(expected.Coupons)} coupons of this kind have given: {written.Number(expected.Low, 0)} to {written.Quantity(expected.High, 0, unit)} in 95 of 100.";
        foreach (PropertyUnit other in property.Units.Where(u => u.Name != reading.Typed.Unit))
        {
            double asOther = reading.Typed.Value * other.Factor;
            if (expected.Holds(asOther))
            {
                string inOther = other.Name == unit ? written.Quantity(asOther, 1, unit) : $"{written.Quantity(asOther, 1, unit)}";
                return new($"{band} Read in {other.Name} it would be {inOther}, well inside. Which scale did you read?", other, asOther, false);
            }
        }

        return new(band + " Was it read and typed right?", null, 0, false);
    }
}
