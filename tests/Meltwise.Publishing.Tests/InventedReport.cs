using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Meltwise.Publishing.Figures;
using Meltwise.Publishing.Report;

namespace Meltwise.Publishing.Tests;

/// <summary>An invented enquiry with all its records: layout only, never a check of truth.</summary>
public static class InventedReport
{
    /// <summary>Names that a public version must not hold.</summary>
    public static IReadOnlyList<string> PrivateNames { get; } =
        ["K17", "M03", "Northern Foundry", "Southern Foundry", "Pressworks Example", "Chemlab Example", "big pendulum", "A. Tester", "B. Tester", "E-118", "D10", "D44",
            "NF-2231", "B. Assistant", "Hardshop Example", "C. Signer"];

    /// <summary>The input.</summary>
    /// <param name="reference">Reference heat.</param>
    /// <param name="candidate">Candidate heat.</param>
    /// <param name="first">Source of the reference.</param>
    /// <param name="second">Source of the candidate.</param>
    public static ReportInput Make(string reference = "K17", string candidate = "M03", string first = "Northern Foundry", string second = "Southern Foundry")
    {
        Verdict verdict = InventedVerdict.Make(reference, candidate, first, second);
        DateTime locked = new(2026, 3, 3, 9, 14, 0, DateTimeKind.Utc);
        DecisionRule rule = new() { Property = "impact energy", Margin = new Margin.Ratio(0.8, 1.25), PlannedCouponsPerLot = 12, SessionSdHrc = 0.1, SessionSdFrom = "checks of Hardshop Example tester on block NF-2231" };
        return new()
        {
            Enquiry = new()
            {
                Name = "E-118",
                Title = $"Can bars from {second} replace bars from {first} in punches hardened to 63 HRC, without losing impact energy that matters?",
                Client = "Pressworks Example",
                PaidBy = "Pressworks Example; no interest in either source",
                ReferenceHeats = [reference],
                CandidateHeats = [candidate],
                Rule = rule,
                Lock = new(locked, "A. Tester", "7f3a91c05be208d47f3a91c05be208d47f3a91c05be208d47f3a91c05be208d4"),
                Amendments = [new(locked.AddDays(2), "A. Tester", $"one bar end of {candidate} cracked in sawing", rule with { PlannedCouponsPerLot = 11 }, rule, "a", "b")],
                Work = [new("hardness and impact tests", "A. Tester"), new("heat treatment", "Hardshop Example", IsOutside: true)],
                Authoriser = "C. Signer",
                ConflictsOfInterest = $"A. Tester holds no interest in {first} or {second}",
                Key = new(locked.AddDays(6), locked.AddDays(15), locked.AddDays(15).AddMinutes(3)),
            },
            Verdict = verdict,
            Heats =
            [
                new(reference, first, "EN ISO 4957 HS6-5-3", "powder", "hot isostatic pressing 1150 °C, 3 h; forged and rolled, reduction 14 to 1; annealed 251 HBW", "bar 40 mm round"),
                new(candidate, second, "EN ISO 4957 HS6-5-3", "powder", null, "bar 40 mm round"),
            ],
            Sources = [new(first, "Source N"), new(second, "Source S")],
            Grades = [new("EN ISO 4957 HS6-5-3", "powder high-speed", "house grade 7")],
            Chemistry = [.. Chemistry(reference, [("C", "1.195", 0.016, "combustion"), ("C", "1.24", 0.03, "spark"), ("Cr", "4.18", 0.06, "spark"), ("Mo", "4.98", 0.07, "spark"), ("W", "6.31", 0.11, "spark"), ("V", "2.96", 0.05, "spark"), ("S", "0.0094", 0.0008, "combustion"), ("Co", "0.21", 0.02, "spark")]),
                .. Chemistry(candidate, [("C", "1.238", 0.016, "combustion"), ("C", "1.27", 0.03, "spark"), ("Cr", "4.11", 0.06, "spark"), ("Mo", "5.03", 0.07, "spark"), ("W", "6.22", 0.11, "spark"), ("V", "3.09", 0.05, "spark"), ("S", "0.0031", 0.0008, "combustion")]),
                new(candidate, "Co", new(0.05, "wt%", Censoring.Below, "<0.05"), "spark", "Chemlab Example"),
                new(reference, "O", new(58, "ppm", Censoring.None, "58"), "inert gas fusion", "Chemlab Example", 6), new(candidate, "O", new(37, "ppm", Censoring.None, "37"), "inert gas fusion", "Chemlab Example", 6)],
            Treatments = [new("punch recipe", [new TreatmentStep.Preheat(550, 30), new TreatmentStep.Preheat(850, 20), new TreatmentStep.Austenitize(1150, 4), new TreatmentStep.Quench("nitrogen, 5 bar", 60), new TreatmentStep.Temper(560, 60), new TreatmentStep.Temper(560, 60), new TreatmentStep.Temper(560, 60)])],
            FurnaceTraces =
            [
                new()
                {
                    Name = "T-1",
                    Load = "load 3",
                    Step = "austenitize",
                    Channel = "Hardshop Example TC 2 [°C]",
                    SetC = 1150,
                    ToleranceC = 10,
                    StartedAt = new(2026, 3, 10, 9, 30, 0),
                    Minutes = [0, 20, 24, 30],
                    TemperatureC = [850, 1152, 1153, 700],
                    FileName = "Hardshop Example run 7.csv",
                    Sha256 = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
                    Original = "H4sIAAAAAAACA0tMSgYAwkEkNQMAAAA=",
                },
            ],
            Instruments = [new("big pendulum", "pendulum", "impact energy", "J", 0.1, 3, 120, "150 J, striker 8 mm"), new("tester 2", "hardness tester", "hardness", "HRC")],
            Verifications = [new("big pendulum", new(2025, 4, 16), new(2026, 4, 16), true), new("tester 2", new(2026, 3, 2), new(2026, 9, 2), true)],
            Trend = Trend(verdict),
            Explanation = [$"{candidate} carries 0.04 wt% more carbon; at this temperature about half of it dissolves. That is consistent with a harder, slightly less tough bar. Two lots are one degree of freedom: a hypothesis, not a cause."],
            Custody =
            [
                new(reference, first, "B. Assistant", "bar 40 mm × 600 mm", $"blue paint on one end, stamped {reference}", "NF-2231", new(2026, 1, 20), "2 spares, all halves, the remnant bar", new(2031, 3, 31)),
                new(candidate, Retained: "3 spares, all halves", RetainedUntil: new(2031, 3, 31)),
            ],
            Laboratory = "the demonstration bench",
            VersionLabel = "draft 2",
            AtUtc = new(2026, 3, 25, 10, 21, 0, DateTimeKind.Utc),
            IsDemonstration = true,
        };
    }

    private static IEnumerable<ChemistryResult> Chemistry(string heat, (string Element, string Text, double U, string Method)[] results) =>
        results.Select(r => new ChemistryResult(heat, r.Element, new(double.Parse(r.Text, System.Globalization.CultureInfo.InvariantCulture), "wt%", Censoring.None, r.Text), r.Method, "Chemlab Example", r.U));

    // A fixed low-discrepancy sequence stands for the history; nothing is random in a test.
    private static TrendInput Trend(Verdict verdict)
    {
        List<TrendGroup> groups = [];
        for (int i = 0; i < 41; i++)
        {
            double u = (0.5 + (i * 0.6180339887)) % 1, w = (0.5 + (i * 0.7548776662)) % 1, h = 60.1 + (6.4 * u);
            groups.Add(new($"D{10 + i}", h, Math.Exp(Math.Log(60) - (0.074 * (h - 63.2)) + (0.26 * (w - 0.5))), 3 + (i % 9)));
        }
        return new()
        {
            Property = "impact energy",
            Unit = "J",
            Log = true,
            Groups = groups,
            Condition = verdict.Stratum.Condition,
            Trend = verdict.EqualHardness!.Trend,
            Range = new(60, 66.6),
            Lots = [new("K17", 62.7, 63.2, false, 59.8, 66.7), new("M03", 63.8, 57.1, true, 54, 60.5)],
        };
    }
}
