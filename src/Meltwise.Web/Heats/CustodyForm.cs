using System.Globalization;
using Meltwise.Domain;

namespace Meltwise.Web.Heats;

/// <summary>The lines on which the custody of a heat's material is written down or corrected. Days are typed as 2026-03-31.</summary>
internal sealed class CustodyForm
{
    private const string DayForm = "yyyy-MM-dd";

    public string? Received { get; set; }

    public string? ReceivedFrom { get; set; }

    public string? ReceivedBy { get; set; }

    public string? Size { get; set; }

    public string? Marks { get; set; }

    public string? Certificate { get; set; }

    public string? CertificateOn { get; set; }

    public string? Retained { get; set; }

    public string? RetainedUntil { get; set; }

    public string? Notes { get; set; }

    public string? Why { get; set; }

    /// <summary>The form filled with what is recorded.</summary>
    public static CustodyForm Of(Heat heat, Custody? custody) => new()
    {
        Received = Typed(heat.Received),
        ReceivedFrom = custody?.ReceivedFrom,
        ReceivedBy = custody?.ReceivedBy,
        Size = custody?.Size,
        Marks = custody?.MarksAsFound,
        Certificate = custody?.Certificate,
        CertificateOn = Typed(custody?.CertificateOn),
        Retained = custody?.Retained,
        RetainedUntil = Typed(custody?.RetainedUntil),
        Notes = custody?.Notes,
    };

    /// <summary>The custody and the day of receipt, or what is wrong with the lines.</summary>
    public (Custody? Custody, DateOnly? Received, string? Fault) Read(string heat)
    {
        string?[] days = [Received, CertificateOn, RetainedUntil];
        if (days.FirstOrDefault(d => Said(d) is not null && Day(d) is null) is { } wrong)
        {
            return (null, null, $"“{wrong}” is no day; write it as 2026-03-31. Nothing was stored.");
        }

        return (new(heat, Said(ReceivedFrom), Said(ReceivedBy), Said(Size), Said(Marks), Said(Certificate), Day(CertificateOn), Said(Retained), Day(RetainedUntil), Said(Notes)), Day(Received), null);
    }

    private static string? Typed(DateOnly? day) => day?.ToString(DayForm, CultureInfo.InvariantCulture);

    private static DateOnly? Day(string? text) => DateOnly.TryParseExact(text?.Trim(), DayForm, CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day) ? day : null;

    private static string? Said(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();
}
