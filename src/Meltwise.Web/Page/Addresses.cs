namespace Meltwise.Web.Page;

/// <summary>Addresses of records, relative to the bench that the page is about.</summary>
internal static class Addresses
{
    public static string Enquiry(string name) => $"enquiries/{Uri.EscapeDataString(name)}";

    public static string EnquiryPart(string name, string part) => $"{Enquiry(name)}#{part}";

    public static string Readings(string enquiry, string property) => $"{Enquiry(enquiry)}/readings?property={Uri.EscapeDataString(property)}";

    public static string Heat(string name) => $"heats/{Uri.EscapeDataString(name)}";

    public static string Coupon(string heat, string coupon) => $"{Heat(heat)}/coupons/{Uri.EscapeDataString(coupon)}";

    public static string Instrument(string name) => $"instruments/{Uri.EscapeDataString(name)}";
}
