using System.CommandLine;
using System.Globalization;
using Meltwise.Casework.Explaining;
using Meltwise.Cli.Terminal;
using Meltwise.Domain;
using Meltwise.Metallurgy.Equilibrium;
using Meltwise.Metallurgy.Explanation;
using Meltwise.Metallurgy.Tempering;
using Meltwise.Storage;

namespace Meltwise.Cli.Commands;

/// <summary><c>explain</c>: how much chemistry explains of the hardness difference of two heats.</summary>
internal static class ExplainCommand
{
    public static Command Create()
    {
        Option<string?> reference = new("--reference-steel") { Description = "Composition of the reference in mass percent; a value may carry its standard uncertainty: \"C 1.50±0.02, Cr 12.0\"." };
        Option<string?> candidate = new("--candidate-steel") { Description = "Composition of the candidate." };
        Option<string?> at = new("--at") { Description = "Hardening temperature with C, F or K: 1020C." };
        Option<string> quench = new("--quench-to") { Description = "Coldest temperature reached before tempering.", DefaultValueFactory = _ => "20C" };
        Option<string?> temper = new("--temper") { Description = "Tempers in order: 200C/2h,200C/2h." };
        Option<double?> observed = new("--observed-hrc") { Description = "Observed hardness difference, candidate less reference, HRC." };
        Option<double> observedU = new("--observed-u") { Description = "Standard uncertainty of the observed difference, HRC.", DefaultValueFactory = _ => 0 };
        Option<int> draws = new("--draws") { Description = "Random draws, 100 or more.", DefaultValueFactory = _ => 10_000 };
        Option<string?> enquiry = new("--enquiry") { Description = "Explain an enquiry of a bench, from its measured chemistry." };
        Option<string?> place = SharedOptions.Bench();
        Option<int> seed = SharedOptions.Seed();
        Option<bool> json = SharedOptions.Json();
        Command command = new("explain", "How much chemistry explains of the hardness difference of two heats.") { reference, candidate, at, quench, temper, observed, observedU, draws, enquiry, place, seed, json };
        command.SetAction((parsed, cancel) =>
        {
            if (parsed.GetValue(draws) < 100) throw Fault.Usage($"--draws {parsed.GetValue(draws)} is too few for an interval; take 100 or more.");
            try
            {
                ExplanationDocument document = parsed.GetValue(enquiry) is { } name
                    ? OfEnquiry(name, parsed.GetValue(place), parsed.GetValue(draws), parsed.GetValue(seed), cancel)
                    : OfSteels(parsed.GetValue(reference), parsed.GetValue(candidate), Treatment(parsed.GetValue(at), parsed.GetValue(quench)!, parsed.GetValue(temper)),
                        parsed.GetValue(observed) is { } hrc ? new(hrc, parsed.GetValue(observedU)) : null, new ExplanationOptions { Draws = parsed.GetValue(draws), Seed = (ulong)parsed.GetValue(seed) }, cancel);
                if (parsed.GetValue(json)) Console.Out.WriteLine(ExplanationJson.Write(document));
                else Describe(new Paper(), document);
                return Task.FromResult(ExitStatus.Done);
            }
            catch (Exception refused) when (refused is ExplanationRefusedException or EquilibriumRefusedException or ChainRefusedException)
            {
                throw Fault.Refused(refused.Message);
            }
        });
        return command;
    }

    private static ExplanationDocument OfEnquiry(string name, string? place, int draws, int seed, CancellationToken cancel)
    {
        using Bench bench = BenchAccess.Open(place);
        Enquiry enquiry = bench.FindEnquiry(name) ?? throw Fault.Input($"There is no enquiry {name} on {bench.Card.Place}. It holds {string.Join(", ", bench.Enquiries().Select(e => e.Name).DefaultIfEmpty("none"))}.");
        ExplanationDocument document = ProgressLine.Run("drawing both heats", report => EnquiryExplanation.Explain(bench, enquiry, draws, (ulong)seed, new Progress<double>(report), cancel));
        bench.Commit(Environment.UserName, null, [EnquiryExplanation.Store(enquiry, document, DateTime.UtcNow)]);
        return document;
    }

    private static ExplanationDocument OfSteels(string? reference, string? candidate, HardeningTreatment treatment, ObservedHardnessDifference? observed, ExplanationOptions options, CancellationToken cancel)
    {
        if (reference is null || candidate is null) throw Fault.Usage("explain needs --reference-steel, --candidate-steel and --at, or --enquiry.");
        HeatChemistry first = Steel("reference", reference), second = Steel("candidate", candidate);
        try
        {
            return ExplanationDocument.Of(ProgressLine.Run("drawing both steels", report => Explainer.Explain(first, second, treatment, observed, options, new Progress<double>(report), cancel)));
        }
        catch (ArgumentException fault)
        {
            throw Fault.Input(fault.Message);
        }
    }

    private static HeatChemistry Steel(string name, string text) => TypedSteel.Read(name, text, out string fault) ?? throw Fault.Input(fault + ".");

    private static HardeningTreatment Treatment(string? at, string quench, string? tempers)
    {
        if (at is null) throw Fault.Usage("explain needs the hardening temperature: --at 1020C.");
        return new(TemperatureText.Read(at, "--at").Celsius, [TemperatureText.Read(quench, "--quench-to").Celsius],
            [.. (tempers ?? "").Split([',', ';'], StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries).Select(Temper)]);
    }

    private static Temper Temper(string text)
    {
        string[] parts = text.Split('/', StringSplitOptions.TrimEntries);
        return parts.Length == 2 && Hours(parts[1]) is { } hours
            ? new(TemperatureText.Read(parts[0], "--temper").Celsius, hours)
            : throw Fault.Usage($"--temper \"{text}\" is not a temper; write temperature and time, as in 200C/2h or 540C/90min.");
    }

    private static double? Hours(string text)
    {
        (string digits, double factor) = text.EndsWith("min", StringComparison.OrdinalIgnoreCase) ? (text[..^3], 1 / 60.0) : text.EndsWith('h') ? (text[..^1], 1) : ("", 0);
        return double.TryParse(digits, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double value) && value > 0 ? value * factor : null;
    }

    private static void Describe(Paper paper, ExplanationDocument document)
    {
        paper.Title(document.Text);
        paper.Text($"{document.Candidate.Heat} less {document.Reference.Heat}; {document.Treatment}. Strength: {document.Strength}.");
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
            paper.Text(string.Create(CultureInfo.InvariantCulture, $"Share of the observed {document.Observed!.Hrc:0.0;−0.0} HRC explained: {share.Estimate:P0} ({share.Lower:P0} to {share.Upper:P0})."));
        if (document.Oxygen is { } oxygen)
        {
            paper.Section("Oxygen");
            foreach (HeatOxygen heat in new[] { oxygen.Reference, oxygen.Candidate })
                paper.Text(string.Create(CultureInfo.InvariantCulture, $"{heat.Heat}: {heat.Ppm:0} ppm, {heat.OxideVolumePercent:0.000} vol% oxide; {heat.Rank} of {heat.Peers} heats of its route, lowest first."));
            foreach (string note in oxygen.Notes) paper.Item("  ", note);
        }
        paper.Section("Method and limits");
        foreach (string note in document.Notes) paper.Item("  ", note);
        paper.Text(string.Create(CultureInfo.InvariantCulture, $"{document.Draws} draws, seed {document.Seed}. Sources:"));
        foreach (string source in document.Sources) paper.Item("− ", source);
    }

    private static IReadOnlyList<string> Row(string label, ExplainedInterval reference, ExplainedInterval candidate, ExplainedInterval difference, string format, double factor = 1) =>
    [
        label, (factor * reference.Estimate).ToString(format, CultureInfo.InvariantCulture), (factor * candidate.Estimate).ToString(format, CultureInfo.InvariantCulture),
        Signed(factor * difference.Estimate, format), $"{Signed(factor * difference.Lower, format)} to {Signed(factor * difference.Upper, format)}",
    ];

    private static string Signed(double value, string format) => value.ToString("+" + format + ";−" + format + ";" + format, CultureInfo.InvariantCulture);
}
