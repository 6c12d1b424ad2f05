using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Intake;

/// <summary>What the user chose where a file is not clean.</summary>
/// <param name="KeepGoodRows">Store the good rows and leave out those with faults; otherwise a file with faults stores nothing.</param>
/// <param name="AcceptSuspicions">The units are as the headings say, whatever the history suggests.</param>
/// <param name="Why">Reason for correcting what the bench holds otherwise; without one, rows that contradict the bench are faults.</param>
public sealed record IntakeChoice(bool KeepGoodRows = false, bool AcceptSuspicions = false, string? Why = null)
{
    /// <summary>All or nothing, nothing accepted, nothing corrected.</summary>
    public static IntakeChoice Strict { get; } = new();
}

/// <summary>What became of an intake.</summary>
/// <param name="Stored">True when the bench was changed.</param>
/// <param name="AlreadyStored">True when the same file was stored before; nothing was added.</param>
/// <param name="CouponRows">Coupon rows that are now on the bench.</param>
/// <param name="ChemistryRows">Chemistry rows that are now on the bench.</param>
/// <param name="RowsLeftOut">Rows of data left out, with faults or contradicting the bench.</param>
/// <param name="Changes">Records added or corrected; rows that were there already count none.</param>
/// <param name="Faults">What stood against storing, with the bench's contradictions.</param>
/// <param name="Message">In words: what was stored, and what to do next.</param>
public sealed record IntakeOutcome(
    bool Stored, bool AlreadyStored, int CouponRows, int ChemistryRows, int RowsLeftOut, int Changes, IReadOnlyList<IntakeFault> Faults, string Message)
{
    /// <summary>Rows of hot histories that are now on the bench.</summary>
    public int HotHistoryRows { get; init; }
}

/// <summary>Brings a previewed file onto a bench, all of it in one transaction.</summary>
public static class IntakeRun
{
    /// <summary>Sets the preview against a bench: adds suspicions of unit and the rows that contradict what is recorded.</summary>
    /// <param name="bench">The bench.</param>
    /// <param name="preview">The file.</param>
    /// <param name="progress">Told the share of the rows looked at, 0 to 1.</param>
    /// <param name="cancel">Stops it.</param>
    public static IntakePreview Against(IBench bench, IntakePreview preview, IProgress<double>? progress = null, CancellationToken cancel = default)
    {
        IntakeChanges changes = new(new(bench, preview), preview.File);
        RowsDone done = new(Records(preview), progress, cancel);
        foreach (CouponRow row in done.Through(preview.Coupons)) _ = changes.Of(row).Count();
        foreach (ChemistryResult result in done.Through(preview.Chemistry)) _ = changes.Of(result).Count();
        foreach (HotHistoryOfTable told in done.Through(preview.HotHistories)) _ = changes.Of(told).Count();
        CouponTable history = preview.Coupons.Count == 0 ? new([], new HashSet<string>(), "the bench") : bench.CouponTable(new());
        return preview with { Suspicions = UnitSlips.Of(preview, history), Conflicts = changes.Conflicts };
    }

    /// <summary>Stores a file, or says why not. The bench is changed by all of the chosen rows or not at all.</summary>
    /// <param name="bench">The bench.</param>
    /// <param name="preview">The file, as <see cref="IntakePreview.OfFile"/> read it.</param>
    /// <param name="by">Who.</param>
    /// <param name="choice">What to do where the file is not clean.</param>
    /// <param name="progress">Told the share done, 0 to 1.</param>
    /// <param name="cancel">Stops it; nothing is stored then.</param>
    /// <exception cref="BenchException">The bench could not take it (locked, full); nothing was stored.</exception>
    /// <exception cref="OperationCanceledException">Stopped by <paramref name="cancel"/>.</exception>
    public static IntakeOutcome Store(
        IBench bench, IntakePreview preview, string by, IntakeChoice? choice = null, IProgress<double>? progress = null, CancellationToken cancel = default)
    {
        IntakeChoice chosen = choice ?? IntakeChoice.Strict;
        string key = KeyOf(preview);
        if (bench.HasIntake(key))
            return new(false, true, 0, 0, 0, 0, [], $"{preview.File} was stored before; nothing was added.");
        if (preview.IsInvented && !bench.Card.IsDemonstration)
            return Refused(preview, [], $"Nothing was stored: {preview.File} was exported from the demonstration. Its history is invented and must not reach a bench of your own.");
        IntakePreview against = preview.Suspicions.Count > 0 ? preview : preview with { Suspicions = chosen.AcceptSuspicions || preview.Coupons.Count == 0 ? [] : UnitSlips.Of(preview, bench.CouponTable(new())) };
        if (against.Suspicions.Count > 0 && !chosen.AcceptSuspicions)
            return Refused(against, [], $"Nothing was stored. {string.Join(" ", against.Suspicions.Select(s => s.Words))} Mend the heading, name the column's unit by hand, or confirm that the unit is right.");
        return StoreRows(bench, against, by, chosen, key, new(2 * Records(preview), progress, cancel));
    }

    private static IntakeOutcome StoreRows(IBench bench, IntakePreview preview, string by, IntakeChoice chosen, string key, RowsDone done)
    {
        IntakeChanges trial = new(new(bench, preview), preview.File);
        HashSet<object> contradicting = new(ReferenceEqualityComparer.Instance);
        int count = 0;
        foreach (CouponRow row in done.Through(preview.Coupons)) count += Try(trial.Of(row), row);
        foreach (ChemistryResult result in done.Through(preview.Chemistry)) count += Try(trial.Of(result), result);
        foreach (HotHistoryOfTable told in done.Through(preview.HotHistories)) count += Try(trial.Of(told), told);
        bool corrects = !string.IsNullOrWhiteSpace(chosen.Why);
        IntakeFault[] faults = [.. preview.Faults, .. corrects ? [] : trial.Conflicts];
        if (faults.Length > 0 && !chosen.KeepGoodRows) return Refused(preview, faults, string.Create(CultureInfo.InvariantCulture, $"Nothing was stored: {faults.Length} fault{(faults.Length == 1 ? "" : "s")} in {preview.File}. Mend them and read the file again, or keep the good rows only."));
        bool leaveOut = !corrects && contradicting.Count > 0;
        CouponRow[] coupons = leaveOut ? [.. preview.Coupons.Where(r => !contradicting.Contains(r))] : [.. preview.Coupons];
        ChemistryResult[] chemistry = leaveOut ? [.. preview.Chemistry.Where(r => !contradicting.Contains(r))] : [.. preview.Chemistry];
        HotHistoryOfTable[] hot = leaveOut ? [.. preview.HotHistories.Where(r => !contradicting.Contains(r))] : [.. preview.HotHistories];
        int rows = coupons.Length + chemistry.Length + hot.Sum(h => h.Rows), leftOut = preview.DataRows - rows;
        if (rows == 0) return Refused(preview, faults, $"Nothing was stored: {preview.File} has no good row.");
        IntakeChanges final = new(new(bench, preview), preview.File);
        IEnumerable<BenchChange> changes = done.Through(coupons).SelectMany(final.Of).Concat(done.Through(chemistry).SelectMany(final.Of)).Concat(done.Through(hot).SelectMany(final.Of));
        // Only a file that is on the bench whole counts as read; the rest of a file read in part may still be mended.
        if (leftOut == 0 && preview.IsClean) changes = changes.Append(new BenchChange.NoteIntake(preview.File, key, preview.DataRows));
        bench.Commit(by, corrects ? chosen.Why : null, changes);
        string left = leftOut == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $"; {leftOut} left out");
        return new(true, false, coupons.Length, chemistry.Length, leftOut, count, faults, string.Create(CultureInfo.InvariantCulture, $"{rows} rows of {preview.File} are on the bench{left}.")) { HotHistoryRows = hot.Sum(h => h.Rows) };

        int Try(IEnumerable<BenchChange> ofRow, object row)
        {
            int conflicts = trial.Conflicts.Count;
            int changed = ofRow.Count();
            if (trial.Conflicts.Count > conflicts) contradicting.Add(row);
            return changed;
        }
    }

    private static int Records(IntakePreview preview) => preview.Coupons.Count + preview.Chemistry.Count + preview.HotHistories.Count;

    /// <summary>Names a file read in a certain way: the same bytes with the columns taken otherwise are another intake.</summary>
    private static string KeyOf(IntakePreview preview) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(
        $"{preview.Digest}\n{string.Join('\n', preview.Columns.Select(c => $"{c.Sheet}\t{c.Heading}\t{c.Meaning}"))}")));

    private static IntakeOutcome Refused(IntakePreview preview, IReadOnlyList<IntakeFault> faults, string message) =>
        new(false, false, 0, 0, preview.DataRows, 0, faults.Count == 0 ? preview.Faults : faults, message);
}
