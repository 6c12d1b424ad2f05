using Meltwise.Domain;

namespace Meltwise.Casework.Intake;

/// <summary>Reads the cells that say where a fracture began and when hardness was read.</summary>
internal static class OriginCells
{
    // What people write for the kinds; common practice, no source.
    private static readonly Dictionary<string, OriginKind> s_spellings = new(StringComparer.OrdinalIgnoreCase)
    {
        ["oxide"] = OriginKind.Inclusion,
        ["sulphide"] = OriginKind.Inclusion,
        ["sulfide"] = OriginKind.Inclusion,
        ["slag"] = OriginKind.Inclusion,
        ["non-metallic inclusion"] = OriginKind.Inclusion,
        ["carbide"] = OriginKind.CarbideCluster,
        ["carbides"] = OriginKind.CarbideCluster,
        ["carbide band"] = OriginKind.CarbideCluster,
        ["cluster"] = OriginKind.CarbideCluster,
        ["cavity"] = OriginKind.Pore,
        ["scratch"] = OriginKind.Surface,
        ["surface mark"] = OriginKind.Surface,
        ["crack"] = OriginKind.Surface,
        ["grinding mark"] = OriginKind.Grinding,
        ["grinding burn"] = OriginKind.Grinding,
        ["not found"] = OriginKind.NoneSeen,
        ["no origin"] = OriginKind.NoneSeen,
    };

    /// <summary>Before or after the test, or null where the cell is empty.</summary>
    public static HardnessMoment? Moment(string cell, string? column, RowFaults wrong)
    {
        if (cell.Length == 0 || KeyCells.IsUnknown(cell)) return null;
        switch (cell.ToUpperInvariant())
        {
            case "BEFORE" or "BEFORE TEST" or "BEFORE THE TEST": return HardnessMoment.BeforeTest;
            case "AFTER" or "AFTER TEST" or "AFTER THE TEST": return HardnessMoment.AfterTest;
            default:
                wrong.Add(column, cell, "before or after, that is whether hardness was read before or after the test");
                return null;
        }
    }

    /// <summary>The kind of origin, or null where the cell is empty. A cell that only says something is unknown says that nothing was examined.</summary>
    public static OriginKind? Kind(string cell, string? column, RowFaults wrong)
    {
        if (cell.Length == 0 || KeyCells.IsUnknown(cell)) return null;
        if (OriginKinds.Find(cell) is { } kind) return kind;
        if (s_spellings.TryGetValue(cell, out OriginKind spelled)) return spelled;
        wrong.Add(column, cell, string.Join(", ", OriginKinds.All.Select(k => k.Name)));
        return null;
    }

    /// <summary>A length in µm, or null where the cell is empty.</summary>
    public static double? Micrometres(string cell, ColumnTaken? column, DecimalSign sign, RowFaults wrong)
    {
        if (cell.Length == 0 || KeyCells.IsUnknown(cell) || column?.Unit is null) return null;
        if (!TypedFigure.TryRead(cell, sign, out Figure figure, out string expected) || figure.Censoring != Censoring.None || figure.Value < 0)
        {
            wrong.Add(column.Heading, cell, $"a length in {column.Unit}, 0 or above: {expected}");
            return null;
        }
        string unit = figure.Unit.Length == 0 ? column.Unit : figure.Unit;
        double factor = unit switch { "µm" or "μm" or "um" => 1, "mm" => 1000, _ => double.NaN };
        if (!double.IsNaN(factor)) return figure.Value * factor;
        wrong.Add(column.Heading, cell, "a length in µm or mm");
        return null;
    }
}
