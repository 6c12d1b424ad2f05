using System.Globalization;
using Meltwise.Casework.Explaining;

namespace Meltwise.Cli.Terminal;

/// <summary>An explanation on a terminal: finding, computed state, elements, oxides and carbides of each heat, method, limits and sources.</summary>
internal static class ExplanationPage
{
    public static void Write(Paper paper, ExplanationDocument document)
    {
        paper.Title($"{document.Candidate.Heat} less {document.Reference.Heat}: what the chemistry explains");
        paper.Text(document.Text);
        paper.Text($"Treatment: {document.Treatment}. Strength: {document.Strength}.");
        StateIntervals difference = document.Difference, reference = document.Reference.State, candidate = document.Candidate.State;
        paper.Section("Computed state and its difference");
        paper.Table(["", document.Reference.Heat, document.Candidate.Heat, "difference", string.Create(CultureInfo.InvariantCulture, $"{difference.HardnessHrc.Level:P0} range")],
        [
            Row("dissolved carbon, wt%", reference.CarbonInAustenite, candidate.CarbonInAustenite, difference.CarbonInAustenite, "0.000"),
            Row("dissolved chromium, wt%", reference.ChromiumInAustenite, candidate.ChromiumInAustenite, difference.ChromiumInAustenite, "0.00"),
            Row("dissolved molybdenum, wt%", reference.MolybdenumInAustenite, candidate.MolybdenumInAustenite, difference.MolybdenumInAustenite, "0.00"),
            Row("dissolved vanadium, wt%", reference.VanadiumInAustenite, candidate.VanadiumInAustenite, difference.VanadiumInAustenite, "0.00"),
            Row("carbide, vol%", reference.CarbideVolumeFraction, candidate.CarbideVolumeFraction, difference.CarbideVolumeFraction, "0.00", 100),
            Row("martensite start, °C", reference.MartensiteStartC, candidate.MartensiteStartC, difference.MartensiteStartC, "0"),
            Row("retained austenite, vol%", reference.RetainedAustenite, candidate.RetainedAustenite, difference.RetainedAustenite, "0.0", 100),
            Row(document.HardnessMeaning is { } meaning ? $"hardness {meaning}, HRC" : "hardness, HRC", reference.HardnessHrc, candidate.HardnessHrc, difference.HardnessHrc, "0.0"),
        ], 1, 2, 3, 4);
        paper.Section("What each element contributes");
        paper.Table(["element", "difference wt%", "HRC", "dissolved C wt%"], document.Contributions.Select(c => (IReadOnlyList<string>)
            [c.Element, Signed(c.MassPercentDifference, "0.000"), Signed(c.HardnessHrc.Estimate, "0.00"), Signed(c.CarbonInAustenite.Estimate, "0.000")]), 1, 2, 3);
        if (document.ExplainedShare is { } share)
            paper.Text(string.Create(CultureInfo.InvariantCulture, $"Share of the observed {document.Observed!.Hrc:0.0;−0.0} HRC explained: {N(100 * share.Estimate, "0;−0;0")} % ({N(100 * share.Lower, "0;−0;0")} to {N(100 * share.Upper, "0;−0;0")} %)."));
        if (document.Outlooks is { Count: > 0 } outlooks) Outlooks(paper, outlooks, document.Oxygen);
        if (document.Calibration is { } own) Calibration(paper, document, own);
        paper.Section("Method and limits");
        foreach (string note in NotesOfBoth.Of(document)) paper.Item("  ", note);
        paper.Text(string.Create(CultureInfo.InvariantCulture, $"{document.Draws} draws, seed {document.Seed}."));
        paper.Section("Sources");
        paper.Text(string.Join("; ", document.Sources.Concat((document.Outlooks ?? []).SelectMany(o => o.Sources)).Distinct(StringComparer.Ordinal)) + ".");
    }

    private static void Calibration(Paper paper, ExplanationDocument document, CalibrationDocument own)
    {
        const int most = 12;
        paper.Section(string.Create(CultureInfo.InvariantCulture, $"Own cases of this chain: {own.Cases.Count} heats of this treatment"));
        paper.Text(string.Create(CultureInfo.InvariantCulture,
            $"Corrected by them: {document.Reference.Heat} {own.Reference.Estimate:0.0} HRC ({own.Reference.Lower:0.0} to {own.Reference.Upper:0.0}), {document.Candidate.Heat} {own.Candidate.Estimate:0.0} HRC ({own.Candidate.Lower:0.0} to {own.Candidate.Upper:0.0}); offset {Signed(own.OffsetHrc, "0.0")} HRC, slope {own.Slope:0.00}, scatter {own.ScatterHrc:0.0} HRC."));
        paper.Table(["heat", "computed", "measured", "before", "after"], own.Cases.Take(most).Select(c => (IReadOnlyList<string>)
            [c.Heat, N(c.PredictedHrc, "0.0"), N(c.MeasuredHrc, "0.0"), Signed(c.BeforeHrc, "0.0"), Signed(c.AfterHrc, "0.0")]), 1, 2, 3, 4);
        if (own.Cases.Count > most) paper.Text($"The worst {most}; --json has all.");
        foreach (string note in own.Notes) paper.Item("  ", note);
    }

    // What holds for both heats is said once.
    private static void Outlooks(Paper paper, IReadOnlyList<HeatOutlookDocument> outlooks, OxygenComparison? oxygen)
    {
        paper.Section("Oxides and carbides");
        int[] right = [.. Enumerable.Range(1, outlooks.Count)];
        if (outlooks.Any(o => o.Oxides is not null))
        {
            paper.Table(["", .. outlooks.Select(o => o.Heat), ""], OxideRows(outlooks), right);
            foreach (HeatOutlookDocument o in outlooks.Where(o => o.Oxides is not null))
                if (Place(o.Oxides!, o.Heat, oxygen) is { } place) paper.Item("  ", $"{o.Heat}: {place}.");
            OxideOutlook said = outlooks.Select(o => o.Oxides).OfType<OxideOutlook>().First();
            paper.Item("  ", $"Numbers of oxides are those in the {N(said.StressedVolumeMm3, "0")} mm³ of a coupon under most stress; the critical flaw is that at {N(said.ToughnessMPaSqrtM, "0")} MPa√m and {N(said.StressMPa, "0")} MPa. Sizes, toughness and stress are assumed; in brackets other oxides.");
        }
        string[] carbides = [.. outlooks.SelectMany(o => o.Carbides).Select(c => c.Carbide).Distinct(StringComparer.Ordinal)];
        if (carbides.Length > 0)
            paper.Table(["carbide after its hot history", .. outlooks.Select(o => o.Heat), ""],
                carbides.Select(name => (IReadOnlyList<string>)[$"{name}, held back most by {outlooks.SelectMany(o => o.Carbides).First(c => c.Carbide == name).HeldBackBy}", .. outlooks.Select(o => o.Carbides.FirstOrDefault(c => c.Carbide == name) is { } c ? $"{N(c.FinalDiameterUm, "0.00")} ({N(c.LowerUm, "0.00")} to {N(c.UpperUm, "0.00")})" : "unknown"), "µm"]), right);
        foreach (string note in outlooks.SelectMany(o => o.Notes).Distinct(StringComparer.Ordinal))
        {
            HeatOutlookDocument[] of = [.. outlooks.Where(o => o.Notes.Contains(note))];
            paper.Item("  ", of.Length == outlooks.Count ? note : $"{of[0].Heat}: {note}");
        }
    }

    private static IEnumerable<IReadOnlyList<string>> OxideRows(IReadOnlyList<HeatOutlookDocument> outlooks)
    {
        OxideOutlook any = outlooks.Select(o => o.Oxides).OfType<OxideOutlook>().First();
        IReadOnlyList<string> Row(string label, string unit, Func<OxideOutlook, string> of) => [label, .. outlooks.Select(o => o.Oxides is { } oxides ? of(oxides) : "unknown"), unit];
        yield return Row("total oxygen", "ppm", o => N(o.OxygenPpm, "0"));
        yield return Row($"oxide, as {any.Oxide}", "vol%", o => $"{N(100 * o.VolumeFraction, "0.000")} ({N(100 * o.VolumeFractionLower, "0.000")} to {N(100 * o.VolumeFractionUpper, "0.000")})");
        foreach (double size in any.NumberAbove.Select(n => n.DiameterUm))
            yield return Row($"oxides above {N(size, "0")}\u00A0µm", "", o => o.NumberAbove.FirstOrDefault(n => n.DiameterUm.Equals(size)) is { } n ? Few(n.InStressedVolume) : "");
        yield return Row("critical flaw, across", "µm", o => N(o.CriticalDiameterUm, "0"));
        yield return Row($"one or more of {any.Coupons} coupons", "% broken by one", o => Few(100 * o.ChanceAtLeastOne));
    }

    private static string? Place(OxideOutlook oxides, string heat, OxygenComparison? oxygen)
    {
        if (oxides.Rank is { } rank) return $"{rank.HeatsWithLess} of {rank.Heats} other heats of its route have less oxygen{(rank is { LowerPpm: { } low, UpperPpm: { } high } ? $", limits {N(low, "0")} to {N(high, "0")} ppm" : "")}: {rank.Standing}";
        HeatOxygen? recorded = oxygen is null ? null : oxygen.Reference.Heat == heat ? oxygen.Reference : oxygen.Candidate;
        return recorded is null ? null : $"{recorded.Rank} of {recorded.Peers} heats of its route by oxygen, lowest first";
    }

    // Two digits that count, written out where that is short.
    private static string Few(double value) => value switch
    {
        0 => "0",
        >= 100 => N(value, "0"),
        >= 0.001 => value.ToString("G2", CultureInfo.InvariantCulture),
        _ => N(value, "0.#e-0"),
    };

    private static string N(double value, string format) => value.ToString(format, CultureInfo.InvariantCulture);

    private static IReadOnlyList<string> Row(string label, ExplainedInterval reference, ExplainedInterval candidate, ExplainedInterval difference, string format, double factor = 1) =>
    [
        label, (factor * reference.Estimate).ToString(format, CultureInfo.InvariantCulture), (factor * candidate.Estimate).ToString(format, CultureInfo.InvariantCulture),
        Signed(factor * difference.Estimate, format), $"{Signed(factor * difference.Lower, format)} to {Signed(factor * difference.Upper, format)}",
    ];

    private static string Signed(double value, string format) => value.ToString("+" + format + ";−" + format + ";" + format, CultureInfo.InvariantCulture);
}
