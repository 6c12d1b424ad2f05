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

    /// <summary>What is typed into a cell, with all that holds for the series.</summary>
    public TypedReading Typed(Cell cell, Property property, string text, bool notBroken) => new(
        new CouponKey(cell.Row.Heat, cell.Row.Coupon), property.Name, cell.Number, text, Unit, Instrument, Session,
        TemperatureC is { } c && property == PropertyTable.ImpactEnergy ? c + 273.15 : null, notBroken ? CouponState.NotBroken : CouponState.Valid);
}
