using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Storage.Tests.Engines;

/// <summary>Invented records to store; no check of truth.</summary>
internal static class Invented
{
    public static Treatment Treatment { get; } = new("low temper",
        [
            new TreatmentStep.Preheat(850, 20), new TreatmentStep.Austenitize(1080, 15), new TreatmentStep.Quench("gas", 40), new TreatmentStep.SubZero(-80, 60),
            new TreatmentStep.Temper(200, 120), new TreatmentStep.Temper(200.5, null),
        ], "two tempers");

    public static IReadOnlyList<BenchChange> Heat(string name = "K17", string source = "Nordhammer") =>
    [
        new BenchChange.PutSource(new(source, "Source A", "first source")),
        new BenchChange.PutGrade(new("AISI M4", "powder high-speed")),
        new BenchChange.PutHeat(new(name, source, "AISI M4", "powder", null, "bar 40 mm", new DateOnly(2026, 3, 4), "µ ≥ 3 °C")),
        new BenchChange.PutTreatment(Treatment),
    ];

    public static BenchChange Coupon(string heat, string name, string? treatment = "low temper", string? code = null) =>
        new BenchChange.PutCoupon(new(heat, name, "L", "unnotched 7×10×55", treatment, "load 3", 4, code));

    public static Reading Energy(string heat, string coupon, string typed, int number = 1) => new(
        new(heat, coupon), "impact energy", number, new(double.Parse(typed, System.Globalization.CultureInfo.InvariantCulture), "J", Censoring.None, typed),
        null, null, 296.15, new DateTime(2026, 5, 6, 7, 8, 9, DateTimeKind.Utc).AddTicks(1234567), new DateOnly(2026, 5, 6));

    public static Reading Hardness(string heat, string coupon, string typed, int number) => new(
        new(heat, coupon), "hardness", number, new(double.Parse(typed, System.Globalization.CultureInfo.InvariantCulture), "HRC", Censoring.None, typed), Session: "s1");

    public static Picture Picture(string name, string sha256, string heat = "K17", string? coupon = null) => new()
    {
        Name = name,
        Heat = heat,
        Coupon = coupon,
        Mount = "A",
        Field = 1,
        Magnification = "500×",
        Etch = "unetched",
        MicrometresPerPixel = 0.045,
        ScaleSource = "typed",
        Sha256 = sha256,
        FileName = "field 1.png",
        Format = "PNG",
        Width = 640,
        Height = 480,
        TakenOn = new(2026, 5, 6),
    };

    public static BenchChange Put(Reading reading) => new BenchChange.PutReading(reading);
}
