using System.CommandLine;
using System.Globalization;
using Meltwise.Casework.Explaining;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Metallurgy.Coarsening;
using Meltwise.Metallurgy.Explanation;
using Meltwise.Metallurgy.Tempering;

namespace Meltwise.Cli.Commands;

/// <summary>The options of <c>explain</c>, and what was typed into them.</summary>
internal sealed class ExplainOptions
{
    private readonly Option<string?> _reference = new("--reference-steel") { Description = "Composition of the reference in mass percent; a value may carry its standard uncertainty: \"C 1.50±0.02, Cr 12.0\". With oxygen (O 0.004) its oxides are assessed." };
    private readonly Option<string?> _candidate = new("--candidate-steel") { Description = "Composition of the candidate." };
    private readonly Option<string?> _at = new("--at") { Description = "Hardening temperature with C, F or K: 1020C." };
    private readonly Option<string> _quench = new("--quench-to") { Description = "Coldest temperature reached before tempering.", DefaultValueFactory = _ => "20C" };
    private readonly Option<string?> _temper = new("--temper") { Description = "Tempers in order: 200C/2h,200C/2h." };
    private readonly Option<string?> _undissolved = new("--undissolved") { Description = "Short soak: share of what should dissolve from the annealed state that has not, such as 20% (none when not given: the soak reaches equilibrium)." };
    private readonly Option<double?> _observed = new("--observed-hrc") { Description = "Observed hardness difference, candidate less reference, HRC." };
    private readonly Option<double> _observedU = new("--observed-u") { Description = "Standard uncertainty of the observed difference, HRC.", DefaultValueFactory = _ => 0 };
    private readonly Option<string?> _referenceHistory = new("--reference-history") { Description = "Hot history of the reference, for the growth of its carbides: \"consolidation 1150C 3h; reheat 1120C 1h\"." };
    private readonly Option<string?> _candidateHistory = new("--candidate-history") { Description = "Hot history of the candidate." };
    private readonly Option<double?> _referencePowder = new("--reference-powder") { Description = "Powder sieve of the reference, µm." };
    private readonly Option<double?> _candidatePowder = new("--candidate-powder") { Description = "Powder sieve of the candidate, µm." };
    private readonly Option<int> _coupons = new("--coupons") { Description = "Coupons of each steel, for the chance that an oxide governs one.", DefaultValueFactory = _ => 12 };
    private readonly Option<int> _draws = new("--draws") { Description = "Random draws, 100 or more.", DefaultValueFactory = _ => 10_000 };
    private readonly Option<string?> _enquiry = new("--enquiry") { Description = "Explain an enquiry of a bench, from its measured chemistry and recorded hot histories." };
    private readonly Option<string?> _place = SharedOptions.Bench();
    private readonly Option<int> _seed = SharedOptions.Seed();
    private readonly Option<bool> _json = SharedOptions.Json();

    /// <summary>All of them, in the order of the help.</summary>
    public IReadOnlyList<Option> All =>
    [
        _reference, _candidate, _at, _quench, _temper, _undissolved, _observed, _observedU, _referenceHistory, _candidateHistory, _referencePowder, _candidatePowder, _coupons,
        _draws, _enquiry, _place, _seed, _json,
    ];

    /// <summary>The enquiry asked for, or null.</summary>
    public string? EnquiryName(ParseResult parsed) => parsed.GetValue(_enquiry);

    /// <summary>The bench asked for, or null for one's own.</summary>
    public string? Place(ParseResult parsed) => parsed.GetValue(_place);

    /// <summary>Whether JSON is wanted.</summary>
    public bool IsJson(ParseResult parsed) => parsed.GetValue(_json);

    /// <summary>The reference as typed.</summary>
    public (HeatChemistry Chemistry, HeatBackground Background) Reference(ParseResult parsed) =>
        Steel(parsed, "reference steel", _reference, _referenceHistory, _referencePowder);

    /// <summary>The candidate as typed.</summary>
    public (HeatChemistry Chemistry, HeatBackground Background) Candidate(ParseResult parsed) =>
        Steel(parsed, "candidate steel", _candidate, _candidateHistory, _candidatePowder);

    /// <summary>The treatment as typed.</summary>
    public HardeningTreatment Treatment(ParseResult parsed)
    {
        string at = parsed.GetValue(_at) ?? throw Fault.Usage("explain needs the hardening temperature: --at 1020C.");
        return new(TemperatureText.Read(at, "--at").Celsius, [TemperatureText.ReadQuench(parsed.GetValue(_quench)!, "--quench-to")],
            [.. (parsed.GetValue(_temper) ?? "").Split([',', ';'], StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries).Select(Temper)]);
    }

    /// <summary>The observed difference, or null.</summary>
    public ObservedHardnessDifference? Observed(ParseResult parsed)
    {
        double u = parsed.GetValue(_observedU);
        if (!(u >= 0)) throw Fault.Usage(string.Create(CultureInfo.InvariantCulture, $"--observed-u is {u}; expected 0 or more."));
        return parsed.GetValue(_observed) is { } hrc ? new(hrc, u) : null;
    }

    /// <summary>How to run.</summary>
    public ExplanationOptions Run(ParseResult parsed)
    {
        int draws = parsed.GetValue(_draws);
        if (draws is < 100 or > 10_000_000) throw Fault.Usage($"--draws is {draws}; expected 100 to 10000000: fewer are too few for an interval.");
        ExplanationOptions run = new() { Draws = draws, Seed = (ulong)parsed.GetValue(_seed) };
        return Share(parsed.GetValue(_undissolved)) is { } share ? run with { Soak = new PartialSoak(share) } : run;
    }

    private (HeatChemistry, HeatBackground) Steel(ParseResult parsed, string name, Option<string?> steel, Option<string?> history, Option<double?> powder)
    {
        string typed = parsed.GetValue(steel) ?? throw Fault.Usage("explain needs --reference-steel, --candidate-steel and --at, or --enquiry.");
        (IReadOnlyList<HotStep> steps, string? fault) = HotHistoryText.Read(parsed.GetValue(history));
        if (fault is not null) throw Fault.Usage($"{history.Name}: {fault}");
        if (parsed.GetValue(powder) is { } um && um is not (>= HotHistoryText.FinestPowderUm and <= HotHistoryText.CoarsestPowderUm))
            throw Fault.Usage(string.Create(CultureInfo.InvariantCulture, $"{powder.Name} is {um}; expected {HotHistoryText.FinestPowderUm} to {HotHistoryText.CoarsestPowderUm} µm."));
        if (parsed.GetValue(_coupons) is < 1 or > 10_000) throw Fault.Usage($"--coupons is {parsed.GetValue(_coupons)}; expected 1 to 10000.");
        HeatBackground background = new()
        {
            History = [.. steps.Select(s => new ThermalStretch(s.Kind, s.FromC, s.ToC, s.Hours))],
            PowderDiameterM = parsed.GetValue(powder) / 1e6,
            Coupons = parsed.GetValue(_coupons),
        };
        return (TypedSteel.Read(name, typed, out string wrong) ?? throw Fault.Input(wrong + "."), background);
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
        return double.TryParse(digits, NumberStyles.AllowDecimalPoint | NumberStyles.AllowTrailingWhite, CultureInfo.InvariantCulture, out double value) && value > 0 ? value * factor : null;
    }

    private static double? Share(string? text)
    {
        if (text is null) return null;
        bool percent = text.TrimEnd().EndsWith('%');
        return double.TryParse(text.TrimEnd(' ', '%'), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double value) && value / (percent ? 100 : 1) is >= 0 and <= PartialSoak.HighestShare and var share
            ? share
            : throw Fault.Usage($"--undissolved \"{text}\" is not a share; write a percentage from 0% to {100 * PartialSoak.HighestShare:0}%, or a fraction as 0.2.");
    }
}
