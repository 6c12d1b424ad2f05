using Meltwise.Casework.Planning;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Web.Tests.LongWork;
using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace Meltwise.Web.Tests.Planner;

/// <summary>A plan is worked out in the browser and kept for an enquiry, whose coupons are then made from it.</summary>
[Collection(BrowserCollection.Name)]
public sealed class PlannerBrowserTests(Browser browser)
{
    private static readonly BenchChange[] s_bench =
    [
        new BenchChange.PutHeat(new Heat("K17", null, null, null)),
        new BenchChange.PutHeat(new Heat("M03", null, null, null)),
        new BenchChange.PutEnquiry(new Enquiry
        {
            Name = "E-1",
            Title = "Are the two alike?",
            ReferenceHeats = ["K17"],
            CandidateHeats = ["M03"],
            Rule = new DecisionRule { Property = "impact energy", Margin = new Domain.Margin.Ratio(0.8, 1.25) },
        }),
    ];

    [Fact]
    public async Task A_plan_is_used_for_an_enquiry()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: s_bench);
        IPage page = await browser.Page(workbench);
        await WorkDone.Open(page, "/own/planner?enquiry=E-1&cv=0.12&coupons=6&loads=2&replicates=400");
        await page.GetByRole(AriaRole.Button, new() { Name = "Use this plan for E-1" }).ClickAsync();
        await page.WaitForURLAsync("**/enquiries/E-1*");

        await Expect(page.Locator("#plan")).ToContainTextAsync("6 coupons a heat, 1 heat a side, 2 loads");
        KeptPlan kept = workbench.Own(b => KeptPlan.Find(b, "E-1"))!;
        Assert.Equal((6, 1, 2), (kept.Coupons, kept.Heats, kept.Loads));
        Assert.Equal(6, workbench.Own(b => b.FindEnquiry("E-1")!.Rule!.PlannedCouponsPerLot));

        await page.GetByRole(AriaRole.Link, new() { Name = "Open it in the planner" }).ClickAsync();
        await Expect(page.Locator("input[name=coupons]")).ToHaveValueAsync("6");
        await Expect(page.Locator("input[name=loads]")).ToHaveValueAsync("2");
    }

    [Fact]
    public async Task The_further_properties_of_a_rule_are_planned_and_kept_with_it()
    {
        BenchChange[] bench = [.. s_bench.Select(c => c is BenchChange.PutEnquiry { Enquiry: var e } ? new BenchChange.PutEnquiry(e with { Rule = e.Rule! with { FurtherPrimaries = [new("hardness", new Domain.Margin.Absolute(1, "HRC"))] } }) : c)];
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: bench);
        IPage page = await browser.Page(workbench);
        await page.GotoAsync("/own/planner?enquiry=E-1&cv=0.12&coupons=8&replicates=400");
        await Expect(page.Locator("#results")).ToContainTextAsync("does not know how hardness scatters within a heat");
        await page.GetByLabel("Scatter of hardness in a heat").FillAsync("0.4");
        await page.GetByLabel("Correlation of hardness with impact energy").FillAsync("-0.3");
        await page.GetByRole(AriaRole.Button, new() { Name = "Work out the odds" }).ClickAsync();
        await Expect(page.Locator("#odds")).ToContainTextAsync("all together");
        await Expect(page.Locator("#odds")).ToContainTextAsync("one coupon −0.30, as typed");
        await page.GetByRole(AriaRole.Button, new() { Name = "Use this plan for E-1" }).ClickAsync();
        await page.WaitForURLAsync("**/enquiries/E-1*");
        await Expect(page.Locator("#plan")).ToContainTextAsync("together with hardness ±1 HRC");
        Assert.Equal(["hardness ±1 HRC"], workbench.Own(b => KeptPlan.Find(b, "E-1"))!.Further!);
    }
}
