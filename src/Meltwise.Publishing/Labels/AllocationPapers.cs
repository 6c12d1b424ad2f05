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
    /// <param name="properties">Properties to write down, the first primary one first.</param>
    /// <param name="allocation">The allocation.</param>
    public static byte[] BenchSheet(string name, IReadOnlyList<Property> properties, Allocation allocation) => ReportPdf.Write(BenchSheetDocument.Build(new()
    {
        Enquiry = name,
        Property = properties[0].Name,
        Unit = properties[0].StoredUnit.Name,
        Others = [.. properties.Skip(1).Select(p => (p.Name, p.StoredUnit.Name))],
        Allocation = string.Create(CultureInfo.InvariantCulture, $"dealt by seeded permuted blocks, seed {allocation.Seed}; key {allocation.KeyDigest[..16]}"),
        Cutting = [.. allocation.Coupons.GroupBy(c => c.Heat).Select(g => new CuttingLine(g.Key, null, null, g.Count()))],
        Loads = [.. allocation.Coupons.OrderBy(c => c.Load).ThenBy(c => c.Position).Select(c => new LoadPlace(c.Load.ToString(CultureInfo.InvariantCulture), c.Position, c.Code))],
        Levels = [.. allocation.Coupons.Where(c => c.Level is not null).GroupBy(c => c.Level!.Value).OrderBy(g => g.Key).Select(g => (string.Create(CultureInfo.InvariantCulture, $"Level {g.Key}"), (IReadOnlyList<string>)[.. g.OrderBy(c => c.Code, StringComparer.Ordinal).Select(c => c.Code)]))],
        HardnessOrder = [.. allocation.Coupons.OrderBy(c => c.HardnessOrder).Select(c => c.Code)],
        Tests = [.. allocation.InBreakOrder.Select(c => new TestLine(c.BreakOrder, c.Load.ToString(CultureInfo.InvariantCulture), c.Code))],
        Cautions = [.. properties.Prepend(PropertyTable.Hardness).SelectMany(p => CautionTable.OfProperty(p.Name)).Distinct()],
    }));

    /// <summary>Labels in the order of cutting; they say the code, the place and what is to be read, and never the heat.</summary>
    /// <param name="name">Enquiry or plan.</param>
    /// <param name="properties">Properties to be read; named where there are several.</param>
    /// <param name="allocation">The allocation.</param>
    public static byte[] Labels(string name, IReadOnlyList<Property> properties, Allocation allocation) => LabelSheet.WritePdf(name,
        [.. allocation.InCuttingOrder.Select(c => new CouponLabel(c.Code, $"meltwise:{name}/{c.Code}", [string.Create(CultureInfo.InvariantCulture, $"load {c.Load}, place {c.Position}{(c.Level is { } level ? $", level {level}" : "")}"), .. ToRead([.. properties.Select(p => p.Name)])]))]);

    /// <summary>What is to be read on a coupon as small lines of its label, two properties a line; nothing where there is one.</summary>
    /// <param name="properties">Names of the properties.</param>
    public static IReadOnlyList<string> ToRead(IReadOnlyList<string> properties) => properties.Count < 2 ? [] : [.. properties.Chunk(2).Select(some => string.Join(" · ", some))];

    /// <summary>The cutting list as a table: heat, blank, code. It tells the key, so it stays with whoever cuts and engraves.</summary>
    public static byte[] CuttingList(Allocation allocation)
    {
        bool ladder = allocation.Coupons.Any(c => c.Level is not null);
        StringBuilder text = new(ladder ? "heat,blank,code,load,level\r\n" : "heat,blank,code,load\r\n");
        foreach (AllocatedCoupon c in allocation.InCuttingOrder)
            text.Append(CsvCell.Write(c.Heat)).Append(CultureInfo.InvariantCulture, $",{c.Blank},{c.Code},{c.Load}{(ladder ? $",{c.Level}" : "")}\r\n");
        return Encoding.UTF8.GetBytes(text.ToString());
    }

    /// <summary>The cutting sketch on paper: every blank with its code and room for its place in the bar. It tells the key.</summary>
    public static byte[] CuttingSketch(string name, IReadOnlyList<Property> properties, Allocation allocation) =>
        ReportPdf.Write(CuttingSketchDocument.Build(name, [.. properties.Select(p => p.Name)], [.. allocation.InCuttingOrder.Select(c => new CuttingPiece(c.Heat, c.Blank, c.Code, null, null))], isDemonstration: false));

    /// <summary>The allocation with its key.</summary>
    public static byte[] SealedKey(Allocation allocation) => Encoding.UTF8.GetBytes(PlanJson.Write(allocation));
}
