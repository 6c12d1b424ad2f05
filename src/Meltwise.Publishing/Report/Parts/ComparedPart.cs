using System.Globalization;
using Meltwise.Domain;
using Meltwise.Publishing.Documents;

namespace Meltwise.Publishing.Report.Parts;

/// <summary>What was compared: heats, sources, routes, pieces and marks as they came, certificate against own analysis. What nobody knows is printed as unknown.</summary>
internal static class ComparedPart
{
    private const string Title = "What was compared";

    public static ReportPart Of(ReportInput input)
    {
        if (input.Heats.Count == 0)
            return new(Title, [], WhenEmpty: "No record of the heats (source, route, product) was given.");
        List<IReadOnlyList<Rich>> rows = [.. input.Heats.Select(h => (IReadOnlyList<Rich>)[Rich.Of(new Run(h.Name, RunStyle.Strong)), Role(input.Enquiry, h), Rich.OrUnknown(h.Source), Rich.OrUnknown(h.Grade), Rich.OrUnknown(h.Route), Rich.OrUnknown(h.Product)])];
        List<Block> blocks = [new Block.Table([new("heat", 0.8), new("role", 0.9), new("source", 1.1), new("grade", 1.4), new("route", 0.9), new("product", 1.4)], rows)];
        foreach (Heat heat in input.Heats)
            blocks.Add(new Block.Paragraph(Piece(heat, input.Custody.FirstOrDefault(c => c.Heat == heat.Name)), TextKind.Note));
        foreach (Heat heat in input.Heats)
            blocks.Add(new Block.Paragraph(Certificate(heat.Name, input.Chemistry), TextKind.Note));
        return new(Title, blocks);
    }

    private static Rich Piece(Heat heat, Custody? custody) => Rich.Of(
    [
        new Run(heat.Name + ".", RunStyle.Strong), new Run(" Consolidation: "), .. Rich.OrUnknown(heat.Consolidation).Runs, new Run(". Piece received: "), .. Rich.OrNotRecorded(custody?.Size).Runs,
        new Run("; marks as found: "), .. Rich.OrNotRecorded(custody?.MarksAsFound).Runs,
        new Run("; certificate: "), .. CertificateName(custody).Runs, new Run("."),
    ]);

    private static Rich CertificateName(Custody? custody) => (custody?.Certificate, custody?.CertificateOn) switch
    {
        ({ } number, { } day) => $"{number} of {ReportWords.Day(day)}",
        ({ } number, null) => number,
        (null, { } day) => $"of {ReportWords.Day(day)}",
        _ => Rich.NotRecorded,
    };

    // Every element that both the certificate and another analysis give, by the own one with the least uncertainty.
    private static Rich Certificate(string heat, IReadOnlyList<ChemistryResult> chemistry)
    {
        ChemistryResult[] own = [.. chemistry.Where(c => c.Heat == heat && !IsCertificate(c))], stated = [.. chemistry.Where(c => c.Heat == heat && IsCertificate(c))];
        if (stated.Length == 0)
            return Rich.Led($"{heat}, certificate against own chemistry.", "No certificate analysis is recorded.");
        string[] compared =
        [
            .. stated.Select(c => (Stated: c, Own: own.Where(o => o.Element == c.Element && o.Typed.Unit == c.Typed.Unit).MinBy(o => o.ExpandedUncertainty ?? double.MaxValue))).Where(p => p.Own is not null)
                .Select(p => $"{p.Stated.Element} {p.Stated.Typed.Text} against {p.Own!.Typed.Text}{(p.Own.ExpandedUncertainty is { } u ? $" ± {u.ToString("0.######", CultureInfo.InvariantCulture)}" : "")}{(Apart(p.Stated, p.Own) ? ", apart" : "")}"),
        ];
        return Rich.Led($"{heat}, certificate against own chemistry.", compared.Length == 0 ? "No element has both." : string.Join("; ", compared) + ". Apart: further than the own expanded uncertainty and the last digit of the certificate.");
    }

    private static bool IsCertificate(ChemistryResult result) => result.Method?.Contains("certificate", StringComparison.OrdinalIgnoreCase) == true;

    private static bool Apart(ChemistryResult stated, ChemistryResult own)
    {
        if (own.ExpandedUncertainty is not { } u || stated.Typed.Censoring != Censoring.None || own.Typed.Censoring != Censoring.None)
            return false;
        int point = stated.Typed.Text.IndexOf('.', StringComparison.Ordinal);
        double lastDigit = point < 0 ? 1 : Math.Pow(10, -(stated.Typed.Text.Length - point - 1));
        return Math.Abs(stated.Typed.Value - own.Typed.Value) > u + (0.5 * lastDigit);
    }

    private static string Role(Enquiry e, Heat heat) => e.ReferenceHeats.Contains(heat.Name) ? "reference" : e.CandidateHeats.Contains(heat.Name) ? "candidate" : "–";
}
