namespace Meltwise.Publishing.Figures;

/// <summary>Scale of an axis.</summary>
public enum AxisScale
{
    /// <summary>Linear.</summary>
    Linear,

    /// <summary>Logarithmic; limits above 0.</summary>
    Logarithmic,

    /// <summary>Rows: linear, from the top down, without ticks.</summary>
    Rows,
}

/// <summary>An axis. Every axis that bears numbers has a unit or says that it is a ratio.</summary>
public sealed record Axis
{
    /// <summary>Scale.</summary>
    public AxisScale Scale { get; init; }

    /// <summary>Lower limit.</summary>
    public required double Min { get; init; }

    /// <summary>Upper limit.</summary>
    public required double Max { get; init; }

    /// <summary>What it measures, with the unit.</summary>
    public string? Title { get; init; }

    /// <summary>Unit put after the last tick of a horizontal axis; null when the title holds it.</summary>
    public string? Unit { get; init; }

    /// <summary>Second unit, on the opposite side or in a second row.</summary>
    public SecondUnit? Second { get; init; }

    /// <summary>Whether grid lines are drawn at the ticks.</summary>
    public bool Grid { get; init; } = true;

    /// <summary>Ticks to draw; null for round values chosen by the layout.</summary>
    public IReadOnlyList<Tick>? Ticks { get; init; }

    /// <summary>Rows from 0 to <paramref name="rows"/>, numbered downwards.</summary>
    public static Axis Rows(double rows) => new() { Scale = AxisScale.Rows, Min = 0, Max = rows, Grid = false };

    /// <summary>Fraction of the axis at a value: 0 at the lower limit, 1 at the upper.</summary>
    public double Fraction(double value) => Scale == AxisScale.Logarithmic
        ? Math.Log(value / Min) / Math.Log(Max / Min)
        : (value - Min) / (Max - Min);

    /// <summary>Value at a fraction of the axis.</summary>
    public double At(double fraction) => Scale == AxisScale.Logarithmic
        ? Min * Math.Exp(fraction * Math.Log(Max / Min))
        : Min + (fraction * (Max - Min));
}

/// <summary>A second unit of an axis: value in it = <paramref name="Factor"/> × value + <paramref name="Offset"/>.</summary>
/// <param name="Unit">Its name.</param>
/// <param name="Factor">Factor, above 0.</param>
/// <param name="Offset">Offset.</param>
public sealed record SecondUnit(string Unit, double Factor, double Offset = 0)
{
    /// <summary>Foot-pounds force beside joules. 1 ft·lbf = 1.3558179483314004 J exactly.</summary>
    public static SecondUnit FootPounds { get; } = new("ft·lbf", 1 / Domain.PropertyTable.JoulesPerFootPound);

    /// <summary>Degrees Fahrenheit beside degrees Celsius.</summary>
    public static SecondUnit Fahrenheit { get; } = new("°F", 1.8, 32);
}

/// <summary>A tick.</summary>
/// <param name="Value">Value on the axis.</param>
/// <param name="Text">What stands at it.</param>
public readonly record struct Tick(double Value, string Text);
