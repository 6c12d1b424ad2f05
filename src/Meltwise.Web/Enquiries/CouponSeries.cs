using System.Globalization;
using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Web.Enquiries;

/// <summary>Makes the coupons of an enquiry: both lots in every load, an order of testing that mixes the lots, codes if wanted.</summary>
internal static class CouponSeries
{
    // Letters and figures that survive an engraving pen and a bad light: no 0 O, 1 I, 5 S, 8 B.
    private const string Letters = "ACDEFHKMNPRTVWXY";
    private const string Figures = "234679";

    /// <summary>The changes, or what is wrong with what was asked.</summary>
    public static (IReadOnlyList<BenchChange>? Changes, string? Fault) Make(EnquiryView view, SeriesForm form, DateTime nowUtc)
    {
        string[] heats = [.. view.Enquiry.ReferenceHeats, .. view.Enquiry.CandidateHeats];
        if (heats.Length < 2)
        {
            return (null, "Choose the heats first, in part 3. Nothing was made.");
        }

        if (!Whole(form.Count, 1, 200, out int count) || !Whole(form.Loads, 1, 20, out int loads))
        {
            return (null, "Coupons a heat is a whole number from 1 to 200, furnace loads from 1 to 20. Nothing was made.");
        }

        int first = view.Rows.Count == 0 ? 1 : view.Rows.Max(r => int.TryParse(r.Coupon, out int n) ? n : 0) + 1;
        int firstOrder = (view.Rows.Max(r => r.Order) ?? 0) + 1;
        var random = new Random(SeedOf(view.Enquiry.Name, firstOrder));
        (string Heat, int Number)[] order = [.. Enumerable.Range(0, count).SelectMany(i => Shuffled(heats, random).Select(h => (h, i)))];
        string[] codes = form.Blind ? Codes(order.Length, view.Rows, random) : [];
        Coupon[] coupons =
        [
            .. order.Select((o, place) => new Coupon(
                o.Heat, (first + o.Number).ToString(CultureInfo.InvariantCulture), Said(form.Orientation), Said(form.Geometry), null,
                ((o.Number % loads) + 1).ToString(CultureInfo.InvariantCulture), firstOrder + place, form.Blind ? codes[place] : null)),
        ];
        Enquiry changed = view.Enquiry with
        {
            Coupons = [.. view.Rows.Select(r => new CouponKey(r.Heat, r.Coupon)), .. coupons.Select(c => c.Key)],
            Key = form.Blind ? view.Enquiry.Key ?? new BlindKey(nowUtc) : view.Enquiry.Key,
        };
        return ([.. coupons.Select(c => new BenchChange.PutCoupon(c)), new BenchChange.PutEnquiry(changed)], null);
    }

    private static string[] Codes(int count, IReadOnlyList<CouponRow> rows, Random random)
    {
        var used = rows.Select(r => r.Code).OfType<string>().ToHashSet(StringComparer.Ordinal);
        var codes = new List<string>();
        while (codes.Count < count)
        {
            string code = $"{Letters[random.Next(Letters.Length)]}{Figures[random.Next(Figures.Length)]}{Letters[random.Next(Letters.Length)]}";
            if (used.Add(code))
            {
                codes.Add(code);
            }
        }

        return [.. codes];
    }

    private static string[] Shuffled(string[] heats, Random random)
    {
        string[] mixed = [.. heats];
        random.Shuffle(mixed);
        return mixed;
    }

    // The same enquiry at the same step gives the same order again.
    private static int SeedOf(string name, int step) => name.Aggregate(17 + step, (seed, c) => unchecked((seed * 31) + c));

    private static bool Whole(string? text, int low, int high, out int value) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out value) && value >= low && value <= high;

    private static string? Said(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();
}
