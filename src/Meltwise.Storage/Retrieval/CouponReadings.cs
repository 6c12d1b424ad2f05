using Meltwise.Domain;

namespace Meltwise.Storage.Retrieval;

/// <summary>One reading as the flat row needs it.</summary>
internal sealed record FlatReading(
    string Property, int Number, CensoredValue Typed, string? Instrument, string? Session, double? TestTemperatureK, DateOnly? Date, CouponState State, string? Cause)
{
    /// <summary>True when the reading stands: it is a value or a bound.</summary>
    public bool Stands => State is CouponState.Valid or CouponState.NotBroken;
}

/// <summary>All current readings of one coupon. Plain loops: a whole bench has hundreds of thousands of coupons.</summary>
internal sealed class CouponReadings
{
    private static readonly IReadOnlyDictionary<string, IReadOnlyList<CensoredValue>> s_none = new Dictionary<string, IReadOnlyList<CensoredValue>>();

    private readonly List<FlatReading> _all = new(4);
    private bool _inOrder = true;

    public void Add(FlatReading reading)
    {
        // The same property comes in rising number unless a reading was taken back and given again.
        if (_all.Count > 0 && _all[^1].Property == reading.Property && _all[^1].Number > reading.Number) _inOrder = false;
        _all.Add(reading);
    }

    public bool Has(string property) => _all.Exists(r => r.Property == property);

    /// <summary>The row with its readings. What belongs to the test (state, temperature, instrument, day) comes from the property asked for, or from the first other than hardness.</summary>
    public CouponRow Complete(CouponRow row, string? property)
    {
        if (!_inOrder) _all.Sort((a, b) => a.Number.CompareTo(b.Number));
        string hardness = PropertyTable.Hardness.Name;
        IReadOnlyList<CensoredValue> indents = [];
        Dictionary<string, IReadOnlyList<CensoredValue>>? others = null;
        foreach (FlatReading reading in _all)
        {
            if (reading.Property == hardness)
            {
                if (indents.Count == 0) indents = ValuesOf(hardness);
            }
            else if (others?.ContainsKey(reading.Property) != true)
            {
                (others ??= new(1, StringComparer.Ordinal))[reading.Property] = ValuesOf(reading.Property);
            }
        }
        string principal = property ?? _all.Find(r => r.Property != hardness)?.Property ?? hardness;
        FlatReading test = _all.Find(r => r.Property == principal && r.Stands) ?? _all.Find(r => r.Property == principal)!;
        return row with
        {
            Hardness = indents,
            Readings = others ?? s_none,
            State = test.State,
            Cause = test.Cause,
            TestTemperatureK = _all.Find(r => r.Property == principal && r.TestTemperatureK is not null)?.TestTemperatureK,
            Instrument = _all.Find(r => r.Property == principal && r.Instrument is not null)?.Instrument,
            Session = _all.Find(r => r.Property == hardness && r.Session is not null)?.Session ?? _all.Find(r => r.Property == principal)?.Session,
            Date = _all.Find(r => r.Property == principal && r.Date is not null)?.Date ?? _all.Find(r => r.Date is not null)?.Date,
        };
    }

    // An invalid indent beside valid ones is left out; where none is valid the coupon shows what it has, with its state.
    private CensoredValue[] ValuesOf(string property)
    {
        int standing = 0;
        int all = 0;
        foreach (FlatReading reading in _all)
        {
            if (reading.Property != property) continue;
            all++;
            if (reading.Stands) standing++;
        }
        CensoredValue[] values = new CensoredValue[standing > 0 ? standing : all];
        int at = 0;
        foreach (FlatReading reading in _all)
            if (reading.Property == property && (standing == 0 || reading.Stands)) values[at++] = reading.Typed;
        return values;
    }
}
