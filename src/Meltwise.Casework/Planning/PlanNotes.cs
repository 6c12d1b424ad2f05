using System.Globalization;
using Meltwise.Casework.Judging;
using Meltwise.Domain;

namespace Meltwise.Casework.Planning;

/// <summary>What a reader of a planning table must know.</summary>
internal static class PlanNotes
{
    public static IReadOnlyList<string> Of(PlanRequest r, PlannedProperties properties, IReadOnlyList<PlanDesign> designs)
    {
        List<string> notes = [$"{r.Replicates} simulated enquiries for each plan, seed {r.Seed}; all plans see the same coupons. Equal numbers of both lots in every load, no censored reading."];
        Estimand[] estimands = [.. designs.Select(d => d.Estimand).Distinct()];
        if (properties.Requests.Count > 1) Properties(r, properties, notes);
        Scatter(r, estimands, notes);
        if (estimands.Any(e => e != Estimand.Sources)) notes.Add("One heat a side judges these two lots and says nothing of their sources.");
        if (estimands.Length > 1) notes.Add("Plans with one heat answer for these lots, plans with more for the sources: costs and chances compare only within each kind.");
        if (estimands.Any(e => e != Estimand.Sources) && designs.Any(d => d.Groups * d.Coupons <= 4)) notes.Add("Three or four coupons a lot are seldom enough to show agreement: most such enquiries end inconclusive.");
        foreach (IGrouping<Reason, PlanDesign> gate in designs.Where(d => d.Gate is not null).GroupBy(d => d.Gate!.Value))
            notes.Add($"No verdict ({gate.Key.Code()}), whatever is read: {string.Join(", ", gate.Select(d => $"{d.Heats} × {d.Coupons} in {d.Loads}").Distinct())} (heats × coupons in loads).");
        if (r.History is { } old && estimands.Contains(Estimand.Sources))
            notes.Add($"The history enters the comparison of sources: {old.ReferenceHeats} old heats of the reference's source, {old.CandidateHeats} of the candidate's, {old.OtherHeats.Sum()} of others, {old.CouponsPerHeat} coupons each.");
        if (r.Ladder is { } ladder) notes.AddRange(Ladder(r, ladder));
        else if (r.Trend is { } t && estimands.Any(e => e != Estimand.AsTested))
            notes.Add(string.Create(CultureInfo.InvariantCulture, $"At equal hardness with {(t.OfLadders ? "the slope of the history's temper ladders" : "a slope")}{(t.OfLadders ? "," : " of")} {t.Slope:0.000;−0.000} (standard error {t.SlopeStandardError:0.000}, {t.SlopeDf:0} degrees of freedom) per HRC and an expected difference of {t.HardnessDifference:+0.0;−0.0;0} HRC; more coupons do not lower the part of the slope."));
        if (r.Extension is not null)
            notes.Add("One extension is planned after inconclusive or an open difference; each look uses half the error rate. The cost is what is to be expected.");
        if (r.Flaws is { } f)
            notes.Add(string.Create(CultureInfo.InvariantCulture, $"A flaw-governed coupon is taken to keep {f.Share:0.##} of the sound value; the true ratio is that of sound coupons. Such coupons are readings like others: nothing is dropped for being low."));
        if (r.MarginIn == PlanMargin.Unit) notes.Add("With a margin in the unit, the lots as tested are judged on arithmetic means, the other estimands on the ratio that the margin comes to.");
        return notes;
    }

    private static IEnumerable<string> Ladder(PlanRequest r, PlannedLadder ladder)
    {
        string Levels(IReadOnlyList<double> levels) => string.Join(", ", levels.Select(h => h.ToString("0.0", CultureInfo.InvariantCulture)));
        yield return $"Both lots over one ladder of {ladder.Levels} tempers, expected at {Levels(ladder.Reference)} HRC (reference) and {Levels(ladder.Candidate)} HRC (candidate): compared at equal hardness by the slope of their own ladders, without history, on N − 3 degrees of freedom. Coupons are those at each level of a lot.";
        yield return string.Create(CultureInfo.InvariantCulture, $"Slope {ladder.Slope:0.000;−0.000} per HRC{(ladder.SlopeDifference == 0 ? ", the same in both lots" : $", in the candidate {ladder.Slope + ladder.SlopeDifference:0.000;−0.000}; the truth holds at {ladder.Centre:0.0} HRC")}; a coupon's hardness scatters by {ladder.HardnessSd:0.0#} HRC inside a level{(ladder.HardnessSd > 0 ? ", which makes the slope a little too flat" : "")}.");
        yield return "No verdict where the ladders as read do not overlap (outside-the-trend), where levels differ hardly more than the error of hardness (hardness-spread-too-small), and where the lines are not parallel at 5 % (strata-differ): that refuses one enquiry in twenty whose lines are parallel.";
        if (r.LoadSd > 0) yield return "Furnace loads are not in the comparison over a ladder; their scatter adds to that of the coupons.";
        if (r.Scatter == ScatterChoice.Lent) yield return "No scatter is lent over a temper ladder.";
    }

    private static void Properties(PlanRequest r, PlannedProperties properties, List<string> notes)
    {
        IEnumerable<string> each = properties.Requests.Select((p, j) =>
            string.Create(CultureInfo.InvariantCulture, $"{p.Property} (margin {Margin(p)}, scatter {p.WithinHeatSd:0.###}{(j == 0 ? "" : $", truth {p.Truths[0]:0.###}")})"));
        string asked = r.Question == Question.Difference ? "yes takes a difference in at least one of them, after Holm's correction" : "yes takes yes in every one of them, uncorrected (intersection-union test)";
        notes.Add($"{properties.Requests.Count} primary properties, judged together: {string.Join("; ", each)}. {char.ToUpperInvariant(asked[0]) + asked[1..]}.");
        int all = properties.Requests.Count * (properties.Requests.Count - 1) / 2;
        List<string> pairs = [];
        for (int i = 1; i < properties.Requests.Count; i++)
            for (int j = 0; j < Math.Min(i, r.Further[i - 1].Correlations.Count); j++)
                if (r.Further[i - 1].Correlations[j] is not 0 and var c) pairs.Add(string.Create(CultureInfo.InvariantCulture, $"{properties.Requests[i].Property} with {properties.Requests[j].Property} {c:0.00;−0.00}"));
        notes.Add(pairs.Count == 0
            ? "Readings of the properties on one coupon are taken as independent (correlation 0); heats and loads of different properties always are."
            : $"Correlation of readings on one coupon: {string.Join(", ", pairs)}{(pairs.Count < all ? "; all others 0" : "")}. Heats and loads of different properties are taken as independent.");
        if (properties.SharedHardness > 0) notes.Add("Hardness is judged as tested, on the readings that the comparison at equal hardness uses; its true difference is the expected difference of hardness.");
        if (r.Flaws is not null) notes.Add($"Flaws govern {r.Property} only.");
        if (r.Further.Any(f => f.CostPerReading > 0)) notes.Add(string.Create(CultureInfo.InvariantCulture, $"A coupon with the readings of all properties costs {r.CostOfCoupon:0.##}."));
    }

    /// <summary>A margin in words.</summary>
    internal static string Margin(PlanRequest r) => r.MarginIn switch
    {
        PlanMargin.Hardness => string.Create(CultureInfo.InvariantCulture, $"{r.MarginHigh:0.##} HRC through the trend"),
        PlanMargin.Unit => string.Create(CultureInfo.InvariantCulture, $"± {r.MarginHigh:0.##} about {r.ReferenceMean:0.##}"),
        _ => string.Create(CultureInfo.InvariantCulture, $"{r.MarginLow:0.00##;−0.00##} to {r.MarginHigh:0.00##}"),
    };

    private static void Scatter(PlanRequest r, Estimand[] estimands, List<string> notes)
    {
        if (r.WithinHeatSdDf is null) notes.Add("The scatter within a heat is taken as known.");
        if (estimands.Contains(Estimand.Sources) && r.HeatSdDf is null) notes.Add("The heat-to-heat scatter is taken as known.");
        if (r.Ladder is null && r.Scatter == ScatterChoice.Lent && r.Law is { MayLend: false }) notes.Add("The history is too small to lend its scatter: own scatter is used.");
        if (r.Ladder is null && r.Scatter == ScatterChoice.Lent && r.Law is { MayLend: true } law) notes.Add(string.Create(CultureInfo.InvariantCulture, $"The bench lends {law.LentDf:0.#} degrees of freedom to each lot, unless a lot scatters more than the law allows."));
        if (r.Law is { Exponent: not 1 } bent) notes.Add(string.Create(CultureInfo.InvariantCulture, $"The scatter grows with the mean to the power {bent.Exponent:0.00}, standard error {bent.ExponentStandardError:0.00}."));
        if (estimands.Contains(Estimand.Sources) && r.Loads.Any(l => l > 1)) notes.Add("With several heats a side, furnace loads are not used in the comparison; their scatter adds to that of the coupons.");
    }
}
