using Meltwise.Casework.Intake;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Web.Page;

namespace Meltwise.Web.Instruments;

/// <summary>How an instrument stands, in the words of the pages, and the numbers that are typed of it.</summary>
internal static class InstrumentWords
{
    /// <summary>Until when an instrument is verified, on a day.</summary>
    public static string Verified(Instrument? instrument, IBench bench, DateOnly day) =>
        instrument is null ? "no instrument named" : Standing(VerificationStanding.On(bench.Verifications(instrument.Name), day));

    /// <summary>How it stands.</summary>
    public static string Standing(VerificationStanding standing) => standing.State switch
    {
        InstrumentState.NoRecord => "never verified on this bench",
        InstrumentState.BeforeFirst => $"not verified before {Written.Day(standing.By!.On)}",
        InstrumentState.Lapsed => $"verification lapsed on {Written.Day(standing.By!.ValidUntil)}",
        InstrumentState.Failed => $"verification failed on {Written.Day(standing.By!.On)}",
        InstrumentState.DoubtedBack => $"verified to {Written.Day(standing.By!.ValidUntil)}, but the check of {Written.Day(standing.Next!.On)} failed",
        _ => $"verified to {Written.Day(standing.By!.ValidUntil)}",
    };

    /// <summary>A number as typed, with decimal point or comma; null when left empty.</summary>
    /// <returns>False when something was typed that is no number.</returns>
    public static bool TryNumber(string? text, out double? value)
    {
        value = null;
        if (string.IsNullOrWhiteSpace(text))
        {
            return true;
        }

        if (!TypedFigure.TryRead(text, DecimalSign.Point, out Figure figure, out _) || figure.Censoring != Censoring.None || figure.Unit.Any(char.IsAsciiDigit))
        {
            return false;
        }

        value = figure.Value;
        return true;
    }
}
