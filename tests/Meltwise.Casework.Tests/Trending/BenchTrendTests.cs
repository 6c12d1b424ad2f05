using Meltwise.Casework.Trending;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Trending;

/// <summary>Laws of the bench's trend. The fit itself is checked against independent programs where it is made (HeatTrend of the statistics).</summary>
public sealed class BenchTrendTests
{
    private static readonly TrendChoice s_choice = new("impact energy", "AISI M4", "powder", "L", "unnotched", "high");

    [Fact]
    public void The_order_of_the_rows_changes_nothing()
    {
        CouponRow[] rows = Rows();
        CouponRow[] turned = [.. rows.Reverse()];

        BenchTrend one = BenchTrend.Of(Table(rows), s_choice);
        BenchTrend other = BenchTrend.Of(Table(turned), s_choice);

        Assert.Equal(one.Line, other.Line);
        Assert.Equal(one.Points, other.Points);
    }

    [Fact]
    public void The_unit_a_reading_was_typed_in_changes_nothing()
    {
        BenchTrend joules = BenchTrend.Of(Table(Rows()), s_choice);
        BenchTrend footPounds = BenchTrend.Of(Table(Rows(inFootPounds: true)), s_choice);

        Assert.Equal(joules.Line!.Slope, footPounds.Line!.Slope, 1e-9);
        Assert.Equal(joules.Line.Level, footPounds.Line.Level, 1e-9);
    }

    [Fact]
    public void A_stated_slope_lies_in_the_interval_and_coupons_of_other_kinds_are_counted_by_reason()
    {
        CouponRow[] rows = [.. Rows(), Row("X1", "1", 62, 20) with { Route = "ingot" }, Row("X2", "1", 62, 20) with { Hardness = [] }];

        BenchTrend trend = BenchTrend.Of(Table(rows), s_choice);

        // Worked by hand into the rows: ln(energy) falls by 0.08 per HRC, plus a scatter of known seed.
        Assert.InRange(trend.Line!.Slope, -0.08 - (3 * trend.Line.SlopeSe), -0.08 + (3 * trend.Line.SlopeSe));
        Assert.Equal(20, trend.Heats);
        Assert.Equal(1, trend.LeftOut["other route"]);
        Assert.Equal(1, trend.LeftOut["no valid reading with hardness"]);
    }

    [Fact]
    public void Too_few_heats_give_no_line_and_say_so()
    {
        BenchTrend trend = BenchTrend.Of(Table([.. Rows().Where(r => r.Heat is "H1" or "H2" or "H3")]), s_choice);

        Assert.Null(trend.Line);
        Assert.Contains("there are 3", trend.WhyNoLine, StringComparison.Ordinal);
    }

    private static CouponTable Table(IReadOnlyList<CouponRow> rows) => new(rows, CouponTable.KeyColumns.ToHashSet(StringComparer.Ordinal), "the bench");

    private static CouponRow[] Rows(bool inFootPounds = false)
    {
        var random = new Random(5);
        var rows = new List<CouponRow>();
        for (int h = 1; h <= 20; h++)
        {
            double hardness = 60 + (0.15 * h);
            double heat = 0.04 * (random.NextDouble() - 0.5);
            for (int c = 1; c <= 5; c++)
            {
                double energy = Math.Exp(3.8 - (0.08 * (hardness - 62)) + heat + (0.2 * (random.NextDouble() - 0.5)));
                rows.Add(Row($"H{h}", $"{c}", hardness + (0.1 * (c % 2)), energy, inFootPounds));
            }
        }

        return [.. rows];
    }

    private static CouponRow Row(string heat, string coupon, double hardness, double energyJ, bool inFootPounds = false) => new()
    {
        Heat = heat,
        Coupon = coupon,
        Grade = "AISI M4",
        Route = "powder",
        Orientation = "L",
        Geometry = "unnotched",
        TemperFamily = "high",
        Treatment = "usual",
        Hardness = [CensoredValue.Of(hardness, "HRC")],
        Readings = new Dictionary<string, IReadOnlyList<CensoredValue>>
        {
            ["impact energy"] = [inFootPounds ? CensoredValue.Of(energyJ / PropertyTable.JoulesPerFootPound, "ft·lbf") : CensoredValue.Of(energyJ, "J")],
        },
    };
}
