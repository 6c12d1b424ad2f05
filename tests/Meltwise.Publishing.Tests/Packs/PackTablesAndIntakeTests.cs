using Meltwise.Casework.Intake;
using Meltwise.Domain;
using Meltwise.Publishing.Packs;
using Xunit;

namespace Meltwise.Publishing.Tests.Packs;

/// <summary>The tables of a pack are tables that the intake reads: what one bench shares, another takes in by hand.</summary>
public sealed class PackTablesAndIntakeTests
{
    [Fact]
    public async Task The_intake_reads_the_coupons_of_a_pack()
    {
        PackInput input = InventedPack.Make();
        IReadOnlyDictionary<string, byte[]> files = await PackWriter.FilesAsync(input, cancel: TestContext.Current.CancellationToken);
        IntakePreview preview = IntakePreview.OfContent("coupons.csv", files["data/coupons.csv"]);
        Assert.Empty(preview.Faults);
        Assert.Equal(input.Coupons.Rows.Count, preview.Coupons.Count);
        foreach ((CouponRow was, CouponRow read) in input.Coupons.Rows.Zip(preview.Coupons))
        {
            Assert.Equal((was.Heat, was.Coupon, was.Source, was.Load, was.Order, was.Orientation), (read.Heat, read.Coupon, read.Source, read.Load, read.Order, read.Orientation));
            Assert.Equal((was.Position, was.HardnessMoment, was.HardnessOrder, was.Fracture), (read.Position, read.HardnessMoment, read.HardnessOrder, read.Fracture));
            Assert.Equal(was.TestTemperatureK!.Value, read.TestTemperatureK!.Value, 1e-9);
            Assert.Equal(was.Readings["impact energy"][0].Value, read.Readings["impact energy"][0].Value);
            Assert.Equal(was.Hardness[0].Text, read.Hardness[0].Text);
        }
    }

    [Fact]
    public async Task The_intake_reads_the_chemistry_of_a_pack()
    {
        PackInput input = InventedPack.Make();
        IReadOnlyDictionary<string, byte[]> files = await PackWriter.FilesAsync(input, cancel: TestContext.Current.CancellationToken);
        IntakePreview preview = IntakePreview.OfContent("chemistry.csv", files["data/chemistry.csv"]);
        Assert.Empty(preview.Faults);
        Assert.Equal(input.Report.Chemistry.Select(c => (c.Heat, c.Element, c.Typed.Value, c.Typed.Censoring, c.Method, c.ExpandedUncertainty)), preview.Chemistry.Select(c => (c.Heat, c.Element, c.Typed.Value, c.Typed.Censoring, c.Method, c.ExpandedUncertainty)));
    }
}
