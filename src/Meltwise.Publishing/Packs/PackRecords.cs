using Meltwise.Casework.Picturing;
using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Publishing.Packs;

/// <summary>The records behind one enquiry, complete, so that a bench can take them in again.</summary>
public sealed record PackRecords
{
    /// <summary>The enquiry.</summary>
    public required Enquiry Enquiry { get; init; }

    /// <summary>Sources of its heats.</summary>
    public IReadOnlyList<Source> Sources { get; init; } = [];

    /// <summary>Grades of its heats.</summary>
    public IReadOnlyList<Grade> Grades { get; init; } = [];

    /// <summary>Its heats.</summary>
    public IReadOnlyList<Heat> Heats { get; init; } = [];

    /// <summary>What its heats went through hot, where recorded.</summary>
    public IReadOnlyList<HotHistory> HotHistories { get; init; } = [];

    /// <summary>Treatments of its coupons.</summary>
    public IReadOnlyList<Treatment> Treatments { get; init; } = [];

    /// <summary>Traces of the furnace loads that its coupons stood in, each with the file it came in.</summary>
    public IReadOnlyList<FurnaceTrace> FurnaceTraces { get; init; } = [];

    /// <summary>Its coupons.</summary>
    public IReadOnlyList<Coupon> Coupons { get; init; } = [];

    /// <summary>Readings of its coupons.</summary>
    public IReadOnlyList<Reading> Readings { get; init; } = [];

    /// <summary>Chemistry of its heats.</summary>
    public IReadOnlyList<ChemistryResult> Chemistry { get; init; } = [];

    /// <summary>Custody of its heats' material.</summary>
    public IReadOnlyList<Custody> Custody { get; init; } = [];

    /// <summary>Fracture origins of its coupons.</summary>
    public IReadOnlyList<FractureOrigin> Origins { get; init; } = [];

    /// <summary>Instruments that were used.</summary>
    public IReadOnlyList<Instrument> Instruments { get; init; } = [];

    /// <summary>Their verifications.</summary>
    public IReadOnlyList<Verification> Verifications { get; init; } = [];

    /// <summary>Its pictures; their files are in <c>pictures/</c>.</summary>
    public IReadOnlyList<Picture> Pictures { get; init; } = [];

    /// <summary>What was found on them.</summary>
    public IReadOnlyList<KeptMeasurement> Measurements { get; init; } = [];

    /// <summary>The measured comparison of the pictures; null when there is none.</summary>
    public StructureDocument? Structure { get; init; }

    /// <summary>The records as the bench takes them in: pictures and furnace traces are numbered on each bench by itself, so theirs get free names.</summary>
    /// <param name="there">The pictures of the bench.</param>
    /// <param name="traces">The furnace traces of the bench.</param>
    public PackRecords FittedTo(IReadOnlyList<Picture> there, IReadOnlyList<FurnaceTrace> traces) => TraceNames.Fit(PictureNames.Fit(this, there), traces);

    /// <summary>The changes that put these records on a bench, in an order that a bench accepts.</summary>
    public IEnumerable<BenchChange> ToChanges()
    {
        foreach (Source x in Sources) yield return new BenchChange.PutSource(x);
        foreach (Grade x in Grades) yield return new BenchChange.PutGrade(x);
        foreach (Heat x in Heats) yield return new BenchChange.PutHeat(x);
        foreach (HotHistory x in HotHistories) yield return new BenchChange.PutHotHistory(x);
        foreach (Treatment x in Treatments) yield return new BenchChange.PutTreatment(x);
        foreach (Instrument x in Instruments) yield return new BenchChange.PutInstrument(x);
        foreach (Verification x in Verifications) yield return new BenchChange.PutVerification(x);
        foreach (ChemistryResult x in Chemistry) yield return new BenchChange.PutChemistry(x);
        foreach (Custody x in Custody) yield return new BenchChange.PutCustody(x);
        foreach (Coupon x in Coupons) yield return new BenchChange.PutCoupon(x);
        foreach (FurnaceTrace x in FurnaceTraces) yield return new BenchChange.PutFurnaceTrace(x);
        foreach (FractureOrigin x in Origins) yield return new BenchChange.PutFractureOrigin(x);
        foreach (Reading x in Readings) yield return new BenchChange.PutReading(x);
        foreach (Picture x in Pictures) yield return new BenchChange.PutPicture(x);
        foreach (KeptMeasurement x in Measurements) yield return new BenchChange.PutMeasurement(x);
        yield return new BenchChange.PutEnquiry(Enquiry);
        if (Structure is { } structure) yield return StructureComparison.Keep(Enquiry, structure);
    }
}
