using System.CommandLine;
using System.Globalization;
using Meltwise.Cli.Terminal;
using Meltwise.Domain;
using Meltwise.Metallurgy.Equilibrium;
using Meltwise.Metallurgy.Explanation;
using Meltwise.Metallurgy.Transformation;

namespace Meltwise.Cli.Commands;

/// <summary><c>equilibrium</c>: phases and compositions of a steel at a temperature, or over a sweep.</summary>
internal static class EquilibriumCommand
{
    private const double RoomTemperatureC = 20;

    public static Command Create()
    {
        Option<string> steel = new("--steel") { Description = "Composition in mass percent, balance iron: \"C 1.5, Cr 12, Mo 0.8, V 0.9\".", Required = true };
        Option<string?> at = new("--at") { Description = "Temperature with C, F or K: 1020C." };
        Option<string?> from = new("--from") { Description = "First temperature of a sweep." };
        Option<string?> to = new("--to") { Description = "Last temperature of a sweep." };
        Option<double> step = new("--step") { Description = "Step of a sweep in °C.", DefaultValueFactory = _ => 10 };
        Option<string?> quench = new("--quench-to") { Description = "Coldest temperature reached before tempering, for retained austenite (20C when not given)." };
        Option<bool> transitions = new("--transitions") { Description = "Also A1, A3, Acm and the solvus of each carbide at equilibrium." };
        Option<bool> sources = new("--sources") { Description = "Also every parameter with its citation; --json always has them." };
        Option<bool> json = SharedOptions.Json();
        Command command = new("equilibrium", "Phases and their compositions at a hardening temperature, or over a sweep of temperatures.") { steel, at, from, to, step, quench, transitions, sources, json };
        command.SetAction((parsed, cancel) =>
        {
            SteelComposition composition = Read(parsed.GetValue(steel)!, "--steel");
            EquilibriumWishes wishes = new(parsed.GetValue(transitions), parsed.GetValue(sources), parsed.GetValue(json));
            double coldestC = parsed.GetValue(quench) is { } cold ? TemperatureText.ReadQuench(cold, "--quench-to") : RoomTemperatureC;
            try
            {
                return Task.FromResult((parsed.GetValue(at), parsed.GetValue(from), parsed.GetValue(to)) switch
                {
                    ({ } one, null, null) => At(composition, TemperatureText.Read(one, "--at"), coldestC, wishes, cancel),
                    (null, { } first, { } last) => Sweep(composition, TemperatureText.Read(first, "--from"), TemperatureText.Read(last, "--to"), parsed.GetValue(step), coldestC, wishes, cancel),
                    _ => throw Fault.Usage("give either --at, or --from and --to."),
                });
            }
            catch (EquilibriumRefusedException refused)
            {
                throw Fault.Refused(refused.Message);
            }
        });
        return command;
    }

    /// <summary>Reads a composition or says what is wrong with it.</summary>
    public static SteelComposition Read(string text, string option)
    {
        try
        {
            return SteelComposition.Parse(text);
        }
        catch (SteelCompositionException fault)
        {
            throw Fault.Input($"{option}: {fault.Message}");
        }
    }

    private static int At(SteelComposition steel, Temperature temperature, double coldestC, EquilibriumWishes wishes, CancellationToken cancel)
    {
        EquilibriumResult result = EquilibriumSolver.SolveOnce(steel, temperature.Kelvin);
        IReadOnlyList<TransitionAnswer> transitions = Transitions(steel, wishes, cancel);
        if (wishes.Json) JsonOutput.Write(Contract(result, coldestC, transitions, withSources: true));
        else Describe(new Paper(), result, coldestC, transitions, wishes);
        return ExitStatus.Done;
    }

    private static int Sweep(SteelComposition steel, Temperature from, Temperature to, double stepC, double coldestC, EquilibriumWishes wishes, CancellationToken cancel)
    {
        double span = to.Celsius - from.Celsius;
        if (!(stepC > 0) || span == 0 || Math.Abs(span) / stepC > 5000)
            throw Fault.Usage("a sweep needs two different temperatures and a --step above 0 that gives at most 5000 points.");
        EquilibriumSweep sweep = ProgressLine.Run("solving", report =>
            EquilibriumSweep.Run(steel, Math.Min(from.Kelvin, to.Kelvin), Math.Max(from.Kelvin, to.Kelvin), stepC, new Progress<double>(report), cancel));
        IReadOnlyList<TransitionAnswer> asked = Transitions(steel, wishes, cancel);
        if (wishes.Json)
        {
            JsonOutput.Write(new
            {
                steel = Elements(steel.MassPercent),
                sweep = sweep.Points.Select(r => Contract(r, coldestC, [], withSources: false)),
                transitions = sweep.Transitions,
                questions = Questions(asked),
                sources = Citations(sweep.Points[0]),
                sweep.Points[0].Method,
            });
        }
        else
        {
            DescribeSweep(new Paper(), sweep, asked, wishes);
        }
        return ExitStatus.Done;
    }

    /// <summary>The result by the names of the command contract; fractions 0 to 1, compositions in mass percent.</summary>
    private static object Contract(EquilibriumResult result, double coldestC, IReadOnlyList<TransitionAnswer> transitions, bool withSources)
    {
        (MartensiteStartResult Ms, RetainedAustenite Retained)? quenched = Quench(result, coldestC);
        return new
        {
            result.TemperatureK,
            steel = Elements(result.Steel.MassPercent),
            leftOut = result.Steel.LeftOut,
            phases = result.Phases.Select(p => new { p.Name, p.MoleFraction, p.MassFraction, p.VolumeFraction, composition = Elements(p.Composition) }),
            certificate = new
            {
                drivingForceMax = result.Certificate.DrivingForceMaxJPerMol,
                massBalanceMax = result.Certificate.MassBalanceMax,
                potentialMismatchMax = result.Certificate.PotentialMismatchMaxJPerMol,
                unit = "J/mol; mole fraction; J/mol",
            },
            martensiteStart = quenched?.Ms.Estimates.Select(e => new { formula = e.Formula.Name, e.Celsius, e.InRange, outside = e.RangeFaults, source = e.Formula.Source.ToString() }),
            retainedAustenite = quenched is { Retained: { } kept }
                ? new { estimate = kept.OfWhole, lower = kept.OfMatrixLower * kept.MatrixShare, upper = kept.OfMatrixUpper * kept.MatrixShare, unit = "volume fraction of the whole", coolingToC = kept.ColdestC, source = KoistinenMarburger.Source.ToString() }
                : null,
            errorBars = result.ErrorBars,
            warnings = result.Warnings,
            questions = Questions(transitions),
            sources = withSources ? Citations(result) : null,
            result.Method,
        };
    }

    private static IReadOnlyList<TransitionAnswer> Transitions(SteelComposition steel, EquilibriumWishes wishes, CancellationToken cancel) =>
        wishes.Transitions ? ProgressLine.Run("looking for transitions", report => PhaseTransitions.All(steel, new Progress<double>(report), cancel)) : [];

    private static object? Questions(IReadOnlyList<TransitionAnswer> transitions) =>
        transitions.Count == 0 ? null : transitions.Select(t => new { t.Question, celsius = t.TemperatureC, t.Note });

    private static IEnumerable<object> Citations(EquilibriumResult result) => ParameterCitation.Of(result.Sources).Select(c => new { c.Citation, c.Provenance, c.Parameters });

    private static (MartensiteStartResult Ms, RetainedAustenite Retained)? Quench(EquilibriumResult result, double coldestC)
    {
        if (result.Austenite is not { } austenite) return null;
        MartensiteStartResult ms = MartensiteStart.Of(EquilibriumSoak.Alloy(austenite.Composition));
        return (ms, KoistinenMarburger.After(ms, [coldestC], result.CarbideVolumeFraction));
    }

    private static Dictionary<string, double> Elements(ElementAmounts massPercent) => massPercent.ToDictionary(p => p.Key, p => p.Value, StringComparer.Ordinal);

    private static void Describe(Paper paper, EquilibriumResult result, double coldestC, IReadOnlyList<TransitionAnswer> transitions, EquilibriumWishes wishes)
    {
        paper.Title(string.Create(CultureInfo.InvariantCulture, $"{result.Steel} at {result.TemperatureC:0.#} °C ({(result.TemperatureC * 1.8) + 32:0} °F)"));
        string[] elements = [.. result.Steel.Modelled.Where(e => e != "Fe")];
        paper.Table(["phase", "vol%", "mass%", "mol%", .. elements.Select(e => e + " wt%")],
            result.Phases.Select(p => (IReadOnlyList<string>)
                [p.Name, Percent(p.VolumeFraction), Percent(p.MassFraction), Percent(p.MoleFraction), .. elements.Select(e => p.Composition[e].ToString(p.Composition[e] < 10 ? "0.00" : "0.0", CultureInfo.InvariantCulture))]),
            [.. Enumerable.Range(1, elements.Length + 3)]);
        if (Quench(result, coldestC) is { } quenched)
        {
            paper.Section("Quench");
            paper.Text(string.Create(CultureInfo.InvariantCulture, $"Martensite start {quenched.Ms.CentralC:0} ± {quenched.Ms.HalfWidthC:0} °C; retained austenite {100 * quenched.Retained.OfWhole:0} vol% ({100 * quenched.Retained.OfMatrixLower * quenched.Retained.MatrixShare:0} to {100 * quenched.Retained.OfMatrixUpper * quenched.Retained.MatrixShare:0}) after cooling to {coldestC:0} °C, before tempering."));
            paper.Table(["formula", "Ms °C", "range"], quenched.Ms.Estimates.Select(e => (IReadOnlyList<string>)
                [e.Formula.Name, e.Celsius.ToString("0", CultureInfo.InvariantCulture), e.InRange ? "inside" : "outside: " + string.Join("; ", e.RangeFaults)]), 1);
        }
        Limits(paper, result, transitions, wishes);
    }

    private static void DescribeSweep(Paper paper, EquilibriumSweep sweep, IReadOnlyList<TransitionAnswer> asked, EquilibriumWishes wishes)
    {
        IReadOnlyList<EquilibriumResult> results = sweep.Points;
        string[] phases = [.. results.SelectMany(r => r.Phases.Select(p => p.Name)).Distinct().Order(StringComparer.Ordinal)];
        paper.Title($"{results[0].Steel}: volume percent of each phase, and carbon and chromium in the austenite");
        paper.Table(["°C", .. phases, "C in γ wt%", "Cr in γ wt%"], results.Select(r => (IReadOnlyList<string>)
            [r.TemperatureC.ToString("0.#", CultureInfo.InvariantCulture), .. phases.Select(p => r.VolumeFraction(p) is var f and > 0 ? Percent(f) : ""),
             r.Austenite?.Composition["C"].ToString("0.000", CultureInfo.InvariantCulture) ?? "", r.Austenite?.Composition["Cr"].ToString("0.00", CultureInfo.InvariantCulture) ?? ""]),
            [.. Enumerable.Range(0, phases.Length + 3)]);
        foreach (PhaseTransition transition in sweep.Transitions)
            paper.Text(string.Create(CultureInfo.InvariantCulture, $"{transition.TemperatureC:0.0} °C: {transition.Phase} {(transition.AppearsOnHeating ? "appears" : "goes")} on heating."));
        Limits(paper, results[0], asked, wishes, results);
    }

    private static void Limits(Paper paper, EquilibriumResult result, IReadOnlyList<TransitionAnswer> transitions, EquilibriumWishes wishes, IReadOnlyList<EquilibriumResult>? all = null)
    {
        if (transitions.Count > 0)
        {
            paper.Section("Transitions at equilibrium; heating and cooling shift them");
            foreach (TransitionAnswer t in transitions)
                paper.Text($"{t.Question}: {(t.TemperatureC is { } c ? string.Create(CultureInfo.InvariantCulture, $"{c:0.0} °C. {t.Note}").TrimEnd() : t.Note)}");
        }
        paper.Section("Method and limits");
        paper.Text(result.Method + ".");
        paper.Text(string.Create(CultureInfo.InvariantCulture, $"Certificate: driving force at most {(all ?? [result]).Max(r => r.Certificate.DrivingForceMaxJPerMol):0.0e+0;-0.0e+0;0} J/mol, mass balance {(all ?? [result]).Max(r => r.Certificate.MassBalanceMax):0.0e+0;-0.0e+0;0}."));
        paper.Text(string.Create(CultureInfo.InvariantCulture, $"Absolute values may be off by {result.ErrorBars.CarbonMassPercent} wt% dissolved carbon, {result.ErrorBars.ChromiumMassPercent} wt% chromium, {result.ErrorBars.CarbideVolumePercent} vol% carbide; differences between two heats are firmer."));
        foreach (EquilibriumWarning warning in (all ?? [result]).SelectMany(r => r.Warnings).DistinctBy(w => w.Code)) paper.Item("! ", warning.Text);
        IReadOnlyList<ParameterCitation> citations = ParameterCitation.Of(result.Sources);
        paper.Text($"{citations.Sum(c => c.Parameters.Count)} parameters from {citations.Select(c => c.Citation).Distinct(StringComparer.Ordinal).Count()} publications{(wishes.Sources ? ":" : "; --sources lists them.")}");
        if (wishes.Sources)
            foreach (ParameterCitation c in citations) paper.Item("− ", $"{c.Citation} ({c.Provenance}): {string.Join(", ", c.Parameters)}");
        paper.Item("  ", "Furnaces, salt and quench oil can injure: follow the maker's manual, local rules and licensed practice. No hardening temperature is recommended here.");
    }

    private static string Percent(double fraction) => (100 * fraction).ToString("0.00", CultureInfo.InvariantCulture);
}

/// <summary>What is wanted of an equilibrium besides its phases.</summary>
/// <param name="Transitions">A1, A3, Acm and solvus.</param>
/// <param name="Sources">Every parameter with its citation.</param>
/// <param name="Json">As JSON.</param>
internal readonly record struct EquilibriumWishes(bool Transitions, bool Sources, bool Json);
