using System.Globalization;
using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Meltwise.Statistics;
using Meltwise.Statistics.Studies;

namespace Meltwise.Casework.Studying;

/// <summary>Makes a study of a table of coupons: the same margin, decision table and words as the verdict, for any set of groups.</summary>
public static class StudyAnalysis
{
    /// <summary>Analyses the study.</summary>
    /// <exception cref="StudyFaultException">A column or group that is not there, or a margin of the wrong kind.</exception>
    /// <exception cref="InsufficientDataException">Too few coupons or groups; the message says what is missing.</exception>
    public static Study Of(StudyRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        if (request.By.Count == 0) throw new StudyFaultException("A study needs a column that makes the groups, such as treatment.");
        foreach (string column in request.By) Require(request.Table, column);
        request.Levels?.Require(request.Order ?? []);
        ResolvedRule rule = ResolvedRule.From(request.Rule, SharedUnit(request), 0);
        if (rule.Kind == MarginKind.Hardness || (rule.IsLog && rule.Kind != MarginKind.Ratio))
            throw new StudyFaultException($"A study of {rule.Property.Name} needs a margin as {(rule.IsLog ? "a ratio, such as 15% or 0.80..1.25" : $"plus or minus so many {rule.Unit}")}.");

        Dictionary<string, int> leftOut = [];
        List<StudyReading> readings = [];
        List<CouponRow> used = [];
        foreach (CouponRow row in request.Table.Rows)
            if (Read(row, request, rule, leftOut) is { } reading)
            {
                readings.Add(reading);
                used.Add(row);
            }
        if (readings.Count == 0) throw new InsufficientDataException($"No coupon of {request.Table.Name} has a valid {rule.Property.Name} and a known {string.Join(" and ", request.By)}.");
        StudyResult result = TreatmentStudy.Analyse(readings, new()
        {
            Control = request.Control,
            MarginLow = rule.Limits.Low,
            MarginHigh = rule.Limits.High,
            Alpha = rule.Alpha,
            OrderedGroups = request.Order,
            LevelValues = request.Levels?.Values,
        });
        return Describe(request, rule, result, leftOut, readings, used);
    }

    private static StudyReading? Read(CouponRow row, StudyRequest request, ResolvedRule rule, Dictionary<string, int> leftOut)
    {
        string?[] group = [.. request.By.Select(c => StudyTable.ValueOf(row, c))];
        string? reason = row.State != CouponState.Valid ? "not a valid coupon" : group.Contains(null) ? "group unknown" : null;
        string name = string.Join(" / ", group);
        if (reason is null && request.Order is { } order && !order.Contains(name)) reason = "not among the ordered levels";
        (double Value, Censoring Bound)? value = reason is null ? LotReader.ValueOf(row, rule) : null;
        reason ??= value is null ? "no value of the property" : value.Value.Bound != Censoring.None ? "only a bound is known" : null;
        if (reason is null) return new(rule.Analysed(value!.Value.Value), name, row.Heat, row.Load);
        leftOut[reason] = leftOut.GetValueOrDefault(reason) + 1;
        return null;
    }

    private static Study Describe(StudyRequest request, ResolvedRule rule, StudyResult result, Dictionary<string, int> leftOut, List<StudyReading> readings, List<CouponRow> used)
    {
        double Shown(double z) => rule.IsLog ? Math.Exp(z) : z;
        List<string> notes = [.. result.Notes];
        if (leftOut.GetValueOrDefault("only a bound is known") is > 0 and var bounds)
            notes.Add($"{bounds} coupons known only as a bound were left out; a group with many of them looks better or worse than it is.");
        Dictionary<string, double> hardness = Hardness(rule, readings, used);
        StudiedPair[] pairs = [.. result.Comparisons.Select(c => Pair(c, rule, hardness))];
        if (pairs.Select(p => Math.Abs(p.HardnessDifference ?? 0)).DefaultIfEmpty().Max() is > 0.5 and var most)
            notes.Add(string.Create(CultureInfo.InvariantCulture, $"Groups differ in hardness by up to {most:0.0} HRC. A treatment that softens also toughens: the comparison is of the treatments as they are, not at equal hardness."));
        double interval = result.Trend?.HalfWidth(0.95) ?? 0;
        return new()
        {
            Margin = [Shown(rule.Limits.Low), Shown(rule.Limits.High)],
            Order = request.Order,
            Coupons = [.. used.Select((r, i) => new StudiedCoupon(readings[i].Group, r.Heat, r.Coupon, Shown(readings[i].Value)))],
            LevelValues = request.Levels?.Values,
            LevelUnit = request.Levels?.Unit,
            ChangeOverLevels = Over(request, result.Trend, rule.IsLog),
            ChangePerLevelLower = result.Trend is { } low ? Shown(low.PerLevel - interval) : null,
            ChangePerLevelUpper = result.Trend is { } high ? Shown(high.PerLevel + interval) : null,
            Property = rule.Property.Name,
            Unit = rule.Unit,
            Scale = rule.IsLog ? "log" : "linear",
            By = request.By,
            Control = request.Control,
            Groups = [.. result.Groups.Select(g => new StudiedGroup(g.Name, g.Coupons, g.Heats, Shown(g.Mean), hardness.TryGetValue(g.Name, out double hrc) ? hrc : null))],
            Comparisons = pairs,
            Scatter = result.Components.ToDictionary(c => c.Name, c => c.StandardDeviation),
            ChangePerLevel = result.Trend is { } t ? Shown(t.PerLevel) : null,
            ChangePerLevelP = result.Trend?.P,
            NoChangeBeyond = result.NoChangeBeyond,
            Method = result.Method,
            LeftOut = leftOut,
            Notes = notes,
        };
    }

    /// <summary>The linear change from the first level to the last, with its 95 % interval.</summary>
    private static ChangeOverLevels? Over(StudyRequest request, StudyTrend? trend, bool log)
    {
        if (trend is null || request.Order is not { } order) return null;
        double span = request.Levels is { } scale ? scale.Values[^1] - scale.Values[0] : order.Count - 1, half = Math.Abs(span) * trend.HalfWidth(0.95), change = span * trend.PerLevel;
        return log ? new(Math.Exp(change), Math.Exp(change - half), Math.Exp(change + half)) : new(change, change - half, change + half);
    }

    /// <summary>Mean hardness of a group over the coupons that it was read on; nothing where hardness itself is studied.</summary>
    private static Dictionary<string, double> Hardness(ResolvedRule rule, List<StudyReading> readings, List<CouponRow> used) => rule.Property.Name == PropertyTable.Hardness.Name ? [] :
        used.Select((row, i) => (readings[i].Group, Hrc: LotReader.HardnessOf(row))).Where(r => r.Hrc is not null).GroupBy(r => r.Group).ToDictionary(g => g.Key, g => g.Average(r => r.Hrc!.Value));

    private static StudiedPair Pair(StudyComparison c, ResolvedRule rule, Dictionary<string, double> hardness)
    {
        (double low, double high) = rule.Limits;
        Outcome outcome = DecisionTable.Decide((c.Lower, c.Upper), (c.NarrowLower, c.NarrowUpper), (low, high), rule.HigherIsBetter);
        double wide = 1 - rule.Alpha, narrow = 1 - 2 * rule.Alpha;
        RatioInterval? Ratio(double lower, double upper, double level) => rule.IsLog ? new(Math.Exp(c.Difference), Math.Exp(lower), Math.Exp(upper), level) : null;
        DifferenceInterval? Difference(double lower, double upper, double level) => rule.IsLog ? null : new(c.Difference, lower, upper, level, rule.Unit);
        bool agreement = outcome is Outcome.Equivalent or Outcome.EquivalentDetectable;
        (double from, double to) = agreement ? (c.NarrowLower, c.NarrowUpper) : (c.Lower, c.Upper);
        string size = rule.IsLog
            ? string.Create(CultureInfo.InvariantCulture, $"ratio {Math.Exp(c.Difference):F3} ({Math.Exp(from):F3} to {Math.Exp(to):F3})")
            : string.Create(CultureInfo.InvariantCulture, $"difference {c.Difference:G3} {rule.Unit} ({from:G3} to {to:G3})");
        return new(c.First, c.Second, Ratio(c.Lower, c.Upper, wide), Ratio(c.NarrowLower, c.NarrowUpper, narrow), Difference(c.Lower, c.Upper, wide), Difference(c.NarrowLower, c.NarrowUpper, narrow),
            c.DegreesOfFreedom, c.P, outcome, string.Create(CultureInfo.InvariantCulture, $"{c.Second} against {c.First}: {OutcomeWords.Of(outcome).Short}; {size}, simultaneous {100 * (agreement ? narrow : wide):0.#} %"),
            hardness.TryGetValue(c.First, out double first) && hardness.TryGetValue(c.Second, out double second) ? second - first : null);
    }

    private static string? SharedUnit(StudyRequest request)
    {
        string[] units = [.. request.Table.Rows.SelectMany(r => LotReader.ReadingsOf(r, request.Rule.Property)).Select(r => r.Unit).Distinct()];
        return units.Length == 1 ? units[0] : null;
    }

    private static void Require(CouponTable table, string column)
    {
        if (!StudyTable.Columns.Contains(column, StringComparer.OrdinalIgnoreCase)) throw new StudyFaultException($"'{column}' makes no groups. Columns that do: {string.Join(", ", StudyTable.Columns)}.");
        if (!table.Columns.Contains(column)) throw new StudyFaultException($"{table.Name} has no column '{column}'.");
    }
}
