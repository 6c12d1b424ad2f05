using Meltwise.Domain;

namespace Meltwise.Web.Instruments;

/// <summary>The lines on which an instrument is put down.</summary>
internal sealed class InstrumentForm
{
    public string? Name { get; set; }

    public string? Kind { get; set; }

    public string? Property { get; set; }

    public string? Unit { get; set; }

    public string? Low { get; set; }

    public string? High { get; set; }

    public string? Notes { get; set; }

    /// <summary>The instrument, or what is wrong.</summary>
    public (Instrument? Instrument, string? Fault) Read()
    {
        if (string.IsNullOrWhiteSpace(Name))
        {
            return (null, "An instrument needs a name. Nothing was stored.");
        }

        Property property = PropertyTable.Find(Property ?? "") ?? PropertyTable.ImpactEnergy;
        string unit = string.IsNullOrWhiteSpace(Unit) ? property.StoredUnit.Name : Unit.Trim();
        if (property.FindUnit(unit) is not { } known)
        {
            return (null, $"{property.Name} is not read in “{unit}”. Expected: {string.Join(", ", property.Units.Select(u => u.Name))}. Nothing was stored.");
        }

        if (!InstrumentWords.TryNumber(Low, out double? low) || !InstrumentWords.TryNumber(High, out double? high))
        {
            return (null, "The usable range is two numbers, or left empty. Nothing was stored.");
        }

        return (new Instrument(Name.Trim(), string.IsNullOrWhiteSpace(Kind) ? "instrument" : Kind.Trim(), property.Name, known.Name, null, low, high, string.IsNullOrWhiteSpace(Notes) ? null : Notes.Trim()), null);
    }
}
