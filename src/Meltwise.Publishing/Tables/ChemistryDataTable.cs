using System.Globalization;
using Meltwise.Domain;

namespace Meltwise.Publishing.Tables;

/// <summary>Chemistry as a data table, one row a result, with the headings of the command contract.</summary>
public static class ChemistryDataTable
{
    private static readonly DataColumn[] s_columns =
    [
        new("heat", CellKind.Text, "melt"), new("element", CellKind.Text, "chemical symbol"), new("value", CellKind.Reading, "figure as typed; < marks a limit of detection"),
        new("unit", CellKind.Text, "unit of value and uncertainty: wt% or ppm by mass"), new("method", CellKind.Text, "method of analysis"), new("laboratory", CellKind.Text, "who measured"),
        new("uncertainty", CellKind.Number, "expanded uncertainty as stated"), new("coverage factor", CellKind.Number, "k of the uncertainty; empty means not stated"), new("date", CellKind.Text, "day of the analysis, ISO 8601"),
    ];

    /// <summary>The table.</summary>
    public static DataTable Of(IReadOnlyList<ChemistryResult> results) => new("chemistry", s_columns, [.. results.Select(r => (IReadOnlyList<string?>)
    [
        r.Heat, r.Element, CouponDataTable.Typed(r.Typed), r.Typed.Unit, r.Method, r.Laboratory, r.ExpandedUncertainty?.ToString("R", CultureInfo.InvariantCulture),
        r.CoverageFactor?.ToString("R", CultureInfo.InvariantCulture), r.Date?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
    ])]);
}
