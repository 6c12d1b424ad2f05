using System.CommandLine;
using System.Globalization;
using Meltwise.Casework.Asking;
using Meltwise.Casework.Planning;
using Meltwise.Domain;
using Meltwise.Storage;

namespace Meltwise.Cli.Commands;

/// <summary>The options of <c>plan</c>.</summary>
internal sealed class PlanOptions
{
    private readonly PlanRuleOptions _rule = new();
    private readonly PlanFurtherOptions _further = new();
    private readonly Option<string?> _bench = SharedOptions.Bench();
    private readonly Option<string?> _enquiry = new("--enquiry") { Description = "Enquiry of the bench whose rule and history are planned for; with --allocate and no --bench, the name printed on sheet and labels." };
    private readonly Option<FileInfo?> _history = new("--history") { Description = "Table of everything tested before: scatter, its law, trend and heat-to-heat scatter are taken from it." };
    private readonly Option<double> _cv = new("--cv") { Description = "Standard deviation of ln(property) within a heat (of the property itself on a linear scale).", DefaultValueFactory = _ => 0.12 };
    private readonly Option<double?> _candidateCv = new("--candidate-cv") { Description = "The candidate's, where it is expected to scatter otherwise." };
    private readonly Option<double> _heatCv = new("--heat-cv") { Description = "Standard deviation of ln(property) between heats.", DefaultValueFactory = _ => 0.06 };
    private readonly Option<double> _loadCv = new("--load-cv") { Description = "Standard deviation of ln(property) between furnace loads.", DefaultValueFactory = _ => 0 };
    private readonly Option<double?> _mean = new("--mean") { Description = "Mean expected of the reference, for a margin in the unit of the property." };
    private readonly PlanHardnessOptions _hardness = new();
    private readonly Option<string> _coupons = new("--coupons") { Description = "Coupons in each heat, or at each level of a ladder: 6, 4,6,9 or 3..15.", DefaultValueFactory = _ => "3..15" };
    private readonly Option<string> _heats = new("--heats") { Description = "Heats of each source: 1 judges the lots, more the sources.", DefaultValueFactory = _ => "1" };
    private readonly Option<string?> _loads = new("--loads") { Description = "Furnace loads, both lots in each: 2, or 1..3." };
    private readonly Option<int?> _capacity = new("--capacity") { Description = "Coupons that fit into a load." };
    private readonly Option<bool> _apart = new("--each-lot-its-own-load") { Description = "Each lot goes into loads of its own: such a plan is refused, with the reason." };
    private readonly Option<string?> _truths = new("--true-ratio") { Description = "True ratio or ratios (difference or differences on a linear scale): 1.0 or 0.9,1.0." };
    private readonly Option<int> _replicates = new("--replicates") { Description = "Simulated enquiries for each line.", DefaultValueFactory = _ => 20_000 };
    private readonly Option<int> _seed = SharedOptions.Seed();
    private readonly Option<double> _chance = new("--chance") { Description = "Chance of the answer yes that is wanted.", DefaultValueFactory = _ => 0.8 };
    private readonly Option<double?> _at = new("--at") { Description = "True ratio (difference) at which it is wanted; without it no difference, or for the question better twice the margin." };
    private readonly Option<double> _couponCost = new("--cost-per-coupon") { Description = "Cost of a coupon.", DefaultValueFactory = _ => 1 };
    private readonly Option<double> _heatCost = new("--cost-per-heat") { Description = "Cost of a heat.", DefaultValueFactory = _ => 0 };
    private readonly Option<double> _loadCost = new("--cost-per-load") { Description = "Cost of a furnace load.", DefaultValueFactory = _ => 0 };
    private readonly Option<string?> _extension = new("--extension") { Description = "One planned extension, each look at half the error rate: same for as many coupons again, or a number of coupons a heat." };
    private readonly Option<bool> _newLoads = new("--extension-in-new-loads") { Description = "The extension is treated later in loads of its own; otherwise its coupons were treated with the first ones and kept." };
    private readonly Option<string?> _flaws = new("--flaws") { Description = "Flaws above the critical size expected in a coupon, reference and candidate: 0.05,0.02." };
    private readonly Option<string?> _oxygen = new("--oxygen") { Description = "The same reckoned from total oxygen in ppm, reference and candidate: 70,45." };
    private readonly Option<double> _share = new("--flaw-share") { Description = "Share of the sound value that a flaw-governed coupon keeps.", DefaultValueFactory = _ => 0.5 };
    private readonly Option<bool> _allocate = new("--allocate") { Description = "Deal coupons to furnace loads, positions and orders under blind codes; writes bench sheet, labels and the sealed key." };
    private readonly Option<string> _reference = new("--reference") { Description = "Reference heat or heats, for the allocation.", DefaultValueFactory = _ => "reference" };
    private readonly Option<string> _candidate = new("--candidate") { Description = "Candidate heat or heats, for the allocation.", DefaultValueFactory = _ => "candidate" };
    private readonly Option<DirectoryInfo> _out = new("--out", "-o") { Description = "Folder for sheet, labels and key.", DefaultValueFactory = _ => new("allocation") };

    public IEnumerable<Option> All =>
    [
        .. _rule.All, .. _further.All, _bench, _enquiry, _history, _cv, _candidateCv, _heatCv, _loadCv, _mean, .. _hardness.All, _coupons, _heats, _loads, _capacity, _apart, _truths, _replicates, _seed, _chance, _at,
        _couponCost, _heatCost, _loadCost, _extension, _newLoads, _flaws, _oxygen, _share, _allocate, _reference, _candidate, _out,
    ];

    public bool IsAllocation(ParseResult parsed) => parsed.GetValue(_allocate);

    /// <summary>The request, and where its numbers come from.</summary>
    public (PlanRequest Request, BenchKnowledge? Known, IReadOnlyList<string> From) Read(ParseResult parsed, bool json)
    {
        (DecisionRule rule, RuleKnowledge? history) = RuleAndKnowledge(parsed, json);
        BenchKnowledge? known = history?.First;
        if (_hardness.IsLadder(parsed) && parsed.GetValue(_enquiry) is null && !_rule.NamesEstimand(parsed)) rule = rule with { Estimand = Estimand.EqualHardness };
        PlanRequest request = RuleToPlan.Of(rule, parsed.GetValue(_cv), Whole(!IsTyped(parsed, _coupons) && _hardness.IsLadder(parsed) ? "1..8" : parsed.GetValue(_coupons)!, "--coupons"));
        request = request with { Heats = Whole(parsed.GetValue(_heats)!, "--heats"), HeatSd = parsed.GetValue(_heatCv), ReferenceMean = parsed.GetValue(_mean), Trend = _hardness.Trend(parsed, known), Ladder = _hardness.Ladder(parsed, known) };
        bool equalHardness = rule.Estimand == Estimand.EqualHardness || request.MarginIn == PlanMargin.Hardness;
        if (known is not null) request = Typed(parsed, known.Into(request, request.Trend is null && equalHardness ? _hardness.Difference(parsed) : null), request);
        if (equalHardness && request is { Trend: null, Ladder: null } && known?.WhyNoTrend is { } why) throw Fault.Refused($"no-history: there is no trend with hardness to plan with: {why}.");
        (PlannedFlaws? flaws, IReadOnlyList<string> from) = Flaws(parsed);
        (IReadOnlyList<FurtherPrimary> further, IReadOnlyList<string> ofFurther) = _further.Read(parsed, rule, history ?? RuleKnowledge.Nothing(rule), _hardness.Difference(parsed));
        return (request with
        {
            Further = further,
            CandidateWithinHeatSd = parsed.GetValue(_candidateCv),
            LoadSd = parsed.GetValue(_loadCv),
            Loads = parsed.GetValue(_loads) is { } loads ? Whole(loads, "--loads") : [1],
            LoadCapacity = parsed.GetValue(_capacity),
            LotsInOwnLoads = parsed.GetValue(_apart),
            Truths = parsed.GetValue(_truths) is { } truths ? Numbers(truths, "--true-ratio") : request.Truths,
            Replicates = parsed.GetValue(_replicates),
            Seed = parsed.GetValue(_seed),
            WantedChance = parsed.GetValue(_chance),
            WantedAt = parsed.GetValue(_at),
            CostPerCoupon = parsed.GetValue(_couponCost),
            CostPerHeat = parsed.GetValue(_heatCost),
            CostPerLoad = parsed.GetValue(_loadCost),
            Extension = Extension(parsed) ?? request.Extension,
            Flaws = flaws,
        }, known, [.. ofFurther, .. from]);
    }

    public (AllocationRequest Request, string Enquiry, IReadOnlyList<Property> Properties, string Folder) ReadAllocation(ParseResult parsed)
    {
        IReadOnlyList<int> coupons = parsed.GetResult(_coupons) is { Implicit: false } ? Whole(parsed.GetValue(_coupons)!, "--coupons") : [6];
        if (coupons is not [var each]) throw Fault.Usage("--coupons: an allocation needs one number of coupons for each heat.");
        IReadOnlyList<int> loads = parsed.GetValue(_loads) is { } text ? Whole(text, "--loads") : [2];
        if (loads is not [var furnace]) throw Fault.Usage("--loads: an allocation needs one number of furnace loads.");
        (IReadOnlyList<string> reference, IReadOnlyList<string> candidate) = (Names(parsed.GetValue(_reference)!), Names(parsed.GetValue(_candidate)!));
        string name = parsed.GetValue(_enquiry) ?? "plan";
        DecisionRule? rule = null;
        if (parsed.GetValue(_bench) is { } place && parsed.GetValue(_enquiry) is { } asked)
        {
            using Bench bench = BenchAccess.Open(place);
            Enquiry enquiry = EnquiryAccess.Find(bench, asked);
            (reference, candidate, rule) = (enquiry.ReferenceHeats, enquiry.CandidateHeats, enquiry.Rule);
        }
        rule ??= _further.Over(parsed, _rule.Read(parsed), isWritten: false);
        Property[] properties = [.. rule.OtherProperties().Select(o => o.Property.Property).Prepend(rule.Property).Select(PropertyTable.Find).OfType<Property>()];
        int levels = _hardness.Levels(parsed);
        AllocatedHeat[] heats = [.. reference.Select(h => new AllocatedHeat(h, false, each * levels)), .. candidate.Select(h => new AllocatedHeat(h, true, each * levels))];
        return (new() { Heats = heats, Loads = furnace, Capacity = parsed.GetValue(_capacity) ?? (levels > 1 ? 500 : 12), Levels = levels, Seed = parsed.GetValue(_seed) }, name, properties.Length > 0 ? properties : [PropertyTable.ImpactEnergy], parsed.GetValue(_out)!.FullName);
    }

    private (DecisionRule Rule, RuleKnowledge? Known) RuleAndKnowledge(ParseResult parsed, bool json)
    {
        if (parsed.GetValue(_enquiry) is { } name)
        {
            using Bench bench = BenchAccess.Open(parsed.GetValue(_bench));
            Enquiry enquiry = EnquiryAccess.Find(bench, name);
            DecisionRule rule = _further.Over(parsed, enquiry.Rule is { } written ? _rule.Over(parsed, written) : _rule.Read(parsed), enquiry.Rule is not null);
            return (rule, RuleKnowledge.Of(bench, rule, enquiry));
        }
        DecisionRule typed = _further.Over(parsed, _rule.Read(parsed), isWritten: false);
        if (parsed.GetValue(_history) is { } file)
        {
            CouponTable table = TableFile.Read(file, [], json);
            return (typed, RuleKnowledge.Of(table, typed));
        }
        if (parsed.GetValue(_bench) is not { } place) return (typed, null);
        using Bench known = BenchAccess.Open(place);
        return (typed, RuleKnowledge.Of(known, typed));
    }

    /// <summary>What was typed stands before what the bench knows.</summary>
    private PlanRequest Typed(ParseResult parsed, PlanRequest known, PlanRequest typed)
    {
        if (IsTyped(parsed, _cv)) known = known with { WithinHeatSd = typed.WithinHeatSd, WithinHeatSdDf = null, Law = typed.Scatter == ScatterChoice.Lent ? known.Law : null };
        if (IsTyped(parsed, _heatCv)) known = known with { HeatSd = typed.HeatSd, HeatSdDf = null };
        return known;
    }

    private PlannedExtension? Extension(ParseResult parsed) => parsed.GetValue(_extension) switch
    {
        null => null,
        "same" => new(null, parsed.GetValue(_newLoads)),
        { } text when int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int more) && more > 0 => new(more, parsed.GetValue(_newLoads)),
        { } text => throw Fault.Usage($"--extension \"{text}\" is neither same nor a number of coupons."),
    };

    private (PlannedFlaws? Flaws, IReadOnlyList<string> From) Flaws(ParseResult parsed)
    {
        double share = parsed.GetValue(_share);
        if (parsed.GetValue(_flaws) is { } typed) return (new(Pair(typed, "--flaws")[0], Pair(typed, "--flaws")[1], share), []);
        if (parsed.GetValue(_oxygen) is not { } oxygen) return (null, []);
        FlawReckoning[] both = [.. Pair(oxygen, "--oxygen").Select(FlawReckoning.OfOxygen)];
        return (new(both[0].Expected, both[1].Expected, share), [$"Reference: {both[0].From}", $"Candidate: {both[1].From}"]);
    }

    private static bool IsTyped(ParseResult parsed, Option option) => parsed.GetResult(option) is { Implicit: false };

    private static IReadOnlyList<double> Pair(string text, string option) =>
        Numbers(text, option) is [var reference, var candidate] && reference >= 0 && candidate >= 0 ? [reference, candidate] : throw Fault.Usage($"{option} \"{text}\": two numbers from 0 are needed, reference and candidate, as in 0.05,0.02.");

    private static IReadOnlyList<string> Names(string text) => text.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);

    private static IReadOnlyList<int> Whole(string text, string option)
    {
        List<int> numbers = [];
        foreach (string part in Names(text))
        {
            string[] ends = part.Split("..", StringSplitOptions.TrimEntries);
            if (ends.Length > 2 || !int.TryParse(ends[0], NumberStyles.None, CultureInfo.InvariantCulture, out int first)
                || !int.TryParse(ends[^1], NumberStyles.None, CultureInfo.InvariantCulture, out int last) || first < 1 || first > last || last > 1000)
                throw Fault.Usage($"{option} \"{text}\" is neither a whole number from 1, nor a list such as 4,6,9, nor a range such as 3..15.");
            numbers.AddRange(Enumerable.Range(first, last - first + 1));
        }
        return numbers.Count > 0 ? [.. numbers.Distinct()] : throw Fault.Usage($"{option} needs a number.");
    }

    private static IReadOnlyList<double> Numbers(string text, string option)
    {
        double[] numbers = [.. Names(text).Select(p => Number(p, out double value) ? value : throw Fault.Usage($"{option} \"{p}\" is not a number."))];
        return numbers.Length > 0 ? numbers : throw Fault.Usage($"{option} needs a number, as in 0.95.");
    }

    private static bool Number(string text, out double value) => double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out value) && double.IsFinite(value);
}
