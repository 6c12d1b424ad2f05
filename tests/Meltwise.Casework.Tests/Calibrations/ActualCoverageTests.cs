using System.Globalization;
using System.Text.RegularExpressions;
using Meltwise.Calibrations;
using Meltwise.Casework.Judging;
using Meltwise.Evidence;
using Xunit;

namespace Meltwise.Casework.Tests.Calibrations;

/// <summary>The coverages that a verdict's words quote are those of the committed tables.</summary>
public sealed partial class ActualCoverageTests
{
    [GeneratedRegex(@"^n (?<first>\d+) and (?<second>\d+), .*×(?<ratio>[\d.]+)$", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Heading { get; }

    [Fact]
    public void Of_the_other_choices()
    {
        (int First, int Second, double Ratio, Rate[] Rates)[] committed = [.. Rows("calibrate-choices")];
        Assert.Equal(committed.Select(r => (r.First, r.Second, r.Ratio)), ChoiceCoverage.Known.Select(k => (k.First, k.Second, k.Ratio)));
        foreach (((_, _, _, Rate[] rates), ChoiceCoverage.Row known) in committed.Zip(ChoiceCoverage.Known))
            foreach ((Rate rate, double? told) in rates.Zip([known.Welch, known.Trimmed, known.Permutation, known.OneVariance]))
                if (rate.Tried == 0) Assert.Null(told);
                else Assert.Equal(rate.Value, told!.Value, 5.1e-4);
    }

    [Fact]
    public void Of_the_bootstrap()
    {
        (int, double, double, double, double)[] committed = [.. Rows("calibrate-two-lots").GroupBy(r => Math.Min(r.First, r.Second)).OrderBy(g => g.Key)
            .Select(g => (g.Key, Hundredths(g.Min(r => r.Rates[5].Value)), Hundredths(g.Max(r => r.Rates[5].Value)), Hundredths(g.Min(r => r.Rates[6].Value)), Hundredths(g.Max(r => r.Rates[6].Value))))];
        Assert.Equal(committed, BootstrapCoverage.Known.Select(k => (k.Coupons, k.BcaLow, k.BcaHigh, k.StudentizedLow, k.StudentizedHigh)));

        static double Hundredths(double share) => Math.Round(share, 2);
    }

    private static IEnumerable<(int First, int Second, double Ratio, Rate[] Rates)> Rows(string table) =>
        RatePage.Read(File.ReadAllText(Path.Combine(Repository.Root, "bench", "results", table + ".md"))).Select(row =>
        {
            Match m = Heading.Match(row.Key);
            double Number(string group) => double.Parse(m.Groups[group].Value, CultureInfo.InvariantCulture);
            return ((int)Number("first"), (int)Number("second"), Number("ratio"), row.Value);
        });
}
