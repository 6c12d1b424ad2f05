using Meltwise.Domain;

namespace Meltwise.Casework.Recording;

/// <summary>One change of a bench. A closed set; the storage applies it and writes the trail entry.</summary>
/// <remarks>A <c>Put</c> of a record whose key exists is a correction: the old version stays readable in the trail, and the commit must name a reason
/// (for a reading always; for other records when something already there is altered, not when an empty field is filled).</remarks>
public abstract record BenchChange
{
    private BenchChange() { }

    /// <summary>Adds or corrects a source.</summary>
    public sealed record PutSource(Source Source) : BenchChange;

    /// <summary>Adds or corrects a grade.</summary>
    public sealed record PutGrade(Grade Grade) : BenchChange;

    /// <summary>Adds or corrects a heat.</summary>
    public sealed record PutHeat(Heat Heat) : BenchChange;

    /// <summary>Adds or corrects what a heat went through hot.</summary>
    public sealed record PutHotHistory(HotHistory History) : BenchChange;

    /// <summary>Adds a chemistry result, or corrects the one of the same heat, element, method, laboratory and date.</summary>
    public sealed record PutChemistry(ChemistryResult Result) : BenchChange;

    /// <summary>Adds or corrects the custody of a heat's material.</summary>
    public sealed record PutCustody(Custody Custody) : BenchChange;

    /// <summary>Adds or corrects the fracture origin of a coupon.</summary>
    public sealed record PutFractureOrigin(FractureOrigin Origin) : BenchChange;

    /// <summary>Adds or corrects a treatment.</summary>
    public sealed record PutTreatment(Treatment Treatment) : BenchChange;

    /// <summary>Adds or corrects a coupon.</summary>
    public sealed record PutCoupon(Coupon Coupon) : BenchChange;

    /// <summary>Adds a reading, or corrects the one of the same coupon, property and number.</summary>
    public sealed record PutReading(Reading Reading) : BenchChange;

    /// <summary>Takes back a reading that should not be there (undo); it stays in the trail.</summary>
    public sealed record WithdrawReading(CouponKey Coupon, string Property, int Number) : BenchChange;

    /// <summary>Adds or corrects an instrument.</summary>
    public sealed record PutInstrument(Instrument Instrument) : BenchChange;

    /// <summary>Adds a verification.</summary>
    public sealed record PutVerification(Verification Verification) : BenchChange;

    /// <summary>Adds an enquiry or stores its new state.</summary>
    public sealed record PutEnquiry(Enquiry Enquiry) : BenchChange;

    /// <summary>Stores a derived document of an enquiry.</summary>
    public sealed record PutDocument(StoredDocument Document) : BenchChange;

    /// <summary>Adds or corrects the record of a picture; its original must have been kept (<see cref="IBench.KeepOriginal"/>).</summary>
    public sealed record PutPicture(Picture Picture) : BenchChange;

    /// <summary>Stores what was found on a picture.</summary>
    public sealed record PutMeasurement(KeptMeasurement Measurement) : BenchChange;

    /// <summary>Adds the trace of a furnace load, or sets one aside.</summary>
    public sealed record PutFurnaceTrace(FurnaceTrace Trace) : BenchChange;

    /// <summary>Notes that the rows of a file were stored, so that reading the same file again adds nothing.</summary>
    public sealed record NoteIntake(string FileName, string Digest, int Rows) : BenchChange;
}
