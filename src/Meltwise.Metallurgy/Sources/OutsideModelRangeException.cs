using System.Globalization;

namespace Meltwise.Metallurgy.Sources;

/// <summary>A model or table was asked for a value where it says nothing. Nothing is extrapolated in silence.</summary>
public sealed class OutsideModelRangeException : ArgumentOutOfRangeException
{
    /// <summary>Names the model, the quantity, what was found and what the range is.</summary>
    public OutsideModelRangeException(string model, string quantity, double found, double lowest, double highest, string unit)
        : base(quantity, found, string.Create(CultureInfo.InvariantCulture,
            $"{model}: {quantity} is {found:G5} {unit}; the model covers {lowest:G5} to {highest:G5} {unit}."))
    {
        Model = model;
        Quantity = quantity;
        Found = found;
        Lowest = lowest;
        Highest = highest;
        Unit = unit;
    }

    /// <summary>What is wrong, in words for a reader.</summary>
    public string Words => string.Create(CultureInfo.InvariantCulture, $"{Model}: {Quantity} is {Found:G4} {Unit}; the model covers {Lowest:G4} to {Highest:G4} {Unit}.");

    /// <summary>The model or table.</summary>
    public string Model { get; }

    /// <summary>The quantity out of range.</summary>
    public string Quantity { get; }

    /// <summary>What was found.</summary>
    public double Found { get; }

    /// <summary>Lowest value covered.</summary>
    public double Lowest { get; }

    /// <summary>Highest value covered.</summary>
    public double Highest { get; }

    /// <summary>Unit of the three values.</summary>
    public string Unit { get; }
}
