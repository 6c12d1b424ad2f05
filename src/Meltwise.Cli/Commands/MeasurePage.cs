using System.Globalization;
using Meltwise.Casework.Judging;
using Meltwise.Cli.Terminal;
using Meltwise.Imaging;
using Meltwise.Imaging.Stereology;

namespace Meltwise.Cli.Commands;

/// <summary><c>measure</c> for people.</summary>
internal static class MeasurePage
{
    private const string Caution = "Etchants are poisonous and corrosive, and grinding makes dust: follow the safety data sheets, local rules and licensed practice.";

    public static void Write(Paper paper, MeasurementResult result)
    {
        paper.Title(result.Images.Count == 1 ? "Particles of one picture" : string.Create(CultureInfo.InvariantCulture, $"Particles of {result.Images.Count} pictures"));
        Pictures(paper, result.Images);
        if (result.Images.Count > 1)
            paper.Text(string.Create(CultureInfo.InvariantCulture, $"Pooled over {result.Pooled.Fields} fields: area fraction {100 * result.Pooled.AreaFraction.Estimate:0.00} % ({100 * result.Pooled.AreaFraction.Lower:0.00} to {100 * result.Pooled.AreaFraction.Upper:0.00})."));
        if (result.Pooled.Mounts is { } m)
            paper.Text(string.Create(CultureInfo.InvariantCulture, $"{m.Mounts} mounts: standard deviation {100 * m.BetweenMounts:0.00} % of area from mount to mount, {100 * m.BetweenFields:0.00} % from field to field within a mount."));
        Notes(paper, result.Images.Select(i => $"Scale of {Path.GetFileName(i.File)}: {i.Scale.Source}."), result.Notes.Concat(Named(result.Images)));
    }

    public static void Write(Paper paper, ComparedPictures compared, IReadOnlyList<JudgedQuantity> judged, (double Low, double High) margin)
    {
        paper.Title(string.Create(CultureInfo.InvariantCulture, $"Pictures of two heats: {compared.Reference.Images.Count} fields of the reference, {compared.Candidate.Images.Count} of the candidate"));
        paper.Table(["quantity", "ratio", "90 %", "95 %", "outcome"], judged.Select(q => (IReadOnlyList<string>)
            [q.Name, Ratio(q.Ratio), Range(q.Narrow), Range(q.Wide), q.Reason is { } reason ? $"no verdict: {reason}" : q.Outcome.Code()]), 1, 2, 3);
        paper.Text(string.Create(CultureInfo.InvariantCulture, $"Ratios are candidate over reference, the margin {margin.Low:0.00##} to {margin.High:0.00##}. Sample: {judged[0].Basis}."));
        paper.Section("Reference");
        Heat(paper, compared.Reference);
        paper.Section("Candidate");
        Heat(paper, compared.Candidate);
        Notes(paper, [], compared.Notes.Concat(Named([.. compared.Reference.Images, .. compared.Candidate.Images])));
    }

    private static void Heat(Paper paper, PictureFields fields)
    {
        Pictures(paper, fields.Images);
        paper.Text($"Median field: {Path.GetFileName(fields.Images[fields.MedianField].File)}. Largest particle in: {Path.GetFileName(fields.Images[fields.WorstField].File)}.");
    }

    private static void Pictures(Paper paper, IReadOnlyList<PictureResult> images)
    {
        bool micrometres = images.All(i => i.DiameterUm is not null);
        string unit = micrometres ? "µm" : "px";
        paper.Table(["picture", "area %", "±1 step", "count", "inside", $"median {unit}", $"95 % {unit}", $"largest {unit}", "per mm²"],
            images.Select(i =>
            {
                SizeSummary? size = micrometres ? i.DiameterUm : i.DiameterPx;
                return (IReadOnlyList<string>)
                [
                    Path.GetFileName(i.File), Number(100 * i.AreaFraction.Estimate), $"{Number(100 * i.ThresholdBand.Lower)}–{Number(100 * i.ThresholdBand.Upper)}", i.Count.ToString(CultureInfo.InvariantCulture), i.CountInside.ToString(CultureInfo.InvariantCulture),
                    Number(size?.Median), Number(size?.P95), Number(size?.Largest), i.PerAreaMm2 is { } n ? n.ToString("0", CultureInfo.InvariantCulture) : "unknown",
                ];
            }), 1, 2, 3, 4, 5, 6, 7, 8);
    }

    /// <summary>Notes of the pictures, with the pictures named where a note is not of all.</summary>
    private static IEnumerable<string> Named(IReadOnlyList<PictureResult> images) => images.SelectMany(i => i.Notes.Select(n => (Note: n, Name: Path.GetFileName(i.File)))).GroupBy(p => p.Note)
        .Select(g => g.Count() == images.Count ? g.Key : $"{string.Join(", ", g.Select(p => p.Name))}: {g.Key}");

    private static void Notes(Paper paper, IEnumerable<string> scales, IEnumerable<string> notes)
    {
        paper.Section("Method and limits");
        paper.Item("  ", "±1 step: area fraction with the threshold one grey-level step of 256 up and down.");
        foreach (string note in scales.Concat(notes).Distinct()) paper.Item("  ", note);
        paper.Item("  ", Caution);
    }

    private static string Number(double? value) => value is { } v ? v.ToString("0.00", CultureInfo.InvariantCulture) : "unknown";

    private static string Ratio(double? value) => value is { } v ? v.ToString("0.000", CultureInfo.InvariantCulture) : "none";

    private static string Range((double Lower, double Upper)? range) => range is { } r ? string.Create(CultureInfo.InvariantCulture, $"{r.Lower:0.000} to {r.Upper:0.000}") : "none";
}
