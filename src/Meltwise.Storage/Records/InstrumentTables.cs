using Meltwise.Domain;

namespace Meltwise.Storage.Records;

/// <summary>Instruments and their verifications.</summary>
internal static class InstrumentTables
{
    public static RecordTable<Instrument> Instruments { get; } = new("instrument", "instrument_version", "instrument", 1, ReasonRule.WhenAltered,
        [
            new("name"), new("kind"), new("property"), new("unit"), new("resolution", Stored.Real), new("usable_low", Stored.Real), new("usable_high", Stored.Real),
            new("notes"),
        ],
        i => [i.Name, i.Kind, i.Property, i.Unit, i.Resolution, i.UsableLow, i.UsableHigh, i.Notes],
        c => new((string)c[0]!, (string)c[1]!, (string)c[2]!, (string)c[3]!, (double?)c[4], (double?)c[5], (double?)c[6], (string?)c[7]));

    public static RecordTable<Verification> Verifications { get; } = new("verification", "verification_version", null, 3, ReasonRule.WhenAltered,
        [
            new("instrument", RefersTo: "instrument"), new("verified_on"), new("reference", MayBeEmpty: true), new("valid_until"), new("passed", Stored.Integer),
            new("reference_value", Stored.Real), new("found", Stored.Real), new("notes"),
            new("readings", CameLater: true),
        ],
        v => [v.Instrument, StoredForms.Day(v.On), v.Reference, StoredForms.Day(v.ValidUntil), v.Passed ? 1 : 0, v.ReferenceValue, v.Found, v.Notes, StoredForms.Series(v.Readings)],
        c => new((string)c[0]!, StoredForms.ToDay(c[1]), StoredForms.ToDay(c[3]), (int)c[4]! == 1, (string?)c[2], (double?)c[5], (double?)c[6], (string?)c[7], StoredForms.ToSeries(c[8])));
}
