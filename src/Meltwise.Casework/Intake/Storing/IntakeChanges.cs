using System.Globalization;
using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Intake;

/// <summary>Turns the good rows of a file into changes of a bench: what is new is added, an empty field is filled, what is there already is left, and what contradicts the bench is told.</summary>
internal sealed class IntakeChanges(BenchBefore before, string file)
{
    private readonly List<IntakeFault> _conflicts = [];

    /// <summary>Where the file and the bench disagree; stored only as corrections with a reason.</summary>
    public IReadOnlyList<IntakeFault> Conflicts => _conflicts;

    /// <summary>The changes one hot history makes.</summary>
    public IEnumerable<BenchChange> Of(HotHistoryOfTable told)
    {
        HotHistory now = told.History;
        if (OfNewHeat(now.Heat) is { } putHeat) yield return putHeat;
        HotHistory history = now;
        if (before.HotHistories.TryGetValue(now.Heat, out HotHistory? there))
        {
            history = new(
                now.Heat, Steps(told, there), Fill(told, "powder sieve", there.LargestPowderUm, now.LargestPowderUm), Fill(told, "atmosphere", there.Atmosphere, now.Atmosphere),
                Fill(told, "cooling", there.Cooling, now.Cooling), Fill(told, "said by", there.Told, now.Told));
            if (history with { Steps = there.Steps } == there && history.Steps.SequenceEqual(there.Steps)) yield break;
        }
        yield return new BenchChange.PutHotHistory(history);
    }

    /// <summary>The changes one chemistry result makes.</summary>
    public IEnumerable<BenchChange> Of(ChemistryResult result)
    {
        if (OfNewHeat(result.Heat) is { } putHeat) yield return putHeat;
        if (before.Chemistry.TryGetValue((result.Heat, result.Element, result.Method, result.Laboratory, result.Date), out ChemistryResult? there))
        {
            if (there == result) yield break;
            if (there.Typed != result.Typed) _conflicts.Add(new(file, null, null, null, $"{result.Element} of heat {result.Heat} {result.Typed}", $"{there.Typed}, as on the bench; or a reason for correcting it"));
        }
        yield return new BenchChange.PutChemistry(result);
    }

    /// <summary>The changes one coupon row makes.</summary>
    public IEnumerable<BenchChange> Of(CouponRow row)
    {
        foreach (BenchChange change in OfNames(row)) yield return change;
        string? treatment = row.Treatment ?? (row.TemperFamily is null ? null : $"{row.TemperFamily} temper, set values unknown");
        if (treatment is not null && before.TreatmentOfSetValues.TryGetValue(treatment, out string? name) && !before.Treatments.ContainsKey(treatment)) treatment = name;
        if (treatment is not null && OfTreatment(row, treatment) is { } putTreatment) yield return putTreatment;
        if (OfCoupon(row, treatment) is { } putCoupon) yield return putCoupon;
        if (row.Fracture is { } origin && OfOrigin(row, origin) is { } putOrigin) yield return putOrigin;
        foreach ((string property, IReadOnlyList<CensoredValue> values) in row.Readings.Prepend(new(PropertyTable.Hardness.Name, row.Hardness)))
            for (int i = 0; i < values.Count; i++)
                if (OfReading(row, property, i + 1, values[i]) is { } putReading) yield return putReading;
    }

    private BenchChange.PutHeat? OfNewHeat(string name)
    {
        if (before.Heats.ContainsKey(name)) return null;
        Heat heat = new(name, null, null, null);
        before.Heats[name] = heat;
        return new(heat);
    }

    private IReadOnlyList<HotStep> Steps(HotHistoryOfTable told, HotHistory there)
    {
        IReadOnlyList<HotStep> now = told.History.Steps;
        if (now.Count == 0) return there.Steps;
        if (there.Steps.Count > 0 && !now.SequenceEqual(there.Steps)) Contradict(told, "hot history", HotHistoryText.Write(now), HotHistoryText.Write(there.Steps));
        return now;
    }

    private T? Fill<T>(HotHistoryOfTable told, string what, T? there, T? now)
    {
        if (there is not null && now is not null && !there.Equals(now)) Contradict(told, what, string.Create(CultureInfo.InvariantCulture, $"{now}"), string.Create(CultureInfo.InvariantCulture, $"{there}"));
        return now ?? there;
    }

    private void Contradict(HotHistoryOfTable told, string what, string now, string there) =>
        _conflicts.Add(new(file, told.Sheet, told.FirstRow, what, $"{now} for heat {told.History.Heat}", $"{there}, as on the bench; or a reason for correcting it"));

    private IEnumerable<BenchChange> OfNames(CouponRow row)
    {
        if (row.Source is { } source && !before.Sources.ContainsKey(source))
            yield return new BenchChange.PutSource(before.Sources[source] = new(source, PublicLabels.Next(before.Sources.Values)));
        if (row.Grade is { } grade && before.Grades.Add(grade)) yield return new BenchChange.PutGrade(new(grade));
        if (row.Instrument is { } instrument && before.Instruments.Add(instrument)) yield return new BenchChange.PutInstrument(NewInstrument(instrument, row));
        Heat there = before.Heats.GetValueOrDefault(row.Heat) ?? new(row.Heat, null, null, null);
        Heat heat = there with
        {
            Source = Fill(row, "source", there.Source, row.Source),
            Grade = Fill(row, "grade", there.Grade, row.Grade),
            Route = Fill(row, "route", there.Route, row.Route),
        };
        if (before.Heats.TryGetValue(row.Heat, out Heat? known) && known == heat) yield break;
        before.Heats[heat.Name] = heat;
        yield return new BenchChange.PutHeat(heat);
    }

    private BenchChange.PutTreatment? OfTreatment(CouponRow row, string name)
    {
        Treatment there = before.Treatments.GetValueOrDefault(name) ?? new(name, []);
        string? family = Fill(row, "temper family", there.TemperFamily, row.TemperFamily);
        Treatment treatment = there.TemperFamily == family ? there : there with { StatedTemperFamily = family };
        if (before.Treatments.TryGetValue(name, out Treatment? known) && ReferenceEquals(known, treatment)) return null;
        before.Treatments[name] = treatment;
        return new(treatment);
    }

    private BenchChange.PutCoupon? OfCoupon(CouponRow row, string? treatment)
    {
        CouponKey key = new(row.Heat, row.Coupon);
        if (!before.Coupons.TryGetValue(key, out Coupon? there))
            return new(new(row.Heat, row.Coupon, row.Orientation, row.Geometry, treatment, row.Load, row.Order, row.Code, row.Position, row.HardnessMoment, row.HardnessOrder));
        Coupon coupon = there with
        {
            Orientation = Fill(row, "orientation", there.Orientation, row.Orientation),
            Geometry = Fill(row, "geometry", there.Geometry, row.Geometry),
            Treatment = Fill(row, "treatment", there.Treatment, treatment),
            Load = Fill(row, "load", there.Load, row.Load),
            Code = Fill(row, "code", there.Code, row.Code),
            Order = Fill(row, "order", there.Order, row.Order),
            Position = Fill(row, "position", there.Position, row.Position),
            HardnessMoment = Fill(row, "hardness moment", there.HardnessMoment, row.HardnessMoment),
            HardnessOrder = Fill(row, "hardness order", there.HardnessOrder, row.HardnessOrder),
        };
        return coupon == there ? null : new(coupon);
    }

    private BenchChange.PutFractureOrigin? OfOrigin(CouponRow row, FractureOrigin now)
    {
        if (!before.Origins.TryGetValue(now.Coupon, out FractureOrigin? there)) return new(now);
        FractureOrigin origin = now with
        {
            Kind = Fill(row, "fracture origin", (OriginKind?)there.Kind, now.Kind) ?? now.Kind,
            SizeUm = Fill(row, "origin size", there.SizeUm, now.SizeUm),
            FromSurfaceUm = Fill(row, "origin from surface", there.FromSurfaceUm, now.FromSurfaceUm),
            SeenBy = Fill(row, "origin seen by", there.SeenBy, now.SeenBy),
            Notes = Fill(row, "origin notes", there.Notes, now.Notes),
        };
        return origin == there ? null : new(origin);
    }

    private BenchChange.PutReading? OfReading(CouponRow row, string property, int number, CensoredValue value)
    {
        bool hardness = property == PropertyTable.Hardness.Name;
        bool alone = row.Readings.Count == 0;
        Reading reading = new(
            new(row.Heat, row.Coupon), property, number, value, hardness && !alone ? null : row.Instrument, hardness || row.Hardness.Count == 0 ? row.Session : null,
            hardness && !alone ? null : row.TestTemperatureK, null, row.Date, hardness && !alone ? CouponState.Valid : row.State, hardness && !alone ? null : row.Cause);
        if (!before.Readings.TryGetValue((reading.Coupon, property, number), out Reading? there)) return new(reading);
        if (there.Typed == value && there.State == reading.State) return null;
        _conflicts.Add(new(file, null, RowOf(row), property, $"{value}{(reading.State == CouponState.Valid ? "" : $", {reading.State}")} for coupon {reading.Coupon}", $"{there.Typed}, as on the bench; or a reason for correcting it"));
        return new(reading with { Instrument = reading.Instrument ?? there.Instrument, Session = reading.Session ?? there.Session, TestTemperatureK = reading.TestTemperatureK ?? there.TestTemperatureK, ReadOn = reading.ReadOn ?? there.ReadOn });
    }

    // What is empty on one side is taken from the other; where both speak and differ, the file's word is a correction.
    private string? Fill(CouponRow row, string what, string? there, string? now)
    {
        if (there is null || now is null || there == now) return there ?? now;
        if (what == "treatment" && before.Treatments.TryGetValue(there, out Treatment? known) && known.SetValues == now) return there;
        _conflicts.Add(new(file, null, RowOf(row), what, $"{now} for {row.Heat}/{row.Coupon}", $"{there}, as on the bench; or a reason for correcting it"));
        return now;
    }

    private T? Fill<T>(CouponRow row, string what, T? there, T? now)
        where T : struct
    {
        if (there is not null && now is not null && !there.Value.Equals(now.Value))
            _conflicts.Add(new(file, null, RowOf(row), what, string.Create(CultureInfo.InvariantCulture, $"{now} for {row.Heat}/{row.Coupon}"), string.Create(CultureInfo.InvariantCulture, $"{there}, as on the bench; or a reason for correcting it")));
        return now ?? there;
    }

    private static Instrument NewInstrument(string name, CouponRow row)
    {
        (string property, IReadOnlyList<CensoredValue> values) = row.Readings.FirstOrDefault() is { Key: not null } first ? (first.Key, first.Value) : (PropertyTable.Hardness.Name, row.Hardness);
        string unit = values.Count > 0 ? values[0].Unit : PropertyTable.Find(property)?.StoredUnit.Name ?? "";
        string kind = property switch { "hardness" => "hardness tester", "impact energy" => "pendulum", _ => "instrument" };
        return new(name, kind, property, unit);
    }

    private static int? RowOf(CouponRow row) =>
        row.Origin is { } origin && origin.LastIndexOf("row ", StringComparison.Ordinal) is var at and >= 0 && int.TryParse(origin.AsSpan(at + 4), NumberStyles.None, CultureInfo.InvariantCulture, out int number) ? number : null;
}
