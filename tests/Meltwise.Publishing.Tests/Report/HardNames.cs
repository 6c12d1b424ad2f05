using Meltwise.Casework.Judging;
using Meltwise.Publishing.Report;

namespace Meltwise.Publishing.Tests.Report;

/// <summary>The invented report with sources and heats called otherwise: letters, units, words of the trade. Sentences are those that the judging writes.</summary>
internal static class HardNames
{
    public static ReportInput Make(string first, string second, string reference, string candidate)
    {
        ReportInput made = InventedReport.Make(reference, candidate, first, second);
        string sentence = $"For impact energy, unnotched 7×10×55, L, 23 °C, a small difference was detected: {candidate} 10 % lower than {reference}, smaller than the margin of 0.80 to 1.25 agreed before testing. Best estimate of the ratio 0.90; 90 % range 0.84 to 0.97.";
        return made with
        {
            Enquiry = made.Enquiry with { Title = $"Can bars of {second} replace bars of {first}, 63 HRC?", ConflictsOfInterest = null, PaidBy = null, Amendments = [] },
            Sources = [new(first, "first source"), new(second, "second source")],
            Custody = [],
            Trend = null,
            Explanation = [],
            Verdict = made.Verdict with
            {
                Finding = made.Verdict.Finding with { Sentence = sentence, Text = sentence, MayClaim = [$"{candidate} and {reference} are interchangeable for impact energy within 0.80 to 1.25."], MayNotClaim = [$"Anything about later heats of {second}."] },
                Pairs = new()
                {
                    Count = 3,
                    OneOrientation = true,
                    Orientation = $"{second} over {first}",
                    Pairs = [new("E-1", 0.9, 0.8, 1.0, false), new("E-2", 1.0, 0.9, 1.1, false), new("E-118", 0.9, 0.8, 1.0, false)],
                    Mean = new(0.93, 0.8, 1.1, 0.95),
                    Notes = [$"The mean is of {second} over {first}; a pair that was compared the other way round is turned."],
                },
                Sources = made.Verdict.Sources! with { Notes = [$"The heat is the random unit: 9 of {second}, 18 of {first}, 36 in all; as tested."] },
            },
        };
    }
}
