using System.Globalization;
using System.Text;
using Meltwise.Casework.Intake;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Intake;

/// <summary>Slips of unit. The history is invented, with known true values, so that what must be found is known; it proves no steel.</summary>
public sealed class UnitSlipsTests
{
    private const string Geometry = "unnotched 7×10×55";

    // 12 heats of 4 coupons, ln y = ln 40 - 0.10 (H - 61), 7 % scatter between heats and 10 % between coupons, in fixed steps.
    private static readonly CouponTable s_history = new(
        [.. from heat in Enumerable.Range(0, 12) from coupon in Enumerable.Range(0, 4) select Row($"H{heat}", $"{coupon}", 59.5 + (0.25 * heat), (0.07 * (heat % 3 - 1)) + (0.1 * (coupon - 1.5) / 1.5), 1)],
        new HashSet<string> { "geometry" }, "the bench");

    private static CouponRow Row(string heat, string coupon, double hrc, double off, double factor) => new()
    {
        Heat = heat,
        Coupon = coupon,
        Geometry = Geometry,
        Hardness = [CensoredValue.Of(hrc, "HRC")],
        TestTemperatureK = 296.15,
        Readings = new Dictionary<string, IReadOnlyList<CensoredValue>> { ["impact energy"] = [CensoredValue.Of(factor * 40 * Math.Exp((-0.10 * (hrc - 61)) + off), "J")] },
    };

    [Theory]
    [InlineData("ft·lbf", 1.0, "J")]
    [InlineData("J", 1 / 1.3558179483314004, "ft·lbf")]
    [InlineData("J", 1.0, null)]
    [InlineData("J", 1.12, null)]
    public void A_column_in_the_wrong_unit_is_suspected_and_a_right_one_is_not(string heading, double factor, string? likely)
    {
        StringBuilder text = new($"heat,coupon,geometry,hardness [HRC],impact energy [{heading}]\n");
        foreach (string heat in new[] { "N1", "N2" })
            for (int i = 0; i < 5; i++)
                text.Append(CultureInfo.InvariantCulture, $"{heat},{i},{Geometry},61.0,{factor * 40 * (1 + (0.05 * (i - 2))):0.0}\n");
        IReadOnlyList<UnitSuspicion> found = UnitSlips.Of(IntakePreview.OfContent("n.csv", Encoding.UTF8.GetBytes(text.ToString())), s_history);
        Assert.Equal(likely, found.SingleOrDefault()?.LikelyUnit);
        if (likely is not null) Assert.Contains("12 earlier groups", found[0].Words, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("°C", "73", "°F")]
    [InlineData("°C", "23", null)]
    [InlineData("°F", "23", "°C")]
    [InlineData("°F", "73", null)]
    [InlineData("°C", "-40", null)]
    public void A_temperature_on_the_wrong_scale_is_suspected(string heading, string figure, string? likely)
    {
        string text = $"heat,coupon,test temperature [{heading}],impact energy [J]\nN1,1,{figure},41\nN1,2,{figure},42\n";
        IntakePreview preview = IntakePreview.OfContent("n.csv", Encoding.UTF8.GetBytes(text));
        Assert.Equal(likely, UnitSlips.Of(preview, s_history).SingleOrDefault()?.LikelyUnit);
        Assert.Equal(likely, UnitSlips.Of(preview, new([], new HashSet<string>(), "none")).SingleOrDefault()?.LikelyUnit);
    }

    [Theory]
    [InlineData(40, "J", 61, null)]
    [InlineData(22, "J", 61, "ft·lbf")]
    [InlineData(54, "ft·lbf", 61, "J")]
    [InlineData(30, "J", 64, null)]
    [InlineData(22, "J", 70, null)]
    public void A_single_typed_reading_is_judged_at_its_hardness(double value, string unit, double hrc, string? likely) =>
        Assert.Equal(likely, UnitSlips.OfReading(CensoredValue.Of(value, unit), PropertyTable.ImpactEnergy, hrc, HistoryScale.Of(s_history.Rows, PropertyTable.ImpactEnergy)!)?.LikelyUnit);

    [Fact]
    public void History_of_another_route_does_not_hide_a_slip()
    {
        CouponTable mixed = s_history with
        {
            Rows = [.. s_history.Rows.Select(r => r with { Route = "powder" }), .. s_history.Rows.Select(r => Row("I" + r.Heat, r.Coupon, r.Hardness[0].Value, 0, 0.45) with { Route = "ingot" })],
        };
        string text = $"heat,coupon,route,geometry,hardness [HRC],impact energy [ft·lbf]\nN1,1,powder,{Geometry},61.0,39\nN1,2,powder,{Geometry},61.0,41\nN1,3,powder,{Geometry},61.0,40\n";
        Assert.Equal("J", UnitSlips.Of(IntakePreview.OfContent("n.csv", Encoding.UTF8.GetBytes(text)), mixed).Single().LikelyUnit);
    }

    [Fact]
    public void Too_little_history_says_nothing() =>
        Assert.Null(HistoryScale.Of(s_history.Rows.Where(r => r.Heat is "H0" or "H1"), PropertyTable.ImpactEnergy));
}
