using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Web.Enquiries;
using Meltwise.Web.Page;

namespace Meltwise.Web.Readings;

/// <summary>What the keys of the series do: store a cell, answer a question about it, take the last step back. The checks and the storing are those of the use case.</summary>
internal sealed class SeriesTyping(Desk desk, ReadingHistory history, Series series, EntryChoice setting)
{
    private readonly TypeReading _type = new(desk.Bench, history);

    /// <summary>What is doubtful about the readings of the series.</summary>
    public IReadOnlyDictionary<Reading, IReadOnlyList<ReadingDoubt>> Doubts() => _type.DoubtsOf(series.Cells.Select(c => c.Reading).OfType<Reading>());

    /// <summary>Stores what was typed into a cell; over a reading that is there it is a correction with its reason.</summary>
    /// <returns>What stands against it, or null; and whether the reading asks for an answer.</returns>
    public (string? Fault, bool Asks) Save(Cell cell, string? text, bool notBroken)
    {
        TypedReading typed = setting.Typed(cell, series.Property, text ?? "", notBroken);
        if (cell.Reading is { } there && there.Typed.Text == typed.Text.Trim().Replace(',', '.') && there.Typed.Unit == typed.Unit)
        {
            return (null, false);
        }

        Reading? stored = null;
        string? fault = desk.Try(_ =>
        {
            Outcome<Reading> outcome = cell.Reading is { } old
                ? _type.Correct(typed, $"typed again at the machine: {old.Typed} was meant to be {typed.Text.Trim()}", desk.Hand)
                : _type.Run(typed, desk.Hand, With(cell));
            stored = outcome.Value;
            return outcome;
        });
        return (fault, stored is not null && _type.DoubtsOf([stored]).Values.SelectMany(d => d).Any(d => d.Asks));
    }

    /// <summary>Takes the answer to a question about a reading.</summary>
    /// <returns>What stands against it, or null; and whether the reading was taken away.</returns>
    public (string? Fault, bool Withdrawn) Answer(Reading reading, string? choice, ReadingDoubt doubt)
    {
        TypedReading same = new(reading.Coupon, reading.Property, reading.Number, reading.Typed.Text, reading.Typed.Unit, reading.Instrument, reading.Session, reading.TestTemperatureK, reading.State, ReadingDoubt.Confirmed);
        string? Correct(TypedReading typed, string why) => desk.Try(_ => _type.Correct(typed, why, desk.Hand));
        return choice switch
        {
            "other" when doubt.OtherUnit is { } other => (Correct(same with { Unit = other.Name }, $"unit slip: {reading.Typed.Text} was read in {other.Name}, not {reading.Typed.Unit}"), false),
            "bound" => (Correct(same with { Text = ">" + reading.Typed.Text, Cause = reading.Cause }, $"above the usable range: {reading.Typed} is a lower bound"), false),
            "keep" => (Correct(same, $"asked about {reading.Typed}: confirmed as read"), false),
            "again" => (desk.Try(_ => _type.Withdraw(reading.Coupon, reading.Property, reading.Number, $"typed again: {reading.Typed} was questioned", desk.Hand)), true),
            _ => ("Choose one of the answers.", false),
        };
    }

    /// <summary>Takes back the last step in the series.</summary>
    /// <returns>What stands against it, or null; and the reading it was about.</returns>
    public (string? Fault, Reading? Reading) Undo()
    {
        HashSet<CouponKey> mine = [.. series.View.Rows.Select(r => new CouponKey(r.Heat, r.Coupon))];
        Reading? last = desk.Bench.LatestReadings(200).FirstOrDefault(r => r.Reading.Property == series.Property.Name && mine.Contains(r.Reading.Coupon))?.Reading;
        return last is null
            ? ("There is nothing to undo in this series.", null)
            : (desk.Try(_ => _type.Undo(last.Coupon, last.Property, last.Number, desk.Hand)), last);
    }

    // The last reading of the primary property also stamps the stage.
    private IEnumerable<BenchChange> With(Cell cell)
    {
        Enquiry enquiry = series.View.Enquiry;
        bool last = series.Property == series.View.Property && series.FirstWaiting == cell && series.Cells.Count(c => c.Reading is null) == 1;
        return last ? [new BenchChange.PutEnquiry(enquiry with { StagesUtc = Stages.Reached(enquiry, EnquiryStage.Tested, DateTime.UtcNow) })] : [];
    }
}
