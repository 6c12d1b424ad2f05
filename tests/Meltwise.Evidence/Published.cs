using System.Globalization;
using Xunit;

namespace Meltwise.Evidence;

/// <summary>A rounded figure as a source prints it; agreement means within half a unit of its last printed digit.</summary>
public readonly record struct Published(string Printed)
{
    /// <summary>The printed figure.</summary>
    public double Value => double.Parse(Printed, NumberStyles.Float, CultureInfo.InvariantCulture);

    /// <summary>Half a unit of the last printed digit.</summary>
    public double HalfUnit
    {
        get
        {
            string mantissa = Printed.Split('e', 'E')[0];
            int point = mantissa.IndexOf('.', StringComparison.Ordinal);
            int decimals = point < 0 ? 0 : mantissa.Length - point - 1;
            int exponent = Printed.Length > mantissa.Length ? int.Parse(Printed[(mantissa.Length + 1)..], CultureInfo.InvariantCulture) : 0;
            return 0.5 * Math.Pow(10, exponent - decimals);
        }
    }

    /// <summary>Fails when <paramref name="actual"/> does not round to the printed figure.</summary>
    public void Agrees(double actual, string what) =>
        Assert.True(Math.Abs(actual - Value) <= HalfUnit * (1 + 1e-9), string.Create(CultureInfo.InvariantCulture,
            $"{what}: printed {Printed}, computed {actual:R}."));
}
