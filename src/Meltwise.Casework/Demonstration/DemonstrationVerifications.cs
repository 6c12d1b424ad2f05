using Meltwise.Domain;

namespace Meltwise.Casework.Demonstration;

/// <summary>Verifications of the two instruments of the demonstration: a tester that drifts until a check fails, a pendulum whose check came late. Invented; no enquiry was read on a day they leave open.</summary>
internal static class DemonstrationVerifications
{
    public const string Tester = "hardness tester 1";
    public const string Pendulum = "pendulum, 150 J";

    private const string Block = "block 62.4 HRC";
    private const double BlockHrc = 62.4;

    /// <summary>All of them, oldest first for each instrument.</summary>
    public static IEnumerable<Verification> All =>
    [
        Checked(new(2021, 11, 15), new(2022, 6, 15), 62.2, 62.4, 62.3, 62.5, 62.4),
        Checked(new(2022, 5, 30), new(2022, 12, 31), 62.4, 62.3, 62.6, 62.4, 62.4),
        Checked(new(2022, 11, 28), new(2023, 6, 30), 62.5, 62.3, 62.5, 62.6, 62.4),
        Checked(new(2023, 5, 29), new(2023, 12, 31), 62.4, 62.6, 62.5, 62.7, 62.5),
        Checked(new(2023, 11, 27), new(2024, 6, 30), 62.6, 62.7, 62.5, 62.5, 62.7),
        Checked(new(2024, 5, 27), new(2024, 12, 31), 62.7, 62.8, 62.6, 62.9, 62.6),
        new(Tester, new(2024, 11, 25), new(2024, 11, 25), false, Block, BlockHrc, 63.02, "tip of the indenter chipped; indenter replaced", [63.1, 62.8, 63.2, 62.9, 63.1]),
        Checked(new(2024, 11, 28), new(2025, 6, 30), 62.4, 62.3, 62.5, 62.4, 62.3),
        Checked(new(2025, 5, 26), new(2025, 12, 31), 62.3, 62.4, 62.6, 62.5, 62.3),
        Checked(new(2025, 11, 24), new(2026, 6, 30), 62.5, 62.4, 62.3, 62.6, 62.4),
        Checked(new(2026, 5, 18), new(2026, 12, 31), 62.6, 62.4, 62.3, 62.5, 62.6),
        Checked(new(2026, 11, 16), new(2027, 6, 30), 62.4, 62.5, 62.6, 62.6, 62.4),
        Broken(new(2021, 11, 8), new(2022, 11, 30), "reference lot 32.6 J", 32.6, 32.7),
        Broken(new(2022, 11, 2), new(2023, 11, 30), "reference lot 32.6 J", 32.6, 32.4),
        Broken(new(2023, 10, 30), new(2024, 10, 31), "reference lot 32.6 J", 32.6, 32.2),
        Broken(new(2024, 12, 9), new(2025, 12, 31), "reference lot 31.9 J", 31.9, 31.4),
        Broken(new(2025, 11, 24), new(2026, 11, 30), "reference lot 31.9 J", 31.9, 31.6),
        Broken(new(2026, 11, 16), new(2027, 11, 30), "reference lot 31.9 J", 31.9, 31.5),
    ];

    /// <summary>The hardness tester.</summary>
    public static Instrument HardnessTester { get; } = new(Tester, "hardness tester", "hardness", "HRC", 0.1, 20, 70, "Diamond cone, 1471 N. Invented.");

    private static Verification Checked(DateOnly on, DateOnly until, params double[] readings) => new(Tester, on, until, true, Block, BlockHrc, Math.Round(readings.Average(), 2), Readings: readings);

    private static Verification Broken(DateOnly on, DateOnly until, string lot, double certified, double found) => new(Pendulum, on, until, true, lot, certified, found);
}
