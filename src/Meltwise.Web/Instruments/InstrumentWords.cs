using System.Globalization;
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

    /// <summary>Readings as typed in one line, parted by spaces or semicolons; null when left empty.</summary>
    /// <returns>False when one of them is no number; <paramref name="fault"/> names it.</returns>
    public static bool TrySeries(string? text, out IReadOnlyList<double>? values, out string fault)
    {
        List<double> read = [];
        (values, fault) = (null, "");
        foreach (string typed in (text ?? "").Split([' ', ';', '\t', '\u00A0'], StringSplitOptions.RemoveEmptyEntries))
        {
            if (!double.TryParse(typed.TrimEnd(',').Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out double value) || !double.IsFinite(value))
            {
                fault = $"“{typed}” among the readings is not a number; write them parted by spaces, such as 62.3 62.4 62.6.";
                return false;
            }

            read.Add(value);
        }

        values = read.Count > 0 ? read : null;
        return true;
    }

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
