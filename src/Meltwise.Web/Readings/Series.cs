using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Web.Enquiries;

namespace Meltwise.Web.Readings;

/// <summary>One cell of a series: one reading of one coupon, filled or waiting.</summary>
/// <param name="Index">Place in the series, from 0.</param>
/// <param name="Row">The coupon.</param>
/// <param name="Number">Number of the reading on the coupon, from 1.</param>
/// <param name="Reading">What was read; null while waiting.</param>
public sealed record Cell(int Index, CouponRow Row, int Number, Reading? Reading);

/// <summary>A series of coupons that is read for one property, in the order of testing.</summary>
public sealed class Series
{
    private Series(EnquiryView view, Property property, IReadOnlyList<Cell> cells)
    {
        View = view;
        Property = property;
        Cells = cells;
    }

    /// <summary>The enquiry.</summary>
    public EnquiryView View { get; }

    /// <summary>The property read.</summary>
    public Property Property { get; }

    /// <summary>The cells in order.</summary>
    public IReadOnlyList<Cell> Cells { get; }

    /// <summary>The first cell that waits, or null when all are filled.</summary>
    public Cell? FirstWaiting => Cells.FirstOrDefault(c => c.Reading is null);

    /// <summary>The cell of a key as the form sends it, or null.</summary>
    public Cell? Find(string? key) => Cells.FirstOrDefault(c => KeyOf(c) == key);

    /// <summary>The key of a cell.</summary>
    public static string KeyOf(Cell cell) => $"{cell.Row.Heat}/{cell.Row.Coupon}/{cell.Number}";

    /// <summary>Gathers the series.</summary>
    /// <param name="bench">The bench.</param>
    /// <param name="view">The enquiry.</param>
    /// <param name="property">The property to read.</param>
    /// <param name="each">Readings planned on each coupon; a coupon that has more shows them all.</param>
    public static Series Of(IBench bench, EnquiryView view, Property property, int each)
    {
        ILookup<CouponKey, Reading> readings = view.Rows.Select(r => r.Heat).Distinct(StringComparer.Ordinal)
            .SelectMany(h => bench.Readings(new CouponKey(h, "")))
            .Where(r => r.Property == property.Name)
            .ToLookup(r => r.Coupon);
        var cells = new List<Cell>();
        foreach (CouponRow row in view.Rows)
        {
            Dictionary<int, Reading> known = readings[new CouponKey(row.Heat, row.Coupon)].ToDictionary(r => r.Number);
            int count = Math.Max(each, known.Count == 0 ? 0 : known.Keys.Max());
            for (int number = 1; number <= count; number++)
            {
                cells.Add(new Cell(cells.Count, row, number, known.GetValueOrDefault(number)));
            }
        }

        return new(view, property, cells);
    }
}
