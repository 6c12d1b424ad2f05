using Meltwise.Domain;

namespace Meltwise.Storage.Retrieval;

/// <summary>One reading as the flat row needs it.</summary>
internal sealed record FlatReading(
    string Property, int Number, CensoredValue Typed, string? Instrument, string? Session, double? TestTemperatureK, DateOnly? Date, CouponState State, string? Cause);

/// <summary>All current readings of one coupon.</summary>
internal sealed class CouponReadings
{
    private readonly List<FlatReading> _all = [];

    public void Add(FlatReading reading) => _all.Add(reading);

    public bool Has(string property) => _all.Exists(r => r.Property == property);

    /// <summary>The row with its readings. What belongs to the test (state, temperature, instrument, day) comes from the property asked for, or from the first other than hardness.</summary>
    public CouponRow Complete(CouponRow row, string? property)
    {
        string hardness = PropertyTable.Hardness.Name;
        Dictionary<string, IReadOnlyList<CensoredValue>> values = new(StringComparer.Ordinal);
        foreach (IGrouping<string, FlatReading> group in _all.GroupBy(r => r.Property, StringComparer.Ordinal))
            values[group.Key] = [.. Standing(group).OrderBy(r => r.Number).Select(r => r.Typed)];
        values.Remove(hardness, out IReadOnlyList<CensoredValue>? indents);

        string principal = property ?? _all.Find(r => r.Property != hardness)?.Property ?? hardness;
        FlatReading[] ofTest = [.. Standing(_all.Where(r => r.Property == principal))];
        FlatReading[] ofHardness = [.. Standing(_all.Where(r => r.Property == hardness))];
        return row with
        {
            Hardness = indents ?? [],
            Readings = values,
            State = ofTest[0].State,
            Cause = ofTest[0].Cause,
            TestTemperatureK = First(ofTest, r => r.TestTemperatureK),
            Instrument = ofTest.Select(r => r.Instrument).FirstOrDefault(i => i is not null),
            Session = ofHardness.Concat(ofTest).Select(r => r.Session).FirstOrDefault(s => s is not null),
            Date = First(ofTest, r => r.Date) ?? First(ofHardness, r => r.Date),
        };
    }

    // An invalid indent beside valid ones is left out; where none is valid the coupon shows what it has, with its state.
    private static IEnumerable<FlatReading> Standing(IEnumerable<FlatReading> readings)
    {
        FlatReading[] all = [.. readings];
        FlatReading[] valid = Array.FindAll(all, r => r.State is CouponState.Valid or CouponState.NotBroken);
        return valid.Length > 0 ? valid : all;
    }

    private static T? First<T>(FlatReading[] readings, Func<FlatReading, T?> value)
        where T : struct => readings.Select(value).FirstOrDefault(v => v is not null);
}
