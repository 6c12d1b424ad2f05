using System.CommandLine;
using System.Globalization;
using Meltwise.Casework.Asking;
using Meltwise.Casework.Planning;
using Meltwise.Domain;

namespace Meltwise.Cli.Commands;

/// <summary>The options of <c>plan</c>.</summary>
internal sealed class PlanOptions
{
    private readonly Option<string> _margin = new("--margin") { Description = "Margin as a ratio: 0.80..1.25 or 15%.", DefaultValueFactory = _ => "0.80..1.25" };
    private readonly Option<double> _cv = new("--cv") { Description = "Standard deviation of ln(property) within a heat.", DefaultValueFactory = _ => 0.12 };
    private readonly Option<string> _coupons = new("--coupons") { Description = "Coupons in each heat: 6, or 3..15.", DefaultValueFactory = _ => "3..15" };
    private readonly Option<string> _heats = new("--heats") { Description = "Heats of each source: 1 judges the lots as tested, more the sources.", DefaultValueFactory = _ => "1" };
    private readonly Option<double> _heatCv = new("--heat-cv") { Description = "Standard deviation of ln(property) between heats.", DefaultValueFactory = _ => 0.06 };
    private readonly Option<string> _truths = new("--true-ratio") { Description = "True ratio or ratios: 1.0 or 0.9,1.0.", DefaultValueFactory = _ => "1.0" };
    private readonly Option<double> _alpha = new("--alpha") { Description = "Error rate of each claim.", DefaultValueFactory = _ => 0.05 };
    private readonly Option<int> _replicates = new("--replicates") { Description = "Simulated experiments for each line.", DefaultValueFactory = _ => 20_000 };
    private readonly Option<int> _seed = SharedOptions.Seed();
    private readonly Option<double> _chance = new("--chance") { Description = "Chance of agreement wanted.", DefaultValueFactory = _ => 0.8 };
    private readonly Option<double> _couponCost = new("--cost-per-coupon") { Description = "Cost of a coupon.", DefaultValueFactory = _ => 1 };
    private readonly Option<double> _heatCost = new("--cost-per-heat") { Description = "Cost of a heat.", DefaultValueFactory = _ => 0 };
    private readonly Option<bool> _allocate = new("--allocate") { Description = "Deal coupons to furnace loads, positions and orders under blind codes; writes bench sheet, labels and the sealed key." };
    private readonly Option<int> _loads = new("--loads") { Description = "Furnace loads.", DefaultValueFactory = _ => 2 };
    private readonly Option<int> _capacity = new("--capacity") { Description = "Coupons that fit into a load.", DefaultValueFactory = _ => 12 };
    private readonly Option<string> _reference = new("--reference") { Description = "Reference heat or heats, for the allocation.", DefaultValueFactory = _ => "reference" };
    private readonly Option<string> _candidate = new("--candidate") { Description = "Candidate heat or heats, for the allocation.", DefaultValueFactory = _ => "candidate" };
    private readonly Option<string> _enquiry = new("--enquiry") { Description = "Name printed on sheet and labels.", DefaultValueFactory = _ => "plan" };
    private readonly Option<DirectoryInfo> _out = new("--out", "-o") { Description = "Folder for sheet, labels and key.", DefaultValueFactory = _ => new("allocation") };

    public IEnumerable<Option> All =>
        [_margin, _cv, _coupons, _heats, _heatCv, _truths, _alpha, _replicates, _seed, _chance, _couponCost, _heatCost, _allocate, _loads, _capacity, _reference, _candidate, _enquiry, _out];

    public bool IsAllocation(ParseResult parsed) => parsed.GetValue(_allocate);

    public PlanRequest Read(ParseResult parsed)
    {
        if (!MarginText.TryRead(parsed.GetValue(_margin)!, PropertyTable.ImpactEnergy, out Margin? margin, out string fault)) throw Fault.Usage($"--margin: {fault}");
        if (margin is not Margin.Ratio ratio) throw Fault.Usage("--margin: a plan works on ratios; write 0.80..1.25 or 15%.");
        return new PlanRequest
        {
            MarginLow = ratio.Low,
            MarginHigh = ratio.High,
            WithinHeatSd = parsed.GetValue(_cv),
            HeatSd = parsed.GetValue(_heatCv),
            Coupons = Whole(parsed.GetValue(_coupons)!, "--coupons"),
            Heats = Whole(parsed.GetValue(_heats)!, "--heats"),
            Truths = Ratios(parsed.GetValue(_truths)!),
            Alpha = parsed.GetValue(_alpha),
            Replicates = parsed.GetValue(_replicates),
            Seed = parsed.GetValue(_seed),
            WantedChance = parsed.GetValue(_chance),
            CostPerCoupon = parsed.GetValue(_couponCost),
            CostPerHeat = parsed.GetValue(_heatCost),
        };
    }

    public (AllocationRequest Request, string Enquiry, string Folder) ReadAllocation(ParseResult parsed)
    {
        IReadOnlyList<int> coupons = parsed.GetResult(_coupons) is { Implicit: false } ? Whole(parsed.GetValue(_coupons)!, "--coupons") : [6];
        if (coupons is not [var each]) throw Fault.Usage("--coupons: an allocation needs one number of coupons for each heat.");
        AllocatedHeat[] heats = [.. Names(parsed.GetValue(_reference)!).Select(h => new AllocatedHeat(h, false, each)), .. Names(parsed.GetValue(_candidate)!).Select(h => new AllocatedHeat(h, true, each))];
        return (new() { Heats = heats, Loads = parsed.GetValue(_loads), Capacity = parsed.GetValue(_capacity), Seed = parsed.GetValue(_seed) }, parsed.GetValue(_enquiry)!, parsed.GetValue(_out)!.FullName);
    }

    private static IReadOnlyList<string> Names(string text) => text.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);

    private static IReadOnlyList<int> Whole(string text, string option)
    {
        string[] ends = text.Split("..", StringSplitOptions.TrimEntries);
        if (ends.Length <= 2 && int.TryParse(ends[0], NumberStyles.None, CultureInfo.InvariantCulture, out int first)
            && int.TryParse(ends[^1], NumberStyles.None, CultureInfo.InvariantCulture, out int last) && first >= 1 && first <= last && last <= 1000)
            return [.. Enumerable.Range(first, last - first + 1)];
        throw Fault.Usage($"{option} \"{text}\" is neither a whole number from 1 nor a range such as 3..15.");
    }

    private static IReadOnlyList<double> Ratios(string text)
    {
        List<double> ratios = [];
        foreach (string part in text.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
            ratios.Add(double.TryParse(part, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double ratio) && ratio > 0 ? ratio : throw Fault.Usage($"--true-ratio \"{part}\" is not a ratio above 0."));
        return ratios.Count > 0 ? ratios : throw Fault.Usage("--true-ratio needs a number, as in 0.95.");
    }
}
