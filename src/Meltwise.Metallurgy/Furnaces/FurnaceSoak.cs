namespace Meltwise.Metallurgy.Furnaces;

/// <summary>How long a load was at temperature, from the trace of its thermocouple.</summary>
/// <remarks>
/// <para><b>Definition.</b> The soak begins when the trace reaches the set value less its tolerance and ends when it falls below that again; where this happens several times, the longest such stretch is the soak.
/// Between two readings the temperature is taken as a straight line, so that both moments lie between readings. A time above the tolerance that goes on to more than <see cref="OtherStepC"/> above the set value belongs to another step
/// (a preheat goes on to the hardening temperature): the soak ends or begins where the trace leaves or enters the tolerance there. For a set value below 0 °C everything is turned round: colder counts as reached.
/// Overshoot: the highest reading of the soak less the set value; above the tolerance it is flagged.</para>
/// <para><b>Assumptions.</b> The thermocouple lies in or on the load; that of the furnace alone runs ahead of it, and its soak is then too long. That a rise of more than 50 °C is another step is common practice, no source, and is told. Readings are close enough for a straight line: a gap of more than five usual intervals inside the soak is told.</para>
/// <para><b>Limits.</b> At least two readings, times rising. A soak that begins with the trace or ends with it is a lower bound of the true one.</para>
/// <para><b>Source.</b> That soaking counts from the load's own thermocouple within tolerance is the sense of SAE AMS 2750 and ASTM A991 (from memory); tolerances of 5 to 10 °C are common practice, no source.</para>
/// </remarks>
public sealed record FurnaceSoak
{
    /// <summary>A rise beyond the set value that is taken for another step, °C.</summary>
    public const double OtherStepC = 50;

    private const double WideGap = 5;

    /// <summary>When the soak began, minutes from the start of the trace; null when the set value was not reached.</summary>
    public double? BeginsMin { get; init; }

    /// <summary>When it ended.</summary>
    public double? EndsMin { get; init; }

    /// <summary>How long it was, min; 0 when the set value was not reached.</summary>
    public double Minutes => EndsMin - BeginsMin ?? 0;

    /// <summary>Time of the soak within plus or minus the tolerance, min.</summary>
    public double WithinMinutes { get; init; }

    /// <summary>Stretches at temperature, the soak among them.</summary>
    public required int Stretches { get; init; }

    /// <summary>Highest reading of the soak, °C, or of the whole trace when there is none; for a set value below 0 °C the lowest.</summary>
    public required double ExtremeC { get; init; }

    /// <summary>By how much the trace went beyond the set value, °C; below 0 when it did not reach it.</summary>
    public required double OvershootC { get; init; }

    /// <summary>True when the overshoot exceeds the tolerance.</summary>
    public required bool IsOvershot { get; init; }

    /// <summary>Highest reading of another step that the trace goes to, °C; null when it goes to none.</summary>
    public double? OtherStepAtC { get; init; }

    /// <summary>Longest gap between two readings in the soak, min, where it exceeds five usual intervals; null otherwise.</summary>
    public double? GapMinutes { get; init; }

    /// <summary>True when the trace begins or ends at temperature, so that the soak may have been longer.</summary>
    public bool IsCutOff { get; init; }

    /// <summary>Reads it off a trace.</summary>
    /// <param name="minutes">Times, min, rising.</param>
    /// <param name="temperatureC">Temperatures, °C.</param>
    /// <param name="setC">Set value, °C.</param>
    /// <param name="toleranceC">Tolerance, °C, above 0.</param>
    /// <exception cref="ArgumentException">Fewer than two readings, unequal numbers, times that do not rise, or a tolerance that is not above 0.</exception>
    public static FurnaceSoak Of(IReadOnlyList<double> minutes, IReadOnlyList<double> temperatureC, double setC, double toleranceC)
    {
        ArgumentNullException.ThrowIfNull(minutes);
        ArgumentNullException.ThrowIfNull(temperatureC);
        if (minutes.Count < 2 || minutes.Count != temperatureC.Count) throw new ArgumentException($"A trace needs two readings or more, each with its time; got {minutes.Count} times and {temperatureC.Count} temperatures.", nameof(minutes));
        if (!(toleranceC > 0)) throw new ArgumentException("The tolerance must be above 0 °C.", nameof(toleranceC));
        for (int i = 1; i < minutes.Count; i++)
            if (!(minutes[i] > minutes[i - 1])) throw new ArgumentException($"Times must rise; reading {i} is not after the one before.", nameof(minutes));

        int turn = setC < 0 ? -1 : 1;
        double[] y = [.. temperatureC.Select(t => turn * (t - setC))];
        List<(double From, double To)> beyond = Above(minutes, y, toleranceC), others = [.. beyond.Where(s => Highest(minutes, y, s) > OtherStepC)];
        List<(double From, double To)> at = [.. Above(minutes, y, -toleranceC).SelectMany(s => Without(s, others)).Where(s => s.To > s.From)];
        double? otherStep = others.Count > 0 ? setC + turn * others.Max(s => Highest(minutes, y, s)) : null;
        if (at.Count == 0) return new() { Stretches = 0, ExtremeC = setC + turn * y.Max(), OvershootC = y.Max(), IsOvershot = false, OtherStepAtC = otherStep };
        (double begins, double ends) = at.MaxBy(s => s.To - s.From);
        double over = beyond.Except(others).Sum(s => Math.Max(0, Math.Min(s.To, ends) - Math.Max(s.From, begins))), highest = Highest(minutes, y, (begins, ends));
        return new()
        {
            BeginsMin = begins,
            EndsMin = ends,
            WithinMinutes = ends - begins - over,
            Stretches = at.Count,
            ExtremeC = setC + turn * highest,
            OvershootC = highest,
            IsOvershot = highest > toleranceC,
            OtherStepAtC = otherStep,
            GapMinutes = Gap(minutes, begins, ends),
            IsCutOff = begins == minutes[0] || ends == minutes[^1],
        };
    }

    // Readings of a stretch; where none lies in it, its ends are all that is known.
    private static double Highest(IReadOnlyList<double> x, double[] y, (double From, double To) stretch)
    {
        double highest = double.NegativeInfinity;
        for (int i = 0; i < y.Length; i++)
            if (x[i] >= stretch.From && x[i] <= stretch.To) highest = Math.Max(highest, y[i]);
        return double.IsNegativeInfinity(highest) ? At(x, y, stretch.From) : highest;
    }

    private static double At(IReadOnlyList<double> x, double[] y, double at)
    {
        int i = 1;
        while (i < x.Count - 1 && x[i] < at) i++;
        return y[i - 1] + (y[i] - y[i - 1]) * (at - x[i - 1]) / (x[i] - x[i - 1]);
    }

    private static IEnumerable<(double From, double To)> Without((double From, double To) stretch, List<(double From, double To)> others)
    {
        double from = stretch.From;
        foreach ((double start, double end) in others.Where(o => o.From >= stretch.From && o.To <= stretch.To))
        {
            yield return (from, start);
            from = end;
        }
        yield return (from, stretch.To);
    }

    /// <summary>Stretches on which the straight lines between readings lie at or above a level.</summary>
    private static List<(double From, double To)> Above(IReadOnlyList<double> x, double[] y, double level)
    {
        List<(double From, double To)> stretches = [];
        double? from = y[0] >= level ? x[0] : null;
        for (int i = 1; i < y.Length; i++)
        {
            if (from is null == y[i] < level) continue;
            double crossing = x[i - 1] + (x[i] - x[i - 1]) * (level - y[i - 1]) / (y[i] - y[i - 1]);
            if (from is { } start)
            {
                stretches.Add((start, crossing));
                from = null;
            }
            else
            {
                from = crossing;
            }
        }
        if (from is { } open) stretches.Add((open, x[^1]));
        return stretches;
    }

    private static double? Gap(IReadOnlyList<double> minutes, double begins, double ends)
    {
        double[] intervals = [.. minutes.Skip(1).Zip(minutes, (b, a) => b - a).Order()];
        double usual = intervals[intervals.Length / 2];
        double widest = 0;
        for (int i = 1; i < minutes.Count; i++)
            if (minutes[i] > begins && minutes[i - 1] < ends) widest = Math.Max(widest, minutes[i] - minutes[i - 1]);
        return widest > WideGap * usual ? widest : null;
    }
}
