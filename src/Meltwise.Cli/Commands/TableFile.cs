using Meltwise.Casework.Intake;
using Meltwise.Cli.Terminal;
using Meltwise.Domain;

namespace Meltwise.Cli.Commands;

/// <summary>A table given on the command line: read whole, or refused with every fault.</summary>
internal static class TableFile
{
    /// <summary>Reads a coupon table. With faults, all are listed (as JSON too where that was asked for) and the command ends with status 1.</summary>
    public static CouponTable Read(FileInfo file, IReadOnlyList<ColumnMap> maps, bool json)
    {
        IntakePreview preview = IntakePreview.OfFile(file.FullName, maps);
        if (preview.IsClean && preview.Coupons.Count > 0) return preview.Table;
        IReadOnlyList<IntakeFault> faults = preview.Faults.Count > 0 ? preview.Faults
            : [new(preview.File, null, null, null, $"{preview.GoodRows} rows of {(preview.HotHistories.Count > 0 ? "hot histories" : "chemistry")} and no coupon", "a table with one row a coupon")];
        if (json) JsonOutput.Write(new { faults });
        foreach (IntakeFault fault in faults) Console.Error.WriteLine("meltwise: " + fault);
        throw Fault.Input($"{faults.Count} fault{(faults.Count == 1 ? "" : "s")} in {preview.File}; nothing was judged.");
    }
}
