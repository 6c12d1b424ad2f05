using System.Globalization;
using System.Text;
using Meltwise.Casework.Cautions;
using Meltwise.Casework.Planning;
using Meltwise.Domain;
using Meltwise.Publishing.Report;
using Meltwise.Publishing.Tables;

namespace Meltwise.Publishing.Labels;

/// <summary>What an allocation gives on paper and as files: bench sheet and labels under codes, the cutting list with codes by heat, and the sealed key.</summary>
public static class AllocationPapers
{
    /// <summary>Bench sheet: loads and the order of testing under codes.</summary>
    /// <param name="name">Enquiry or plan, in head and foot.</param>
    /// <param name="property">Property to write down.</param>
    /// <param name="allocation">The allocation.</param>
    public static byte[] BenchSheet(string name, Property property, Allocation allocation) => ReportPdf.Write(BenchSheetDocument.Build(new()
    {
        Enquiry = name,
        Property = property.Name,
        Unit = property.StoredUnit.Name,
        Allocation = string.Create(CultureInfo.InvariantCulture, $"dealt by seeded permuted blocks, seed {allocation.Seed}; key {allocation.KeyDigest[..16]}"),
        Cutting = [.. allocation.Coupons.GroupBy(c => c.Heat).Select(g => new CuttingLine(g.Key, null, null, g.Count()))],
        Loads = [.. allocation.Coupons.OrderBy(c => c.Load).ThenBy(c => c.Position).Select(c => new LoadPlace(c.Load.ToString(CultureInfo.InvariantCulture), c.Position, c.Code))],
        HardnessOrder = [.. allocation.Coupons.OrderBy(c => c.HardnessOrder).Select(c => c.Code)],
        Tests = [.. allocation.InBreakOrder.Select(c => new TestLine(c.BreakOrder, c.Load.ToString(CultureInfo.InvariantCulture), c.Code))],
        Cautions = [.. CautionTable.OfProperty(PropertyTable.Hardness.Name).Concat(CautionTable.OfProperty(property.Name)).Distinct()],
    }));

    /// <summary>Labels in the order of cutting; they say the code and never the heat.</summary>
    public static byte[] Labels(string name, Allocation allocation) => LabelSheet.WritePdf(name,
        [.. allocation.InCuttingOrder.Select(c => new CouponLabel(c.Code, $"meltwise:{name}/{c.Code}", [string.Create(CultureInfo.InvariantCulture, $"load {c.Load}, place {c.Position}")]))]);

    /// <summary>The cutting list as a table: heat, blank, code. It tells the key, so it stays with whoever cuts and engraves.</summary>
    public static byte[] CuttingList(Allocation allocation)
    {
        StringBuilder text = new("heat,blank,code,load\r\n");
        foreach (AllocatedCoupon c in allocation.InCuttingOrder)
            text.Append(CsvCell.Write(c.Heat)).Append(CultureInfo.InvariantCulture, $",{c.Blank},{c.Code},{c.Load}\r\n");
        return Encoding.UTF8.GetBytes(text.ToString());
    }

    /// <summary>The cutting sketch on paper: every blank with its code and room for its place in the bar. It tells the key.</summary>
    public static byte[] CuttingSketch(string name, Allocation allocation) =>
        ReportPdf.Write(CuttingSketchDocument.Build(name, [.. allocation.InCuttingOrder.Select(c => new CuttingPiece(c.Heat, c.Blank, c.Code, null, null))], isDemonstration: false));

    /// <summary>The allocation with its key.</summary>
    public static byte[] SealedKey(Allocation allocation) => Encoding.UTF8.GetBytes(PlanJson.Write(allocation));
}
