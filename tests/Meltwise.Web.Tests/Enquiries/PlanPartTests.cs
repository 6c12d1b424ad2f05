using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace Meltwise.Web.Tests.Enquiries;

/// <summary>The heats and the coupons of an enquiry as a person gives them in the browser. The names are invented; they check behaviour.</summary>
[Collection(BrowserCollection.Name)]
public sealed class PlanPartTests(Browser browser)
{
    private static readonly BenchChange[] s_bench =
    [
        new BenchChange.PutHeat(new Heat("K17", null, null, null)),
        new BenchChange.PutEnquiry(new Enquiry { Name = "E-1", Title = "Are the two alike?", Rule = new DecisionRule { Property = "impact energy", Margin = new Domain.Margin.Ratio(0.8, 1.25) } }),
    ];

    [Fact]
    public async Task Heats_are_given_roles_and_coupons_are_dealt_to_loads()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: s_bench);
        IPage page = await browser.Page(workbench);
        await page.GotoAsync("/own/enquiries/E-1");
        await Choose(page, "K17", "K17");
        await Expect(page.Locator("#heats")).ToContainTextAsync("cannot be reference and candidate at once");
        await Choose(page, "K17", "M03");
        await Expect(page.Locator("#heats table").First).ToContainTextAsync("M03");

        await Make(page, coupons: "2", loads: "3");
        await Expect(page.Locator("#plan")).ToContainTextAsync("side and load could not be told apart");
        Assert.Equal(0, workbench.Own(b => b.Card.Coupons));

        await Make(page, coupons: "6", loads: "2");
        await Expect(page.Locator("#plan table").First).ToContainTextAsync("M03");
        Coupon[] coupons = workbench.Own(b => b.Coupons().ToArray());
        Assert.Equal(12, coupons.Select(c => c.Code).OfType<string>().Distinct().Count());
        Assert.All(coupons.GroupBy(c => (c.Heat, c.Load)), g => Assert.Equal(3, g.Count()));
        Assert.NotNull(workbench.Own(b => b.FindEnquiry("E-1")!.Key));
    }

    private static async Task Choose(IPage page, string reference, string candidate)
    {
        await page.Locator("#r-ref").FillAsync(reference);
        await page.Locator("#r-cand").FillAsync(candidate);
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep these roles" }).ClickAsync();
    }

    private static async Task Make(IPage page, string coupons, string loads)
    {
        if (!await page.Locator("#p-n").IsVisibleAsync())
        {
            await page.GetByText("Make a series of coupons").ClickAsync();
        }

        await page.Locator("#p-n").FillAsync(coupons);
        await page.Locator("#p-loads").FillAsync(loads);
        await page.GetByLabel("give out codes and seal the key").CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Make the series" }).ClickAsync();
    }
}
