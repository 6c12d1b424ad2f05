using System.Globalization;
using Meltwise.Casework.Asking;

namespace Meltwise.Web.Enquiries;

/// <summary>The lines on which a series of coupons is asked for.</summary>
public sealed class SeriesForm
{
    public string? Count { get; set; }

    public string? Geometry { get; set; } = "unnotched 7×10×55";

    public string? Orientation { get; set; } = "L";

    public string? Loads { get; set; } = "1";

    public string? Room { get; set; }

    public string? Seed { get; set; } = "1";

    public bool Blind { get; set; }

    /// <summary>The plan, or what is wrong with the lines.</summary>
    public (CouponPlan? Plan, string? Fault) Read(string enquiry)
    {
        if (!Whole(Count, 1, 200, out int count) || !Whole(Loads, 1, 20, out int loads))
        {
            return (null, "Coupons a heat is a whole number from 1 to 200, furnace loads from 1 to 20. Nothing was made.");
        }

        int room = 0;
        if (Said(Room) is not null && !Whole(Room, 2, 500, out room))
        {
            return (null, "Coupons a load holds is a whole number from 2 to 500, or left empty. Nothing was made.");
        }

        return Whole(Seed, 0, int.MaxValue, out int seed)
            ? (new(enquiry, count, loads, room == 0 ? null : room, seed, Blind, Said(Geometry), Said(Orientation)), null)
            : (null, "The seed is a whole number from 0. Nothing was made.");
    }

    private static bool Whole(string? text, int low, int high, out int value) =>
        int.TryParse(text?.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out value) && value >= low && value <= high;

    private static string? Said(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();
}
