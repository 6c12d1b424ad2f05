using Meltwise.Domain;

namespace Meltwise.Casework.Judging;

/// <summary>What the rows of the lots come to: the coupons that enter, those excluded by a person, and all that was left out.</summary>
/// <param name="Entering">Coupons that enter the verdict.</param>
/// <param name="Excluded">Coupons set aside in time, with a reading: they enter only when the exclusions are undone.</param>
/// <param name="LeftOut">All rows that do not enter or whose exclusion came too late.</param>
/// <param name="Notes">What was noticed on the way.</param>
internal sealed record LotReading(IReadOnlyList<LotCoupon> Entering, IReadOnlyList<LotCoupon> Excluded, IReadOnlyList<LeftOutCoupon> LeftOut, IReadOnlyList<string> Notes);

/// <summary>Reads the rows of both roles: averages repeats, converts units, keeps bounds as bounds, sorts out invalid and excluded coupons.</summary>
internal sealed class LotReader(ComparisonInput input, ResolvedRule rule)
{
    private readonly List<LotCoupon> _entering = [], _excluded = [];
    private readonly List<LeftOutCoupon> _leftOut = [];
    private readonly List<string> _notes = [];

    /// <summary>The unit that the lots' readings were typed in, when they share one.</summary>
    public static string? SharedUnit(ComparisonInput input)
    {
        string? unit = null;
        foreach (CouponRow row in input.Lots.Rows)
        {
            if (RoleOf(input, row) is null) continue;
            foreach (CensoredValue reading in ReadingsOf(row, input.Rule.Property))
            {
                if (unit is not null && unit != reading.Unit) return null;
                unit = reading.Unit;
            }
        }
        return unit;
    }

    /// <summary>Coupons of the larger lot that are valid, for the check against the planned number.</summary>
    public static int LargestLot(ComparisonInput input)
    {
        int candidate = 0, reference = 0;
        foreach (CouponRow row in input.Lots.Rows)
        {
            if (row.State is not (CouponState.Valid or CouponState.NotBroken) || ReadingsOf(row, input.Rule.Property).Count == 0) continue;
            if (RoleOf(input, row) is true) candidate++;
            else if (RoleOf(input, row) is false) reference++;
        }
        return Math.Max(candidate, reference);
    }

    /// <summary>True for a candidate, false for a reference, null for neither.</summary>
    public static bool? RoleOf(ComparisonInput input, CouponRow row) =>
        Has(input.CandidateHeats, row.Heat) ? true : Has(input.ReferenceHeats, row.Heat) ? false : null;

    /// <summary>Readings of the property; hardness is kept apart in a row.</summary>
    public static IReadOnlyList<CensoredValue> ReadingsOf(CouponRow row, string property)
    {
        if (PropertyTable.Find(property)?.Name == PropertyTable.Hardness.Name) return row.Hardness;
        if (row.Readings.TryGetValue(property, out IReadOnlyList<CensoredValue>? readings)) return readings;
        string name = PropertyTable.Find(property)?.Name ?? property.Trim();
        foreach (KeyValuePair<string, IReadOnlyList<CensoredValue>> entry in row.Readings)
            if (string.Equals(PropertyTable.Find(entry.Key)?.Name ?? entry.Key.Trim(), name, StringComparison.OrdinalIgnoreCase)) return entry.Value;
        return [];
    }

    /// <summary>Reads all rows.</summary>
    public LotReading Read()
    {
        RequireRoles();
        HashSet<(string, string)> seen = [];
        int other = 0;
        foreach (CouponRow row in input.Lots.Rows)
        {
            if (RoleOf(input, row) is not { } candidate) other++;
            else if (!seen.Add((row.Heat.ToUpperInvariant(), row.Coupon.ToUpperInvariant())))
                throw new ComparisonFaultException($"Coupon {row.Coupon} of heat {row.Heat} is in {input.Lots.Name} twice{At(row)}. One row a coupon; repeat readings go into repeated columns.");
            else Sort(row, candidate);
        }
        if (other > 0) _notes.Add($"{other} rows of {input.Lots.Name} belong to heats in neither role and were not used.");
        return new(_entering, _excluded, _leftOut, _notes);
    }

    private void Sort(CouponRow row, bool candidate)
    {
        LotCoupon? coupon = Coupon(row, candidate);
        switch (row.State)
        {
            case CouponState.Valid or CouponState.NotBroken when coupon is not null:
                _entering.Add(coupon);
                break;
            case CouponState.Excluded when coupon is not null && row.Cause is null:
                _entering.Add(coupon);
                _leftOut.Add(Left(row, coupon, "excluded", null, enters: true));
                _notes.Add($"Coupon {row.Coupon} of {row.Heat} is marked excluded without a cause, so it stays in.");
                break;
            case CouponState.Excluded when coupon is not null && row.ExcludedBeforeKeyOpened == false:
                _entering.Add(coupon);
                _leftOut.Add(Left(row, coupon, "excluded", "after the key was opened", enters: true));
                break;
            case CouponState.Excluded when coupon is not null:
                _excluded.Add(coupon);
                _leftOut.Add(Left(row, coupon, "excluded", row.ExcludedBeforeKeyOpened is null ? "not stamped" : "before the key was opened", enters: false));
                break;
            case CouponState.Invalid:
                _leftOut.Add(Left(row, coupon, "invalid", null, enters: false));
                break;
            case CouponState.NotDone:
                _leftOut.Add(Left(row, coupon, "not done", null, enters: false));
                break;
            default:
                _leftOut.Add(Left(row, coupon, "no reading", null, enters: false));
                break;
        }
    }

    private static LeftOutCoupon Left(CouponRow row, LotCoupon? coupon, string state, string? stamp, bool enters) =>
        new(row.Coupon, row.Heat, coupon?.Value, state, row.Cause, stamp, enters);

    private LotCoupon? Coupon(CouponRow row, bool candidate) => ValueOf(row, rule) is { } value
        ? new(row, candidate, value.Value, value.Bound, HardnessOf(row) ?? double.NaN)
        : null;

    /// <summary>Mean of the property's readings in the unit of comparison, or null when there is none.</summary>
    /// <exception cref="ComparisonFaultException">A reading cannot be one, e.g. an energy of 0.</exception>
    public static (double Value, Censoring Bound)? ValueOf(CouponRow row, ResolvedRule rule)
    {
        IReadOnlyList<CensoredValue> readings = ReadingsOf(row, rule.Rule.Property);
        if (readings.Count == 0) return null;
        double sum = 0;
        Censoring bound = row.State == CouponState.NotBroken && rule.EndsWithABreak ? Censoring.Above : Censoring.None;
        foreach (CensoredValue reading in readings)
        {
            sum += reading.Unit == rule.Unit ? reading.Value : Converted(row, reading, rule);
            if (reading.Censoring == Censoring.None) continue;
            if (bound != Censoring.None && bound != reading.Censoring)
                throw new ComparisonFaultException($"Coupon {row.Coupon} of heat {row.Heat}{At(row)} is above one reading and below another ({string.Join("; ", readings.Select(r => r.Text))}). One coupon has one bound.");
            bound = reading.Censoring;
        }
        double mean = sum / readings.Count;
        if (!double.IsFinite(mean) || rule.IsLog && mean <= 0)
            throw new ComparisonFaultException($"Coupon {row.Coupon} of heat {row.Heat}{At(row)}: {rule.Property.Name} reads {readings[0].Text} {readings[0].Unit}. A value above 0 was expected; correct it, or mark the coupon invalid.");
        return (mean, bound);
    }

    private static double Converted(CouponRow row, CensoredValue reading, ResolvedRule rule) => rule.Property.FindUnit(reading.Unit) is null
        ? throw new ComparisonFaultException($"Coupon {row.Coupon} of heat {row.Heat}{At(row)}: {rule.Property.Name} is in {reading.Unit}. Units known for it: {string.Join(", ", rule.Property.Units.Select(u => u.Name))}.")
        : rule.Property.Convert(reading.Value, reading.Unit, rule.Unit);

    /// <summary>Mean of the HRC readings, or null when there is none.</summary>
    public static double? HardnessOf(CouponRow row)
    {
        double sum = 0;
        int count = 0;
        foreach (CensoredValue reading in row.Hardness)
            if (reading.Censoring == Censoring.None && IsHrc(reading)) (sum, count) = (sum + reading.Value, count + 1);
        return count == 0 ? null : sum / count;
    }

    /// <summary>True when a hardness reading of the row is on another scale than HRC.</summary>
    public static bool HasOtherScale(CouponRow row)
    {
        foreach (CensoredValue reading in row.Hardness) if (!IsHrc(reading)) return true;
        return false;
    }

    private static bool IsHrc(CensoredValue reading) => reading.Unit == "HRC" || PropertyTable.Hardness.FindUnit(reading.Unit) is not null;

    private void RequireRoles()
    {
        if (input.ReferenceHeats.Count == 0 || input.CandidateHeats.Count == 0) throw new ComparisonFaultException("A comparison needs at least one reference heat and one candidate heat.");
        if (input.ReferenceHeats.FirstOrDefault(h => Has(input.CandidateHeats, h)) is { } both) throw new ComparisonFaultException($"Heat {both} is both reference and candidate.");
        string[] known = [.. input.Lots.Rows.Select(r => r.Heat).Distinct(StringComparer.OrdinalIgnoreCase)];
        foreach (string heat in input.ReferenceHeats.Concat(input.CandidateHeats))
            if (!Has(known, heat))
                throw new ComparisonFaultException($"Heat {heat} is not in {input.Lots.Name}, which holds {(known.Length == 0 ? "no coupons" : string.Join(", ", known.Take(12)))}{(known.Length > 12 ? " and more" : "")}.");
    }

    private static bool Has(IReadOnlyList<string> heats, string heat)
    {
        foreach (string h in heats) if (string.Equals(h, heat, StringComparison.OrdinalIgnoreCase)) return true;
        return false;
    }

    private static string At(CouponRow row) => row.Origin is { } origin ? $" ({origin})" : "";
}
