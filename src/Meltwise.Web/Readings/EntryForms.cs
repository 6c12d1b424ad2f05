using System.Globalization;
using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Web.Readings;

/// <summary>What the cell under the hand sends.</summary>
public sealed class CellForm
{
    public string? Cell { get; set; }

    public string? Value { get; set; }

    public bool NotBroken { get; set; }
}

/// <summary>The answer to a caught slip.</summary>
public sealed class AnswerForm
{
    public string? Choice { get; set; }

    /// <summary>The change that the answer asks for, with its reason for the trail.</summary>
    public (BenchChange? Change, string Why) Change(Reading reading, Property property, Doubt? doubt) => Choice switch
    {
        "other" when doubt?.OtherUnit is { } other => (
            new BenchChange.PutReading(reading with { Typed = reading.Typed with { Unit = other.Name }, Cause = Doubt.Confirmed }),
            $"unit slip: {reading.Typed.Text} was read in {other.Name}, not {reading.Typed.Unit}"),
        "bound" => (
            new BenchChange.PutReading(reading with { Typed = reading.Typed with { Censoring = Censoring.Above, Text = ">" + reading.Typed.Text } }),
            $"above the usable range: {reading.Typed.Text} {reading.Typed.Unit} is a lower bound"),
        "keep" => (new BenchChange.PutReading(reading with { Cause = Doubt.Confirmed }), $"asked about {reading.Typed}: confirmed as read"),
        "again" => (new BenchChange.WithdrawReading(reading.Coupon, property.Name, reading.Number), $"typed again: {reading.Typed} was questioned"),
        _ => (null, ""),
    };
}

/// <summary>What holds for the whole series while it is read: unit, instrument, temperature, session, readings a coupon.</summary>
public sealed record EntryChoice(string Property, string Unit, string? Instrument, double? TemperatureC, string? Session, int Each)
{
    /// <summary>Reads it from the address; what the address does not say is taken from the last readings of the enquiry.</summary>
    public static EntryChoice Read(
        Property property, Enquiries.EnquiryView view, IReadOnlyList<Instrument> instruments, string? unit, string? instrument, string? temperature, string? session, string? each)
    {
        Instrument? chosen = instruments.FirstOrDefault(i => i.Name == instrument) ?? (instrument is null && instruments.Count > 0 ? instruments[0] : null);
        string usedUnit = property.FindUnit(unit ?? chosen?.Unit ?? "")?.Name ?? property.StoredUnit.Name;
        double? usedTemperature = double.TryParse((temperature ?? "").Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out double c) && c is > -273 and < 1000
            ? c
            : temperature is null ? view.Rows.Select(r => r.TestTemperatureK).FirstOrDefault(k => k is not null) - 273.15 : null;
        int usedEach = int.TryParse(each, NumberStyles.None, CultureInfo.InvariantCulture, out int e) && e is >= 1 and <= 20 ? e : property == PropertyTable.Hardness ? 3 : 1;
        return new(property.Name, usedUnit, chosen?.Name, usedTemperature, string.IsNullOrWhiteSpace(session) ? null : session.Trim(), usedEach);
    }

    /// <summary>Until when the instrument is verified, in words.</summary>
    public static string Verified(Instrument? instrument, IBench bench)
    {
        if (instrument is null)
        {
            return "no instrument named";
        }

        Verification? last = bench.Verifications(instrument.Name).Where(v => v.Passed).MaxBy(v => v.ValidUntil);
        var today = DateOnly.FromDateTime(DateTime.Now);
        return last is null ? "never verified on this bench" : last.ValidUntil < today ? $"verification lapsed on {Page.Written.Day(last.ValidUntil)}" : $"verified to {Page.Written.Day(last.ValidUntil)}";
    }

    /// <summary>The address of a cell, or of the first waiting one.</summary>
    public string Address(string enquiry, string? cell)
    {
        var query = new List<string> { $"property={Uri.EscapeDataString(Property)}", $"unit={Uri.EscapeDataString(Unit)}", $"each={Each.ToString(CultureInfo.InvariantCulture)}" };
        Add("at", cell);
        Add("instrument", Instrument ?? "");
        Add("temperature", TemperatureC?.ToString("0.##", CultureInfo.InvariantCulture) ?? "");
        Add("session", Session);
        return $"{Page.Addresses.Enquiry(enquiry)}/readings?{string.Join('&', query)}";

        void Add(string name, string? value)
        {
            if (value is not null)
            {
                query.Add($"{name}={Uri.EscapeDataString(value)}");
            }
        }
    }

    /// <summary>The reading that is stored.</summary>
    public Reading Reading(Cell cell, Property property, CensoredValue typed, bool notBroken) => new(
        new CouponKey(cell.Row.Heat, cell.Row.Coupon), property.Name, cell.Number, typed, Instrument, Session,
        TemperatureC is { } c && property == PropertyTable.ImpactEnergy ? c + 273.15 : null, DateTime.UtcNow, DateOnly.FromDateTime(DateTime.Now),
        notBroken ? CouponState.NotBroken : CouponState.Valid);
}
