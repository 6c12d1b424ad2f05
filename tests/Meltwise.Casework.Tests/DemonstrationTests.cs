using System.Globalization;
using System.Text.RegularExpressions;
using Meltwise.Casework.Demonstration;
using Meltwise.Casework.Recording;
using Meltwise.Evidence;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests;

/// <summary>The demonstration bench is invented: these tests hold it to what its own page says, and check no steel.</summary>
public sealed partial class DemonstrationTests
{
    private static readonly Dictionary<string, double[]> s_model = new(StringComparer.Ordinal)
    {
        ["EnergyJ"] = [PunchMakerModel.EnergyJ],
        ["LogPerHrc"] = [PunchMakerModel.LogPerHrc],
        ["HeatSd"] = [PunchMakerModel.HeatSd],
        ["LoadSd"] = [PunchMakerModel.LoadSd],
        ["CouponSd"] = [PunchMakerModel.CouponSd],
        ["ScatterExponent"] = [PunchMakerModel.ScatterExponent],
        ["LogSource"] = [.. PunchMakerModel.LogSource.Values],
        ["LogTransverse"] = [PunchMakerModel.LogTransverse],
        ["LogIngot"] = [PunchMakerModel.LogIngot],
        ["HrcPerCarbon"] = [PunchMakerModel.HrcPerCarbon],
        ["HrcPerChromium"] = [PunchMakerModel.HrcPerChromium],
        ["HeatHardnessSd"] = [PunchMakerModel.HeatHardnessSd],
        ["CouponHardnessSd"] = [PunchMakerModel.CouponHardnessSd],
        ["IndentSd"] = [PunchMakerModel.IndentSd],
        ["Share"] = [DemonstrationPictures.Share],
        ["ReferenceMedianUm"] = [DemonstrationPictures.ReferenceMedianUm],
        ["CandidateMedianUm"] = [DemonstrationPictures.CandidateMedianUm],
        ["LogSd"] = [DemonstrationPictures.LogSd],
        ["MountSd"] = [DemonstrationPictures.MountSd],
        ["FieldSd"] = [DemonstrationPictures.FieldSd],
    };

    [Fact]
    public void The_page_states_the_true_values_the_records_are_drawn_from()
    {
        string page = File.ReadAllText(Path.Combine(Repository.Root, "docs", "guide", "demonstration.md"));
        MatchCollection rows = Row().Matches(page);
        Assert.Equal(s_model.Keys.Order(StringComparer.Ordinal), rows.Select(r => r.Groups["name"].Value).Distinct().Order(StringComparer.Ordinal));
        Assert.All(rows, row => Assert.Contains(double.Parse(row.Groups["value"].Value, CultureInfo.InvariantCulture), s_model[row.Groups["name"].Value]));
        Assert.Contains($"seed {PunchMakerModel.Seed}", page, StringComparison.Ordinal);
    }

    [Fact]
    public void Five_years_of_about_forty_heats_and_four_hundred_coupons()
    {
        IReadOnlyList<BenchChange> changes = DemonstrationBench.Changes();
        Assert.Equal(40, changes.OfType<BenchChange.PutHeat>().Count());
        Assert.InRange(changes.OfType<BenchChange.PutCoupon>().Count(), 380, 520);
        Assert.Equal(3, changes.OfType<BenchChange.PutEnquiry>().Count());
        DateOnly[] received = [.. changes.OfType<BenchChange.PutHeat>().Select(h => h.Heat.Received!.Value)];
        Assert.InRange(received.Max().DayNumber - received.Min().DayNumber, 4 * 365, 6 * 365);
    }

    [Fact]
    public void The_records_are_the_same_each_time() =>
        Assert.Equal(DemonstrationBench.Changes().OfType<BenchChange.PutReading>().Select(r => r.Reading.Typed.Text),
            DemonstrationBench.Changes().OfType<BenchChange.PutReading>().Select(r => r.Reading.Typed.Text));

    [Fact]
    public void No_enquiry_rests_on_an_instrument_out_of_verification_and_the_page_says_which_readings_do()
    {
        IReadOnlyList<BenchChange> changes = DemonstrationBench.Changes();
        ILookup<string, Verification> kept = changes.OfType<BenchChange.PutVerification>().Select(v => v.Verification).ToLookup(v => v.Instrument);
        Reading[] readings = [.. changes.OfType<BenchChange.PutReading>().Select(r => r.Reading)];
        VerificationStanding StandingOf(Reading r) => VerificationStanding.On(kept[r.Instrument!], r.ReadOn!.Value);
        HashSet<CouponKey> asked = [.. changes.OfType<BenchChange.PutEnquiry>().SelectMany(e => e.Enquiry.Coupons)];
        Assert.All(readings.Where(r => asked.Contains(r.Coupon)), r => Assert.Equal(InstrumentState.Verified, StandingOf(r).State));

        string Say(InstrumentState state) => string.Join(", ", readings.Where(r => StandingOf(r).State == state).GroupBy(r => r.Coupon.Heat).Select(g => $"{g.Key} ({g.Count()})"));
        Assert.Equal("", Say(InstrumentState.BeforeFirst) + Say(InstrumentState.Failed));
        string page = File.ReadAllText(Path.Combine(Repository.Root, "docs", "guide", "demonstration.md"));
        Assert.Contains($"impact energies of {Say(InstrumentState.Lapsed)}", page, StringComparison.Ordinal);
        Assert.Contains($"hardness readings of {Say(InstrumentState.DoubtedBack)}", page, StringComparison.Ordinal);
    }

    [GeneratedRegex(@"^\| [^|]+ \| (?<value>-?[0-9.]+)[^|]* \| `(?<name>\w+)` \|", RegexOptions.Multiline | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Row();
}
