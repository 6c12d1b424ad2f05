namespace Meltwise.Storage.Records;

/// <summary>All tables of versions, in the order in which the digest of a transaction runs over them. The order is part of the format: append only.</summary>
internal static class Tables
{
    public static IReadOnlyList<RecordTable> All { get; } =
    [
        SteelTables.Sources, SteelTables.Grades, SteelTables.Heats, SteelTables.Chemistry, CouponTables.Treatments, CouponTables.Coupons, CouponTables.Readings,
        CouponTables.Withdrawals, InstrumentTables.Instruments, InstrumentTables.Verifications, EnquiryTables.Enquiries, EnquiryTables.Documents, EnquiryTables.Intakes,
        PictureTables.Pictures, PictureTables.Measurements,
        SteelTables.Custody, CouponTables.FractureOrigins, SteelTables.HotHistories, TraceTables.FurnaceTraces,
    ];

    /// <summary>Names of the tables of names, with the columns of the key.</summary>
    public static IEnumerable<RecordTable> WithNames => All.Where(t => t.Names is not null);
}
