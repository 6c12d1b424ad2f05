using System.Globalization;
using Meltwise.Casework.Asking;
using Meltwise.Casework.Judging;
using Meltwise.Casework.Planning;
using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Web.Planner;

/// <summary>The planner's lines, read: the rule, what the bench knows, and the plan.</summary>
public sealed record TypedPlan
{
    public required Enquiry? Enquiry { get; init; }
    public required Property Property { get; init; }
    public required DecisionRule Rule { get; init; }
    public required RuleKnowledge Known { get; init; }

    /// <summary>The request of the plan itself: one number of coupons, heats and loads.</summary>
    public required PlanRequest Request { get; init; }
    public required AllocationRequest Allocation { get; init; }
    public required int Spares { get; init; }

    /// <summary>Coupons a heat that an extension keeps, treated with the first ones.</summary>
    public required int KeptForExtension { get; init; }

    /// <summary>Where flaws come from, in words.</summary>
    public IReadOnlyList<string> FlawsFrom { get; init; } = [];

    /// <summary>Where the numbers of the further primary properties come from, in words.</summary>
    public IReadOnlyList<string> FurtherFrom { get; init; } = [];

    /// <summary>All primary properties, the first one first.</summary>
    public IReadOnlyList<Property> Properties => [Property, .. (Rule.FurtherPrimaries ?? []).Select(p => PropertyTable.Find(p.Property)).OfType<Property>()];

    public int Coupons => Request.Coupons[0];
    public int Heats => Request.Heats[0];
    public int Loads => Request.Loads[0];

    /// <summary>What its number of coupons counts.</summary>
    public string CouponsOf => Request.Ladder is null ? "coupons a heat" : "coupons a level";

    /// <summary>The plan in words.</summary>
    public string Words => $"{Coupons.ToString(CultureInfo.InvariantCulture)} {(Coupons == 1 ? "coupon" : "coupons")} {(Request.Ladder is { } l ? $"a level, {l.Levels} levels" : "a heat")}, {Heats} {(Heats == 1 ? "heat" : "heats")} a side, {Loads} {(Loads == 1 ? "load" : "loads")}";

    /// <summary>Offers what the rule of the enquiry says on lines that nothing was typed on, and gives the rule.</summary>
    /// <exception cref="PlannerFaultException">A line cannot be read.</exception>
    public static (Enquiry? Enquiry, Property Property, DecisionRule Rule) RuleOf(PlannerForm form, IBench bench)
    {
        Enquiry? enquiry = form.Typed("enquiry") is { } name ? bench.FindEnquiry(name) ?? throw new PlannerFaultException($"There is no enquiry {name} on this bench.") : null;
        if (enquiry?.Rule is { } written)
        {
            form.Offer("property", written.Property);
            form.Offer("margin", MarginText.Write(written.Margin));
            form.Offer("question", written.Question.Code());
            form.Offer("estimand", written.Estimand.Code());
            form.Offer("scatter", written.Scatter.Code());
            form.Offer("slopeof", written.LadderSlope ? "ladders" : "heats");
            form.Offer("extension", written.Look is null ? "none" : "kept");
            if (form["property"] == written.Property)
            {
                TypedFurtherLines.Offer(form, written);
            }

            form.Offer("coupons", written.PlannedCouponsPerLot is { } n and >= 3 and <= 100 ? n.ToString(CultureInfo.InvariantCulture) : null);
        }

        Property property = PropertyTable.Find(form["property"]) ?? throw new PlannerFaultException($"“{form["property"]}” is not in the table of properties.");
        string text = form.Typed("margin") ?? (property.Scale == PropertyScale.Logarithmic ? "25%" : $"1 {property.StoredUnit.Name}");
        form.Offer("margin", text);
        if (!MarginText.TryRead(text, property, out Margin? margin, out string fault))
        {
            throw new PlannerFaultException($"Margin: {fault}");
        }

        DecisionRule? own = enquiry?.Rule is { } rule && rule.Property == property.Name ? rule : null;
        return (enquiry, property, (own ?? new DecisionRule { Property = property.Name, Margin = margin! }) with
        {
            FurtherPrimaries = TypedFurtherLines.Properties(form, property, own),
            Margin = margin!,
            Question = Pick<Question>(form["question"]),
            Estimand = Pick<Estimand>(form["estimand"]),
            Scatter = Pick<ScatterChoice>(form["scatter"]),
            LadderSlope = form["slopeof"] == "ladders",
            Look = form["extension"] == "none" ? null : 1,
        });
    }

    /// <summary>Reads the lines.</summary>
    /// <exception cref="PlannerFaultException">A line cannot be read.</exception>
    public static TypedPlan Read(PlannerForm form, IBench bench)
    {
        (Enquiry? enquiry, Property property, DecisionRule rule) = RuleOf(form, bench);
        RuleKnowledge all;
        PlanRequest request;
        int coupons = form.Whole("coupons", "Coupons a heat", form.Typed("ladder") is null ? 2 : 1, 100), heats = form.Whole("heats", "Heats a source", 1, 20);
        try
        {
            all = RuleKnowledge.Of(bench, rule, enquiry);
            request = RuleToPlan.Of(rule, form.Maybe("cv", "Scatter within a heat", 1e-4, 1000) ?? all.First.WithinHeatSd ?? 0.12, [coupons]);
        }
        catch (ComparisonFaultException told)
        {
            throw new PlannerFaultException(told.Message);
        }

        BenchKnowledge known = all.First;
        bool equalHardness = rule.Estimand == Estimand.EqualHardness || request.MarginIn == PlanMargin.Hardness || (rule.Estimand == Estimand.Sources && known.Trend is not null);
        request = known.Into(request with { HeatSd = 0.06, ReferenceMean = form.Maybe("mean", "Expected mean", 1e-6, 1e6) }, equalHardness ? form.Number("hardness", "Hardness difference", -20, 20) : null);
        request = Typed(form, request) with { Ladder = LadderOf(form, known) };
        if (known.WhyNoTrend is { } why && request is { Trend: null, Ladder: null } && (rule.Estimand == Estimand.EqualHardness || request.MarginIn == PlanMargin.Hardness))
        {
            throw new PlannerFaultException($"{(request.MarginIn == PlanMargin.Hardness ? "A margin in hardness" : "A comparison at equal hardness")} needs the bench's trend with hardness: {why}. Plan a temper ladder of both lots, or ask for the comparison as tested.");
        }

        (PlannedFlaws? flaws, IReadOnlyList<string> from) = FlawsOf(form);
        (IReadOnlyList<FurtherPrimary> further, IReadOnlyList<string> ofFurther) = TypedFurtherLines.Read(form, rule, all, form.Number("hardness", "Hardness difference", -20, 20));
        int loads = form.Whole("loads", "Furnace loads", 1, 20), spares = form.Whole("spares", "Spare coupons", 0, 50), kept = form["extension"] == "kept" ? coupons : 0;
        int levels = request.Ladder?.Levels ?? 1;
        int? room = form.Typed("room") is null ? null : form.Whole("room", "Coupons a load holds", 2, 500);
        return new()
        {
            Enquiry = enquiry,
            Property = property,
            Rule = rule,
            Known = all,
            FurtherFrom = ofFurther,
            Spares = spares,
            KeptForExtension = kept,
            FlawsFrom = from,
            Request = request with
            {
                Further = further,
                Heats = [heats],
                Loads = [loads],
                LoadCapacity = room,
                LotsInOwnLoads = form["apart"] == "yes",
                LoadSd = form.Number("loadsd", "Scatter between loads", 0, 1000),
                Flaws = flaws,
                Extension = form["extension"] switch { "kept" => new(), "later" => new(null, NewLoads: true), _ => null },
                CostPerCoupon = form.Number("costcoupon", "Cost of a coupon", 0, 1e9),
                CostPerHeat = form.Number("costheat", "Cost of a heat", 0, 1e9),
                CostPerLoad = form.Number("costload", "Cost of a load", 0, 1e9),
                WantedChance = form.Number("chance", "Wanted chance", 0.01, 0.99),
                WantedAt = form.Maybe("at", "Truth at which it is wanted", request.Logarithmic ? 0.01 : -1e6, request.Logarithmic ? 100 : 1e6),
                Replicates = form.Whole("replicates", "Replicates", 200, 200_000),
                Seed = form.Whole("seed", "Seed", 0, int.MaxValue),
            },
            Allocation = new()
            {
                Heats = [.. Names(form, "reference", enquiry?.ReferenceHeats, "R", heats).Select(h => new AllocatedHeat(h, false, (coupons + kept + spares) * levels)),
                    .. Names(form, "candidate", enquiry?.CandidateHeats, "C", heats).Select(h => new AllocatedHeat(h, true, (coupons + kept + spares) * levels))],
                Levels = levels,
                Loads = loads,
                Capacity = room ?? 1000,
                Seed = form.Whole("seed", "Seed", 0, int.MaxValue),
            },
        };
    }

    /// <summary>The plan to keep with an enquiry, from the row of its odds.</summary>
    public KeptPlan ToKeep(PlanRow row, IReadOnlyList<string> notes) => new()
    {
        Coupons = Coupons,
        Heats = Heats,
        Loads = Loads,
        LoadCapacity = Request.LoadCapacity,
        Spares = Spares,
        KeptForExtension = KeptForExtension,
        Seed = Request.Seed,
        Estimand = row.Estimand,
        Question = Rule.Question.Code(),
        Margin = MarginText.Write(Rule.Margin),
        Yes = row.Answers["yes"],
        YesStandardError = row.YesStandardError,
        At = row.TrueRatio,
        WithinHeatSd = Request.WithinHeatSd,
        Ladder = Request.Ladder is { } ladder ? LadderText.Write(ladder.Reference) : null,
        LadderOfCandidate = Request.Ladder is { } own ? LadderText.Write(own.Candidate) : null,
        Further = Rule.FurtherPrimaries is { Count: > 0 } others ? [.. others.Select(o => $"{o.Property} {MarginText.Write(o.Margin)}")] : null,
        Notes = notes,
    };

    /// <summary>What was typed stands before what the bench knows, and is taken as known.</summary>
    private static PlanRequest Typed(PlannerForm form, PlanRequest request)
    {
        if (form.Typed("cv") is not null)
        {
            request = request with { WithinHeatSd = form.Number("cv", "Scatter within a heat", 1e-4, 1000), WithinHeatSdDf = null, Law = request.Scatter == ScatterChoice.Lent ? request.Law : null };
        }

        if (form.Maybe("heatcv", "Scatter among heats", 0, 1000) is { } heatSd)
        {
            request = request with { HeatSd = heatSd, HeatSdDf = null };
        }

        return request with { CandidateWithinHeatSd = form.Maybe("cvcandidate", "Scatter of the candidate", 1e-4, 1000) };
    }

    private static PlannedLadder? LadderOf(PlannerForm form, BenchKnowledge known)
    {
        if (form.Typed("ladder") is not { } levels)
        {
            return null;
        }

        double slope = form.Maybe("slope", "Slope of the ladder", -10, 10) ?? known.Trend?.Slope
            ?? throw new PlannerFaultException("The bench does not know how the property goes with hardness. Type the slope of the ladder, as a change of the logarithm per HRC such as -0.09.");
        try
        {
            return LadderText.Read(levels, form.Typed("laddercandidate"), form.Number("hardness", "Hardness difference", -20, 20), slope) with
            {
                SlopeDifference = form.Number("slopediff", "Difference of the slopes", -10, 10),
                HardnessSd = form.Maybe("hardnesssd", "Scatter of hardness", 0, 20) ?? known.HardnessSd ?? PlannedLadder.UsualHardnessSd,
            };
        }
        catch (PlanFaultException told)
        {
            throw new PlannerFaultException(told.Message);
        }
    }

    private static (PlannedFlaws? Flaws, IReadOnlyList<string> From) FlawsOf(PlannerForm form)
    {
        if (form["flaws"] == "none")
        {
            return (null, []);
        }

        double share = form.Number("share", "Share kept by a flaw-governed coupon", 0.01, 0.99);
        double reference = form.Number("flawsreference", "Flaws or oxygen of the reference", 0, 1e6), candidate = form.Number("flawscandidate", "Flaws or oxygen of the candidate", 0, 1e6);
        if (form["flaws"] == "expected")
        {
            return (new(reference, candidate, share), []);
        }

        try
        {
            Func<double, FlawReckoning> reckon = form["flaws"] == "density" ? FlawReckoning.OfDensity : FlawReckoning.OfOxygen;
            (FlawReckoning r, FlawReckoning c) = (reckon(reference), reckon(candidate));
            return (new(r.Expected, c.Expected, share), [$"Reference: {r.From}", $"Candidate: {c.From}"]);
        }
        catch (PlanFaultException told)
        {
            throw new PlannerFaultException(told.Message);
        }
    }

    private static IReadOnlyList<string> Names(PlannerForm form, string side, IReadOnlyList<string>? ofEnquiry, string letter, int heats)
    {
        if (form.Typed(side) is { } typed)
        {
            return [.. typed.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries).Distinct(StringComparer.OrdinalIgnoreCase).Take(20)];
        }

        return ofEnquiry is { Count: > 0 } ? ofEnquiry : [.. Enumerable.Range(1, heats).Select(h => letter + h.ToString(CultureInfo.InvariantCulture))];
    }

    private static T Pick<T>(string code)
        where T : struct, Enum => Enum.TryParse(code.Replace("-", "", StringComparison.Ordinal), ignoreCase: true, out T value) ? value : throw new PlannerFaultException($"“{code}” is not among the choices.");
}
