using System.Data;
using System.Data.Common;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Storage.Checking;
using Meltwise.Storage.Originals;
using Meltwise.Storage.Retrieval;
using Meltwise.Storage.Records;
using Meltwise.Storage.Writing;

namespace Meltwise.Storage;

/// <summary>A bench on either engine. Made by <see cref="BenchFile"/> or <see cref="BenchServer"/>; used by one thread at a time.</summary>
public sealed class Bench : IBench
{
    private readonly Engine _engine;

    internal Bench(Engine engine) => _engine = engine;

    /// <inheritdoc/>
    public BenchCard Card => Read(ReadCard);

    /// <inheritdoc/>
    public IReadOnlyList<Source> Sources() => ByName(SteelTables.Sources, s => s.Name);

    /// <inheritdoc/>
    public IReadOnlyList<Grade> Grades() => ByName(SteelTables.Grades, g => g.Name);

    /// <inheritdoc/>
    public IReadOnlyList<Heat> Heats() => ByName(SteelTables.Heats, h => h.Name);

    /// <inheritdoc/>
    public IReadOnlyList<ChemistryResult> Chemistry(string? heat = null) => Read(() => CurrentRecords.Of(_engine, SteelTables.Chemistry, heat is null ? [] : [("heat", heat)]));

    /// <inheritdoc/>
    public IReadOnlyList<Custody> Custody(string? heat = null) => Read(() => CurrentRecords.Of(_engine, SteelTables.Custody, heat is null ? [] : [("heat", heat)]));

    /// <inheritdoc/>
    public IReadOnlyList<FractureOrigin> FractureOrigins(string? heat = null) => Read(() => CurrentRecords.Of(_engine, CouponTables.FractureOrigins, heat is null ? [] : [("heat", heat)]));

    /// <inheritdoc/>
    public IReadOnlyList<Treatment> Treatments() => ByName(CouponTables.Treatments, t => t.Name);

    /// <inheritdoc/>
    public IReadOnlyList<FurnaceTrace> FurnaceTraces(string? load = null) => Read(() =>
        (IReadOnlyList<FurnaceTrace>)[.. CurrentRecords.Of(_engine, TraceTables.FurnaceTraces, load is null ? [] : [("load", load)]).OrderBy(t => t.Name, NaturalOrder.Comparer)]);

    /// <inheritdoc/>
    public IReadOnlyList<Coupon> Coupons(string? heat = null) => Read(() => CurrentRecords.Of(_engine, CouponTables.Coupons, heat is null ? [] : [("heat", heat)]));

    /// <inheritdoc/>
    public IReadOnlyList<Reading> Readings(CouponKey coupon) => Read(() => CurrentRecords.Of(
        _engine, CouponTables.Readings, string.IsNullOrEmpty(coupon.Coupon) ? [("heat", coupon.Heat)] : [("heat", coupon.Heat), ("coupon", coupon.Coupon)]));

    /// <inheritdoc/>
    public IReadOnlyList<Reading> ReadingsBy(string instrument) => Read(() => CurrentRecords.Of(_engine, CouponTables.Readings, [("instrument", instrument)]));

    /// <inheritdoc/>
    public IReadOnlyList<RecordedReading> LatestReadings(int most) => Read(() => TrailReader.LatestReadings(_engine, most));

    /// <inheritdoc/>
    public IReadOnlyList<Instrument> Instruments() => ByName(InstrumentTables.Instruments, i => i.Name);

    /// <inheritdoc/>
    public IReadOnlyList<Verification> Verifications(string? instrument = null) => Read(() =>
        (IReadOnlyList<Verification>)[.. CurrentRecords.Of(_engine, InstrumentTables.Verifications, instrument is null ? [] : [("instrument", instrument)]).OrderBy(v => v.On)]);

    /// <inheritdoc/>
    public IReadOnlyList<Enquiry> Enquiries() => ByName(EnquiryTables.Enquiries, e => e.Name);

    /// <inheritdoc/>
    public HotHistory? FindHotHistory(string heat) => Read(() => CurrentRecords.Only(_engine, SteelTables.HotHistories, [("heat", heat)]));

    /// <inheritdoc/>
    public Enquiry? FindEnquiry(string name) => Read(() => CurrentRecords.Only(_engine, EnquiryTables.Enquiries, [("name", name)]));

    /// <inheritdoc/>
    public CouponTable CouponTable(CouponSelection selection) => Read(() =>
        new CouponTableReader(_engine, selection, selection.Enquiry is { } name ? FindEnquiry(name) : null).Read());

    /// <inheritdoc/>
    public StoredDocument? FindDocument(string enquiry, string kind) =>
        Read(() => CurrentRecords.Only(_engine, EnquiryTables.Documents, [("enquiry", enquiry), ("kind", kind)]));

    /// <inheritdoc/>
    public IReadOnlyList<Picture> Pictures(string? heat = null) => Read(() =>
        (IReadOnlyList<Picture>)[.. CurrentRecords.Of(_engine, PictureTables.Pictures, heat is null ? [] : [("heat", heat)]).OrderBy(p => p.Name, NaturalOrder.Comparer)]);

    /// <inheritdoc/>
    public Picture? FindPicture(string name) => Read(() => CurrentRecords.Only(_engine, PictureTables.Pictures, [("name", name)]));

    /// <inheritdoc/>
    public KeptMeasurement? FindMeasurement(string picture) => Read(() => CurrentRecords.Only(_engine, PictureTables.Measurements, [("picture", picture)]));

    /// <inheritdoc/>
    public string KeepOriginal(Stream content) => Read(() => _engine.Originals.Keep(content));

    /// <inheritdoc/>
    public string OriginalPath(Picture picture) => Read(() => _engine.Originals.PathOf(picture.Sha256)
        ?? throw new BenchException($"The original of picture {picture.Name} ({picture.FileName}) is not where it was kept: {_engine.Originals.Place(picture.Sha256)}. Its record stands. Bring the same file in again, or put it back from a backup."));

    /// <inheritdoc/>
    public IReadOnlyList<TrailEntry> Trail(string? kind = null, string? key = null, int most = 200) => Read(() => TrailReader.Entries(_engine, kind, key, most));

    /// <inheritdoc/>
    public IReadOnlyList<SearchHit> Find(string text, int most = 20) => Read(() => BenchSearch.Find(_engine, text, most));

    /// <inheritdoc/>
    public bool HasIntake(string digest) => Read(() => CurrentRecords.Of(_engine, EnquiryTables.Intakes, [("digest", digest)]).Count > 0);

    /// <inheritdoc/>
    public void Commit(string by, string? why, IEnumerable<BenchChange> changes)
    {
        if (string.IsNullOrWhiteSpace(by)) throw new BenchException("A change must say who makes it. Nothing was stored.");
        Read(() =>
        {
            using Transaction transaction = new(_engine, string.IsNullOrWhiteSpace(why) ? null : why);
            foreach (BenchChange change in changes) transaction.Apply(change);
            transaction.Close(by, DateTime.UtcNow);
            return true;
        });
    }

    /// <summary>Checks the whole bench: the file, orphan records, one current version of each record, the trail's numbers and digests, and the originals of pictures against theirs.</summary>
    public BenchFindings Check() => Read(() => BenchCheck.Run(_engine));

    /// <summary>Writes a consistent copy while the bench is in use; originals of pictures go into the folder beside it.</summary>
    /// <param name="target">File to write; must not exist.</param>
    /// <exception cref="BenchException">The file exists or cannot be written, or the bench is on a server.</exception>
    public void BackUp(string target)
    {
        target = Path.GetFullPath(target);
        if (File.Exists(target)) throw new BenchException($"There is already a file {target}. Nothing was written. Give another name for the copy.");
        Read(() =>
        {
            _engine.BackUp(target);
            OriginalsCopy.Write(_engine, target);
            return true;
        });
    }

    /// <inheritdoc/>
    public void Dispose() => _engine.Dispose();

    /// <summary>Writes the row that makes an empty schema a bench.</summary>
    internal static void Found(Engine engine, bool isDemonstration)
    {
        using DbTransaction transaction = engine.BeginWriting();
        using DbCommand command = engine.Connection.Command("INSERT INTO bench (one, made_at_utc, is_demonstration) VALUES (1, @at, @demonstration)", transaction);
        command.Add("at", DbType.String, StoredForms.Instant(DateTime.UtcNow));
        command.Add("demonstration", DbType.Int32, isDemonstration ? 1 : 0);
        command.ExecuteNonQuery();
        transaction.Commit();
    }

    private BenchCard ReadCard()
    {
        using DbCommand command = _engine.Connection.Command("SELECT made_at_utc, is_demonstration FROM bench");
        string madeAt;
        bool isDemonstration;
        using (DbDataReader row = command.ExecuteReader())
        {
            if (!row.Read()) throw new BenchException($"{_engine.Place} holds no bench. Nothing was changed.");
            (madeAt, isDemonstration) = (row.GetString(0), row.GetInt32(1) == 1);
        }
        return new(_engine.Place, isDemonstration, _engine.ReadSchemaVersion(), Count("heat_version"), Count("coupon_version"), Count("enquiry_version"), StoredForms.ToInstant(madeAt));

        int Count(string table) => (int)_engine.Connection.Number($"SELECT COUNT(*) FROM {table} WHERE replaced_by IS NULL");
    }

    private IReadOnlyList<T> ByName<T>(RecordTable<T> table, Func<T, string> name) =>
        Read(() => (IReadOnlyList<T>)[.. CurrentRecords.Of(_engine, table, []).OrderBy(name, NaturalOrder.Comparer)]);

    private T Read<T>(Func<T> work)
    {
        try
        {
            return work();
        }
        catch (DbException e)
        {
            throw _engine.Explain(e);
        }
    }
}
