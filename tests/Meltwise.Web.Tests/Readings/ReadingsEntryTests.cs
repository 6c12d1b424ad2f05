using Meltwise.Domain;
using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace Meltwise.Web.Tests.Readings;

/// <summary>Readings typed at the machine, as a person does it: by keyboard, one after the other.</summary>
[Collection(BrowserCollection.Name)]
public sealed class ReadingsEntryTests(Browser browser)
{
    private const string Entry = "/own/enquiries/E-1/readings?property=impact%20energy";

    [Fact]
    public async Task Each_reading_is_stored_as_Enter_is_pressed_and_the_next_coupon_comes_up()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(false, SmallBench.Changes());
        IPage page = await browser.Page(workbench);
        await page.GotoAsync(Entry);

        foreach ((string typed, int next) in ((string, int)[])[("40.1", 2), ("39,4", 3), ("41.0", 4)])
        {
            await page.Keyboard.TypeAsync(typed);
            await page.Keyboard.PressAsync("Enter");
            await Expect(page.GetByRole(AriaRole.Heading, new() { Name = $"Coupon {next} of 6" })).ToBeVisibleAsync();
        }

        Assert.Equal(["40.1 J", "39.4 J", "41.0 J"], Stored(workbench));
    }

    [Fact]
    public async Task A_slip_of_the_scale_is_asked_about_and_corrected_with_its_trail()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(false, SmallBench.Changes());
        IPage page = await browser.Page(workbench);
        await page.GotoAsync(Entry);

        // 29.5 lies far below a history of 36 to 44 J; as ft·lbf it is 40.0 J.
        await page.Keyboard.TypeAsync("29.5");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.GetByText("Caught, not changed")).ToBeVisibleAsync();
        Assert.Equal(["29.5 J"], Stored(workbench));

        await page.Keyboard.PressAsync("f");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Coupon 2 of 6" })).ToBeVisibleAsync();
        Assert.Equal(["29.5 ft·lbf"], Stored(workbench));
        Assert.Contains(workbench.Own(b => b.Trail("reading", most: 20)), e => e.Why?.Contains("unit slip", StringComparison.Ordinal) == true);
    }

    [Fact]
    public async Task A_figure_that_is_no_number_stays_in_the_field_and_nothing_is_stored()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(false, SmallBench.Changes());
        IPage page = await browser.Page(workbench);
        await page.GotoAsync(Entry);

        await page.Keyboard.TypeAsync("4o.1");
        await page.Keyboard.PressAsync("Enter");

        await Expect(page.Locator("#says")).ToContainTextAsync("is not a number");
        await Expect(page.Locator("#val")).ToHaveValueAsync("4o.1");
        Assert.Empty(Stored(workbench));
    }

    [Fact]
    public async Task The_last_reading_is_undone_with_the_keyboard_and_stays_in_the_trail()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(false, SmallBench.Changes());
        IPage page = await browser.Page(workbench);
        await page.GotoAsync(Entry);
        await page.Keyboard.TypeAsync("40.1");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Coupon 2 of 6" })).ToBeVisibleAsync();

        await page.Keyboard.PressAsync("Control+z");

        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Coupon 1 of 6" })).ToBeVisibleAsync();
        Assert.Empty(Stored(workbench));
        Assert.Contains(workbench.Own(b => b.Trail("reading", most: 20)), e => e.Why == "undone at the machine");
    }

    [Fact]
    public async Task What_was_typed_while_the_server_was_gone_is_stored_when_it_is_back()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(false, SmallBench.Changes());
        IPage page = await browser.Page(workbench);
        await page.GotoAsync(Entry);
        await page.Keyboard.TypeAsync("40.1");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Coupon 2 of 6" })).ToBeVisibleAsync();

        await workbench.Down();
        await page.Keyboard.TypeAsync("38.8");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#saved")).ToContainTextAsync("does not answer");
        await workbench.Up();

        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Coupon 3 of 6" })).ToBeVisibleAsync();
        Assert.Equal(["40.1 J", "38.8 J"], Stored(workbench));
    }

    [Fact]
    public async Task Hardness_readings_of_one_coupon_that_scatter_are_asked_about()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(false, SmallBench.Changes());
        IPage page = await browser.Page(workbench);
        await page.GotoAsync("/own/enquiries/E-1/readings?property=hardness&each=3");

        foreach ((string typed, int next) in ((string, int)[])[("61.0", 2), ("61.2", 3)])
        {
            await page.Keyboard.TypeAsync(typed);
            await page.Keyboard.PressAsync("Enter");
            await Expect(page.GetByRole(AriaRole.Heading, new() { Name = $"Reading {next} of 18" })).ToBeVisibleAsync();
        }

        await Expect(page.Locator("#says")).Not.ToContainTextAsync("scatter");
        await page.Keyboard.TypeAsync("63.1");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Reading 4 of 18" })).ToBeVisibleAsync();

        // 61.0, 61.2 and 63.1: mean 61.77, standard deviation 1.16 by hand.
        await Expect(page.Locator("#says")).ToContainTextAsync("scatter by 1.16");
    }

    private static string[] Stored(RunningWorkbench workbench) => workbench.Own(b =>
        b.Readings(new CouponKey("N1", "")).Concat(b.Readings(new CouponKey("S1", ""))).OrderBy(r => r.Coupon.Coupon, StringComparer.Ordinal).Select(r => r.Typed.ToString()).ToArray());
}
