using System.Data.Common;
using Meltwise.Casework.Recording;
using Meltwise.Storage.Records;

namespace Meltwise.Storage.Writing;

/// <summary>One transaction on a bench: applies changes in order, numbers their entries, and closes with the line in the trail.</summary>
internal sealed class Transaction : IDisposable
{
    private readonly Engine _engine;
    private readonly DbTransaction _transaction;
    private readonly TrailLine _before;
    private readonly string? _why;
    private readonly Dictionary<RecordTable, TableWriter> _writers = [];
    private int _entry;

    public Transaction(Engine engine, string? why)
    {
        (_engine, _why) = (engine, why);
        _transaction = engine.BeginWriting();
        _before = TrailLine.Last(engine.Connection, _transaction);
        _entry = _before.LastEntry;
    }

    /// <summary>Applies one change.</summary>
    /// <exception cref="BenchException">It cannot be applied.</exception>
    public void Apply(BenchChange change)
    {
        switch (change)
        {
            case BenchChange.PutSource c: Put(SteelTables.Sources, c.Source); break;
            case BenchChange.PutGrade c: Put(SteelTables.Grades, c.Grade); break;
            case BenchChange.PutHeat c: Put(SteelTables.Heats, c.Heat); break;
            case BenchChange.PutHotHistory c: Put(SteelTables.HotHistories, c.History); break;
            case BenchChange.PutChemistry c: Put(SteelTables.Chemistry, c.Result); break;
            case BenchChange.PutTreatment c: Put(CouponTables.Treatments, c.Treatment); break;
            case BenchChange.PutCoupon c: Put(CouponTables.Coupons, c.Coupon); break;
            case BenchChange.PutCustody c: Put(SteelTables.Custody, c.Custody); break;
            case BenchChange.PutFractureOrigin c: Put(CouponTables.FractureOrigins, c.Origin); break;
            case BenchChange.PutReading c: Put(CouponTables.Readings, c.Reading); break;
            case BenchChange.WithdrawReading c: Withdraw(c); break;
            case BenchChange.PutInstrument c: Put(InstrumentTables.Instruments, c.Instrument); break;
            case BenchChange.PutVerification c: Put(InstrumentTables.Verifications, c.Verification); break;
            case BenchChange.PutEnquiry c: Put(EnquiryTables.Enquiries, c.Enquiry); break;
            case BenchChange.PutDocument c: Put(EnquiryTables.Documents, c.Document); break;
            case BenchChange.PutPicture c: Put(PictureTables.Pictures, c.Picture); break;
            case BenchChange.PutMeasurement c: Put(PictureTables.Measurements, c.Measurement); break;
            case BenchChange.PutFurnaceTrace c: Put(TraceTables.FurnaceTraces, c.Trace); break;
            case BenchChange.NoteIntake c: Put(EnquiryTables.Intakes, c); break;
            default: throw new System.Diagnostics.UnreachableException();
        }
    }

    /// <summary>Writes the line of the trail and makes all of it lasting. Without any entry nothing is written.</summary>
    public void Close(string by, DateTime atUtc)
    {
        if (_entry == _before.LastEntry) return;
        TrailLine line = new(_before.Number + 1, _before.LastEntry + 1, _entry, StoredForms.Instant(atUtc), by, _why, "");
        IEnumerable<(string, string)> digests = Tables.All.Where(t => _writers.TryGetValue(t, out TableWriter? w) && w.Digest.Count > 0)
            .Select(t => (t.Kind, _writers[t].Digest.Close()));
        line = line with { Digest = TrailLine.DigestOf(_before.Digest, line, digests) };
        line.Insert(_engine.Connection, _transaction);
        _transaction.Commit();
    }

    /// <summary>Takes back whatever was not closed.</summary>
    public void Dispose()
    {
        foreach (TableWriter writer in _writers.Values) writer.Dispose();
        _transaction.Dispose();
    }

    private void Put<T>(RecordTable<T> table, T record)
    {
        if (Writer(table).Put(_entry + 1, table.Write(record), _why)) _entry++;
    }

    private void Withdraw(BenchChange.WithdrawReading change)
    {
        object?[] key = CouponTables.Withdrawals.Write((change.Coupon, change.Property, change.Number));
        if (string.IsNullOrWhiteSpace(_why))
            throw new BenchException($"To take back reading {CouponTables.Readings.KeyText(key)} a reason must be given. Nothing was stored.");
        Writer(CouponTables.Readings).TakeBack(key, _entry + 1);
        Put(CouponTables.Withdrawals, (change.Coupon, change.Property, change.Number));
    }

    private TableWriter Writer(RecordTable table)
    {
        if (!_writers.TryGetValue(table, out TableWriter? writer)) _writers[table] = writer = new(table, _engine, _transaction);
        return writer;
    }
}
