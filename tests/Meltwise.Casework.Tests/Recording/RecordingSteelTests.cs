using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Recording;

public sealed class RecordingSteelTests : OwnBench
{
    [Fact]
    public void A_heat_brings_its_source_and_grade_and_says_what_is_unknown()
    {
        Outcome<Heat> outcome = new AddHeat(Bench).Run(new("N1", "Ost", "AISI D2", null), Hand);
        Assert.Equal("Source C", Bench.Sources().Single(s => s.Name == "Ost").PublicLabel);
        Assert.Contains("route", Text(outcome), StringComparison.Ordinal);
        Assert.False(new AddHeat(Bench).Run(new("", null, null, null), Hand).Done);
        Assert.Throws<BenchException>(() => new AddHeat(Bench).Run(new("N1", "Nord", "AISI D2", null), Hand));
        Assert.True(new AddHeat(Bench).Run(new("N1", "Nord", "AISI D2", null), Hand, "certificate misread").Done);
    }

    [Fact]
    public void Steps_in_Fahrenheit_are_caught_and_odd_orders_asked_about()
    {
        RecordTreatment record = new(Bench);
        Outcome<Treatment> fahrenheit = record.Run(new("T1", [new TreatmentStep.Austenitize(1875, 20), new TreatmentStep.Quench("oil", null)]), Hand);
        Assert.False(fahrenheit.Done);
        Assert.Contains("1024 °C", Text(fahrenheit), StringComparison.Ordinal);
        Outcome<Treatment> swapped = record.Run(new("T1", [new TreatmentStep.Temper(200, 120), new TreatmentStep.Austenitize(1050, 20), new TreatmentStep.Quench("oil", null)]), Hand);
        Assert.Contains("order", Text(swapped), StringComparison.Ordinal);
        Outcome<Treatment> right = record.Run(new("T2", [new TreatmentStep.Austenitize(1050, 20), new TreatmentStep.Quench("oil", null), new TreatmentStep.SubZero(-80, 60), new TreatmentStep.Temper(200, 120)]), Hand);
        Assert.Empty(right.Findings);
        Assert.Contains("recorded as T2", Text(record.Run(right.Value! with { Name = "T3" }, Hand)), StringComparison.Ordinal);
    }

    [Fact]
    public void A_series_of_coupons_is_added_whole_or_not_at_all()
    {
        AddCoupons add = new(Bench);
        Coupon four = new("K17", "4", "L", "unnotched 7×10×55");
        Assert.Contains("recorded already", Text(add.Run([four, new("K17", "1")], Hand)), StringComparison.Ordinal);
        Assert.Contains("named twice", Text(add.Run([four, four], Hand)), StringComparison.Ordinal);
        Assert.Contains("several heats", Text(add.Run([four, four with { Heat = "M03" }], Hand)), StringComparison.Ordinal);
        Assert.Contains("not on this bench", Text(add.Run([four with { Heat = "Z" }], Hand)), StringComparison.Ordinal);
        Assert.Equal(3, Bench.Coupons("K17").Count);
        Assert.True(add.Run([four, four with { Name = "5", Geometry = null }], Hand).Done);
        Assert.Equal(5, Bench.Coupons("K17").Count);
    }

    [Fact]
    public void Chemistry_is_checked_and_two_methods_that_disagree_are_told()
    {
        RecordChemistry record = new(Bench);
        ChemistryResult spark = new("K17", "C", new(1.42, "wt%", Censoring.None, "1.42"), "spark OES", null, 0.02, 2);
        Assert.Empty(record.Run(spark, Hand).Findings);
        // Standard uncertainties 0.01 and 0.005: twice their root sum of squares is 0.0224.
        Assert.Contains("differ", Text(record.Run(spark with { Method = "combustion", Typed = new(1.395, "wt%", Censoring.None, "1.395"), ExpandedUncertainty = 0.01 }, Hand)), StringComparison.Ordinal);
        Assert.False(record.Run(spark with { Element = "Xx" }, Hand).Done);
        Assert.False(record.Run(spark with { Typed = new(1.4, "%", Censoring.None, "1.4") }, Hand).Done);
        Assert.False(record.Run(spark with { Typed = new(140, "wt%", Censoring.None, "140") }, Hand).Done);
        Assert.Equal(2, Bench.Chemistry("K17").Count);
    }
}
