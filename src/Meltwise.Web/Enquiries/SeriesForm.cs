namespace Meltwise.Web.Enquiries;

/// <summary>The lines on which a series of coupons is asked for.</summary>
public sealed class SeriesForm
{
    public string? Count { get; set; }

    public string? Geometry { get; set; } = "unnotched 7×10×55";

    public string? Orientation { get; set; } = "L";

    public string? Loads { get; set; } = "1";

    public bool Blind { get; set; }
}
