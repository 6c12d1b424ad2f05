using Meltwise.Domain;

namespace Meltwise.Casework.Recording;

/// <summary>A bench: everything a lab has ever recorded. Implemented by Storage on SQLite and PostgreSQL; one instance is used by one thread at a time.</summary>
public interface IBench : IDisposable
{
    /// <summary>What this bench is: place, demonstration or own, schema version, counts.</summary>
    BenchCard Card { get; }

    /// <summary>All sources by name.</summary>
    IReadOnlyList<Source> Sources();

    /// <summary>All grades by name.</summary>
    IReadOnlyList<Grade> Grades();

    /// <summary>All heats by name.</summary>
    IReadOnlyList<Heat> Heats();

    /// <summary>Chemistry of a heat, or of all heats when <paramref name="heat"/> is null.</summary>
    IReadOnlyList<ChemistryResult> Chemistry(string? heat = null);

    /// <summary>Custody of a heat's material, or of all heats when <paramref name="heat"/> is null.</summary>
    IReadOnlyList<Custody> Custody(string? heat = null);

    /// <summary>Fracture origins of the coupons of a heat, or of all when <paramref name="heat"/> is null.</summary>
    IReadOnlyList<FractureOrigin> FractureOrigins(string? heat = null);

    /// <summary>What a heat went through hot, or null when nothing is recorded of it.</summary>
    HotHistory? FindHotHistory(string heat);

    /// <summary>All treatments by name.</summary>
    IReadOnlyList<Treatment> Treatments();

    /// <summary>Traces of a furnace load, or of all loads when <paramref name="load"/> is null, by name; those set aside are among them.</summary>
    IReadOnlyList<FurnaceTrace> FurnaceTraces(string? load = null);

    /// <summary>Coupons of a heat, or all when <paramref name="heat"/> is null.</summary>
    IReadOnlyList<Coupon> Coupons(string? heat = null);

    /// <summary>Current readings of a coupon, or of all coupons of a heat when <see cref="CouponKey.Coupon"/> is empty.</summary>
    IReadOnlyList<Reading> Readings(CouponKey coupon);

    /// <summary>Current readings made with an instrument, in the order in which they were recorded.</summary>
    IReadOnlyList<Reading> ReadingsBy(string instrument);

    /// <summary>The newest readings of the bench, newest first.</summary>
    IReadOnlyList<RecordedReading> LatestReadings(int most);

    /// <summary>All instruments by name.</summary>
    IReadOnlyList<Instrument> Instruments();

    /// <summary>Verifications of an instrument, or of all, oldest first.</summary>
    IReadOnlyList<Verification> Verifications(string? instrument = null);

    /// <summary>All enquiries by name.</summary>
    IReadOnlyList<Enquiry> Enquiries();

    /// <summary>The enquiry of that name, or null.</summary>
    Enquiry? FindEnquiry(string name);

    /// <summary>Coupons joined with their heats, treatments and current readings, flat, as the judging wants them. Excluded and invalid coupons are included with their state.</summary>
    CouponTable CouponTable(CouponSelection selection);

    /// <summary>The stored verdict of an enquiry (JSON of the verdict object, with program version, data digest and seed inside), or null.</summary>
    StoredDocument? FindDocument(string enquiry, string kind);

    /// <summary>Pictures of a heat, or of all heats when <paramref name="heat"/> is null, by name; those set aside are among them.</summary>
    IReadOnlyList<Picture> Pictures(string? heat = null);

    /// <summary>The picture of that name, or null.</summary>
    Picture? FindPicture(string name);

    /// <summary>What was last found on a picture, or null.</summary>
    KeptMeasurement? FindMeasurement(string picture);

    /// <summary>Keeps the file of a picture as it came; the same file is kept once.</summary>
    /// <returns>Its SHA-256, hexadecimal, lower case.</returns>
    /// <exception cref="BenchException">It could not be written.</exception>
    string KeepOriginal(Stream content);

    /// <summary>A file on this machine that holds the original of a picture.</summary>
    /// <exception cref="BenchException">It is not there any more.</exception>
    string OriginalPath(Picture picture);

    /// <summary>History of a record, or of the whole bench when <paramref name="key"/> is null, newest first.</summary>
    IReadOnlyList<TrailEntry> Trail(string? kind = null, string? key = null, int most = 200);

    /// <summary>Heats, coupons (by name or blind code), enquiries and sources whose name or title contains the text.</summary>
    IReadOnlyList<SearchHit> Find(string text, int most = 20);

    /// <summary>Digests of files whose rows were stored already.</summary>
    bool HasIntake(string digest);

    /// <summary>Applies all changes in one transaction with their trail entries: all of them, or none.</summary>
    /// <param name="by">Who.</param>
    /// <param name="why">The reason; required when a change corrects something already recorded.</param>
    /// <param name="changes">The changes, applied in order.</param>
    /// <exception cref="BenchException">The bench could not take them; nothing was stored.</exception>
    void Commit(string by, string? why, IEnumerable<BenchChange> changes);
}

/// <summary>What a bench is.</summary>
/// <param name="Place">File path or a connection's host and database, without secrets.</param>
/// <param name="IsDemonstration">True for the invented demonstration bench; nothing is ever copied out of it into an own bench.</param>
/// <param name="SchemaVersion">Number of the last migration.</param>
/// <param name="Heats">Heats recorded.</param>
/// <param name="Coupons">Coupons recorded.</param>
/// <param name="Enquiries">Enquiries recorded.</param>
/// <param name="SinceUtc">When the bench was made.</param>
public sealed record BenchCard(string Place, bool IsDemonstration, int SchemaVersion, int Heats, int Coupons, int Enquiries, DateTime SinceUtc);

/// <summary>Which coupons are wanted; null means any.</summary>
/// <param name="Heats">Only coupons of these heats.</param>
/// <param name="Coupons">Only these coupons.</param>
/// <param name="Property">Only coupons with a reading of this property.</param>
/// <param name="Enquiry">Exclusions and key stamps of this enquiry are applied to the rows.</param>
public sealed record CouponSelection(
    IReadOnlyCollection<string>? Heats = null, IReadOnlyCollection<CouponKey>? Coupons = null, string? Property = null, string? Enquiry = null);

/// <summary>A reading with its stamp.</summary>
/// <param name="Reading">The reading as it stands.</param>
/// <param name="RecordedAtUtc">When it was recorded.</param>
/// <param name="CorrectedFrom">What it said before the last correction, or null.</param>
public sealed record RecordedReading(Reading Reading, DateTime RecordedAtUtc, CensoredValue? CorrectedFrom);

/// <summary>A document derived from records and kept beside them; it can be made again.</summary>
/// <param name="Enquiry">The enquiry it belongs to.</param>
/// <param name="Kind"><c>verdict</c>, <c>explanation</c>, <c>plan</c>.</param>
/// <param name="Json">The document.</param>
/// <param name="AtUtc">When it was made.</param>
public sealed record StoredDocument(string Enquiry, string Kind, string Json, DateTime AtUtc);

/// <summary>A search result.</summary>
/// <param name="Kind"><c>heat</c>, <c>coupon</c>, <c>enquiry</c>, <c>source</c>.</param>
/// <param name="Key">Name of the record; a coupon as <c>heat/coupon</c>.</param>
/// <param name="Detail">A few words on it.</param>
public sealed record SearchHit(string Kind, string Key, string Detail);

/// <summary>The bench could not do what was asked. The message is fit for a reader: what happened, what was kept, what to do.</summary>
public sealed class BenchException(string message, Exception? inner = null) : Exception(message, inner);
