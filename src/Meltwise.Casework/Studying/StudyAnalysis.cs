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
        ResolvedRule rule = ResolvedRule.From(request.Rule, SharedUnit(request), 0);
        if (rule.Kind == MarginKind.Hardness || (rule.IsLog && rule.Kind != MarginKind.Ratio))
            throw new StudyFaultException($"A study of {rule.Property.Name} needs a margin as {(rule.IsLog ? "a ratio, such as 15% or 0.80..1.25" : $"plus or minus so many {rule.Unit}")}.");

        Dictionary<string, int> leftOut = [];
        List<StudyReading> readings = [];
        foreach (CouponRow row in request.Table.Rows) Read(row, request, rule, readings, leftOut);
        if (readings.Count == 0) throw new InsufficientDataException($"No coupon of {request.Table.Name} has a valid {rule.Property.Name} and a known {string.Join(" and ", request.By)}.");
        StudyResult result = TreatmentStudy.Analyse(readings, new()
        {
            Control = request.Control,
            MarginLow = rule.Limits.Low,
            MarginHigh = rule.Limits.High,
            Alpha = rule.Alpha,
            OrderedGroups = request.Order,
        });
        return Describe(request, rule, result, leftOut);
    }

    private static void Read(CouponRow row, StudyRequest request, ResolvedRule rule, List<StudyReading> readings, Dictionary<string, int> leftOut)
    {
        string?[] group = [.. request.By.Select(c => ValueOf(row, c))];
        string? reason = row.State != CouponState.Valid ? "not a valid coupon" : group.Contains(null) ? "group unknown" : null;
        (double Value, Censoring Bound)? value = reason is null ? LotReader.ValueOf(row, rule) : null;
        reason ??= value is null ? "no value of the property" : value.Value.Bound != Censoring.None ? "only a bound is known" : null;
        if (reason is null) readings.Add(new(rule.Analysed(value!.Value.Value), string.Join(" / ", group!), row.Heat, row.Load));
        else leftOut[reason] = leftOut.GetValueOrDefault(reason) + 1;
    }

    private static Study Describe(StudyRequest request, ResolvedRule rule, StudyResult result, Dictionary<string, int> leftOut)
    {
        double Shown(double z) => rule.IsLog ? Math.Exp(z) : z;
        List<string> notes = [.. result.Notes];
        if (leftOut.GetValueOrDefault("only a bound is known") is > 0 and var bounds)
            notes.Add($"{bounds} coupons known only as a bound were left out; a group with many of them looks better or worse than it is.");
        return new()
        {
            Property = rule.Property.Name,
            Unit = rule.Unit,
            Scale = rule.IsLog ? "log" : "linear",
            By = request.By,
            Control = request.Control,
            Groups = [.. result.Groups.Select(g => new StudiedGroup(g.Name, g.Coupons, g.Heats, Shown(g.Mean)))],
            Comparisons = [.. result.Comparisons.Select(c => Pair(c, rule))],
            Scatter = result.Components.ToDictionary(c => c.Name, c => c.StandardDeviation),
            ChangePerLevel = result.Trend is { } t ? Shown(t.PerLevel) : null,
            ChangePerLevelP = result.Trend?.P,
            NoChangeBeyond = result.NoChangeBeyond,
            Method = result.Method,
            LeftOut = leftOut,
            Notes = notes,
        };
    }

    private static StudiedPair Pair(StudyComparison c, ResolvedRule rule)
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
            c.DegreesOfFreedom, c.P, outcome, $"{c.Second} against {c.First}: {OutcomeWords.Of(outcome).Short}; {size}");
    }

    private static string? SharedUnit(StudyRequest request)
    {
        string[] units = [.. request.Table.Rows.SelectMany(r => LotReader.ReadingsOf(r, request.Rule.Property)).Select(r => r.Unit).Distinct()];
        return units.Length == 1 ? units[0] : null;
    }

    private static void Require(CouponTable table, string column)
    {
        if (!s_columns.ContainsKey(column)) throw new StudyFaultException($"'{column}' makes no groups. Columns that do: {string.Join(", ", s_columns.Keys)}.");
        if (!table.Columns.Contains(column)) throw new StudyFaultException($"{table.Name} has no column '{column}'.");
    }

    private static string? ValueOf(CouponRow row, string column) => s_columns[column](row);

    private static readonly Dictionary<string, Func<CouponRow, string?>> s_columns = new(StringComparer.OrdinalIgnoreCase)
    {
        ["treatment"] = r => r.Treatment,
        ["temper family"] = r => r.TemperFamily,
        ["route"] = r => r.Route,
        ["source"] = r => r.Source,
        ["grade"] = r => r.Grade,
        ["orientation"] = r => r.Orientation,
        ["geometry"] = r => r.Geometry,
        ["session"] = r => r.Session,
        ["test temperature"] = r => r.TestTemperatureK is { } k ? string.Create(CultureInfo.InvariantCulture, $"{k - 273.15:0.#} °C") : null,
    };
}
