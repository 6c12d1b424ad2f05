using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Web.Bench;
using Meltwise.Web.Page;
using Meltwise.Web.Settings;
using Xunit;

namespace Meltwise.Web.Tests.Bench;

public sealed class LatestLineTests
{
    private static readonly Written s_written = new(new MachineSettings());

    [Fact]
    public void Repeated_readings_of_a_coupon_stand_as_their_mean_and_others_as_typed()
    {
        LatestLine[] lines = [.. LatestLine.Of([Read("1", "impact energy", "53.4", "J"), Read("1", "hardness", "61.2", "HRC"), Read("1", "hardness", "61.3", "HRC"), Read("1", "hardness", "60.8", "HRC"), Read("2", "hardness", "62.0", "HRC")])];
        Assert.Equal(["53.4", "61.1", "62.0"], lines.Select(l => l.Value(s_written)));
        Assert.Equal(["J", "HRC", "HRC"], lines.Select(l => l.Unit));
    }

    [Fact]
    public void A_corrected_reading_and_a_bound_stand_alone()
    {
        RecordedReading corrected = Read("1", "hardness", "61.2", "HRC") with { CorrectedFrom = Typed("16.2", "HRC") };
        RecordedReading bound = Read("1", "hardness", ">68", "HRC");
        LatestLine[] lines = [.. LatestLine.Of([corrected, Read("1", "hardness", "61.3", "HRC"), bound])];
        Assert.Equal(3, lines.Length);
        Assert.Equal(corrected, lines[0].Newest);
    }

    private static RecordedReading Read(string coupon, string property, string text, string unit) =>
        new(new Reading(new CouponKey("A1", coupon), property, 1, Typed(text, unit), ReadOn: new DateOnly(2026, 7, 14)), new DateTime(2026, 7, 14, 12, 0, 0, DateTimeKind.Utc), null);

    private static CensoredValue Typed(string text, string unit) =>
        new(double.Parse(text.TrimStart('>'), System.Globalization.CultureInfo.InvariantCulture), unit, text[0] == '>' ? Censoring.Above : Censoring.None, text);
}
