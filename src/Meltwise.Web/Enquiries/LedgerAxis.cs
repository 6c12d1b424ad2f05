using System.Globalization;

namespace Meltwise.Web.Enquiries;

/// <summary>The axis that the rows of a ledger share: round ticks, logarithmic where the property is compared by ratio.</summary>
public sealed record LedgerAxis(double Low, double High, bool Logarithmic, double Width, string Unit, IReadOnlyList<double> Ticks)
{
    private const double Inset = 9;

    /// <summary>Range of the axis in words.</summary>
    public string Heading => Ticks.Count == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $"{Ticks[0]:0.##} to {Ticks[^1]:0.##} {Unit}");

    /// <summary>The ticks as they stand over the rows: place in px and figure, the unit behind the last.</summary>
    public IEnumerable<(double At, string Says)> Labels =>
        Ticks.Select((t, i) => (At(t), t.ToString("0.##", CultureInfo.InvariantCulture) + (i == Ticks.Count - 1 ? "\u00A0" + Unit : "")));

    /// <summary>An axis that holds all values with room at both ends.</summary>
    public static LedgerAxis Of(IEnumerable<double> values, bool logarithmic, double width, string unit)
    {
        double[] all = [.. values];
        if (all.Length == 0)
        {
            return new(0, 1, false, width, unit, []);
        }

        bool log = logarithmic && all.Min() > 0;
        double step = StepFor(all.Max() - all.Min() + (all.Max() * 0.02));
        double low = Math.Floor(all.Min() / step) * step;
        double high = Math.Ceiling(all.Max() / step) * step;
        if (log && low <= 0)
        {
            low = all.Min() / 1.1;
        }

        if (high <= low)
        {
            high = low + step;
        }

        double[] ticks = [.. Enumerable.Range(0, (int)Math.Round((high - low) / step) + 1).Select(i => low + (i * step)).Where(t => t <= high + (step * 1e-9))];
        return new(low, high, log, width, unit, ticks);
    }

    /// <summary>Place of a value, px from the left.</summary>
    public double At(double value)
    {
        double share = Logarithmic ? Math.Log(value / Low) / Math.Log(High / Low) : (value - Low) / (High - Low);
        return Inset + ((Width - (2 * Inset)) * Math.Clamp(share, 0, 1));
    }

    private static double StepFor(double range)
    {
        double raw = Math.Max(range, 1e-9) / 4;
        double power = Math.Pow(10, Math.Floor(Math.Log10(raw)));
        return power * (raw / power) switch { <= 1 => 1, <= 2 => 2, <= 5 => 5, _ => 10 };
    }
}
