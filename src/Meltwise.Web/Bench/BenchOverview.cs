using System.Globalization;
using Meltwise.Casework.Judging;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Web.Enquiries;
using Meltwise.Web.Page;

namespace Meltwise.Web.Bench;

/// <summary>One instrument whose verification ends.</summary>
/// <param name="Instrument">Its name.</param>
/// <param name="On">The last day of its verification.</param>
/// <param name="Year">The year of that day, where it is not this one.</param>
/// <param name="Says">How far off that is.</param>
/// <param name="Soon">Within the next days that matter.</param>
public sealed record DueLine(string Instrument, DateOnly On, int? Year, string Says, bool Soon);

/// <summary>One stage of an enquiry as the line draws it.</summary>
public sealed record StageMark(EnquiryStage Stage, string Class, string Says, string Spoken);

/// <summary>One enquiry in the list.</summary>
/// <param name="Enquiry">The enquiry.</param>
/// <param name="Says">Its name and lots.</param>
/// <param name="Marks">Its stages.</param>
/// <param name="Verdict">The verdict given, or null.</param>
public sealed record EnquiryLine(Enquiry Enquiry, string Says, IReadOnlyList<StageMark> Marks, Verdict? Verdict);

/// <summary>What the first page says of a bench.</summary>
public sealed record BenchOverview(
    string Headline, string Lede, IReadOnlyList<EnquiryLine> Open, IReadOnlyList<DueLine> Due, IReadOnlyList<RecordedReading> Latest, BenchYear Year)
{
    private const int SoonDays = 30;
    private const int ReadingsOfAYear = 4000;

    /// <summary>Gathers the overview.</summary>
    public static BenchOverview Of(IBench bench, DateTime now)
    {
        var today = DateOnly.FromDateTime(now);
        IReadOnlyList<Enquiry> enquiries = bench.Enquiries();
        EnquiryLine[] open = [.. enquiries.Where(e => !e.StagesUtc.ContainsKey(EnquiryStage.Reported)).OrderBy(FirstStamp).Select(e => Line(bench, e))];
        IReadOnlyList<RecordedReading> readings = bench.LatestReadings(ReadingsOfAYear);
        DueLine[] due = [.. FindDue(bench, today)];
        BenchCard card = bench.Card;
        return new(WriteHeadline(open, enquiries.Count), WriteLede(card, bench.Heats().Min(h => h.Received), due), open, due, readings, BenchYear.Of(bench, readings, today));
    }

    /// <summary>The line of one enquiry.</summary>
    public static EnquiryLine Line(IBench bench, Enquiry enquiry)
    {
        string lots = enquiry.ReferenceHeats.Count > 0 && enquiry.CandidateHeats.Count > 0
            ? $" · {Written.AndList(enquiry.CandidateHeats)} against {Written.AndList(enquiry.ReferenceHeats)}"
            : " · heats not chosen";
        StoredDocument? stored = enquiry.StagesUtc.ContainsKey(EnquiryStage.Judged) ? bench.FindDocument(enquiry.Name, EnquiryJudgement.DocumentKind) : null;
        return new(enquiry, enquiry.Name + lots, [.. Marks(enquiry)], EnquiryView.ReadVerdict(stored).Verdict);
    }

    private static IEnumerable<StageMark> Marks(Enquiry enquiry)
    {
        bool nowDrawn = false;
        foreach (EnquiryStage stage in Enum.GetValues<EnquiryStage>())
        {
            if (enquiry.StagesUtc.TryGetValue(stage, out DateTime at) && !nowDrawn)
            {
                yield return new(stage, "", Written.DayOfYear(Written.LocalDay(at)), "done");
            }
            else if (!nowDrawn)
            {
                nowDrawn = true;
                yield return new(stage, "now", "next", "is next");
            }
            else
            {
                yield return new(stage, "next", "", "later");
            }
        }
    }

    private static string WriteHeadline(IReadOnlyList<EnquiryLine> open, int all)
    {
        if (all == 0)
        {
            return "The bench is ready. No question was asked yet.";
        }

        int onYou = open.Count(l => l.Enquiry.WaitsOn is "you" or "us");
        string state = open.Count switch
        {
            0 => "No enquiry is open.",
            1 => "One enquiry is open.",
            int n => $"{Written.Sentence(Written.Count(n))} enquiries are open.",
        };
        return onYou == 0 ? state : $"{state} {Written.Sentence(Written.Count(onYou))} {(onYou == 1 ? "waits" : "wait")} on you.";
    }

    private static string WriteLede(BenchCard card, DateOnly? first, IReadOnlyList<DueLine> due)
    {
        if (card is { Heats: 0, Coupons: 0 })
        {
            return "Nothing is on it yet. Bring in the tables you have: every coupon tested before is what the next one is held against. Or ask a question first.";
        }

        string holds = $"The bench holds {Written.Figure(card.Heats)} {(card.Heats == 1 ? "heat" : "heats")} and {Written.Figure(card.Coupons)} {(card.Coupons == 1 ? "coupon" : "coupons")}{Since(first)}.";
        DueLine[] soon = [.. due.Where(d => d.Soon)];
        return soon.Length == 0 ? holds : $"{holds} {Written.Sentence(soon[0].Instrument)}: {soon[0].Says}.";
    }

    private static string Since(DateOnly? first) => first is { } day ? string.Create(CultureInfo.InvariantCulture, $", the first received in {day.Year}") : "";

    private static IEnumerable<DueLine> FindDue(IBench bench, DateOnly today) =>
        bench.Verifications().GroupBy(v => v.Instrument, StringComparer.Ordinal)
            .Select(g => g.MaxBy(v => v.On)!)
            .OrderBy(v => v.ValidUntil)
            .Select(v => new DueLine(v.Instrument, v.ValidUntil, v.ValidUntil.Year == today.Year ? null : v.ValidUntil.Year, SaysOf(v, today), v.ValidUntil.DayNumber - today.DayNumber is >= 0 and <= SoonDays));

    private static string SaysOf(Verification last, DateOnly today)
    {
        int days = last.ValidUntil.DayNumber - today.DayNumber;
        return days switch
        {
            < 0 => $"verification lapsed on {Written.Day(last.ValidUntil)}",
            0 => "verification ends today",
            1 => "verification ends tomorrow",
            _ => $"verification, in {days} days",
        };
    }

    private static DateTime FirstStamp(Enquiry enquiry) => enquiry.StagesUtc.Count == 0 ? DateTime.MaxValue : enquiry.StagesUtc.Values.Min();
}
