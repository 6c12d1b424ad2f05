using System.Text.Json;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;
using Meltwise.Evidence;
using Meltwise.Metallurgy.Tempering;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Tempering;

public sealed class ChainCalibrationTests
{
    private static readonly PastCase[] s_cases =
    [
        new("A", 60.1, 61.4), new("B", 61.0, 61.9), new("C", 59.2, 60.9), new("D", 62.3, 62.6), new("E", 60.7, 61.5),
        new("F", 61.8, 62.9), new("G", 58.8, 60.1), new("H", 63.0, 63.2), new("I", 60.2, 61.0),
    ];

    [Fact] // NIST StRD Norris: with a prior that says nothing, the correction is the certified least-squares line.
    public void With_a_flat_prior_it_is_the_certified_regression_of_Norris()
    {
        using JsonDocument norris = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Published", "nist-strd", "Norris.json")));
        double[] x = Values(norris, "x"), y = Values(norris, "y");
        double[] certified = [.. norris.RootElement.GetProperty("certified").GetProperty("estimates").EnumerateArray().Select(e => e.ValueKind == JsonValueKind.Array ? e[0].GetDouble() : e.GetDouble())];
        ChainCalibration calibration = new([.. x.Zip(y, (a, b) => new PastCase("", a, b))], new(1e7, 1e6, 1, 1e-9));

        Digits.Agree(certified[1], calibration.Slope, new(10), "Norris slope");
        Digits.Agree(certified[0], calibration.Correct(0), new(9), "Norris intercept");
        double residualSs = norris.RootElement.GetProperty("certified").GetProperty("residual_ss").GetDouble();
        Digits.Agree(residualSs, calibration.ScatterHrc * calibration.ScatterHrc * calibration.DegreesOfFreedom, new(6), "Norris residual sum of squares");
    }

    [Fact] // The same posterior by another road: conditioning the n-dimensional Student t of all cases, K = I + X V X'. [Gelman2013]
    public void Prediction_equals_conditioning_the_joint_distribution_of_all_cases()
    {
        CalibrationPrior prior = CalibrationPrior.FromModelErrorBars;
        double centre = s_cases.Average(c => c.PredictedHrc), at = 61.3;
        Vector<double> r = Vector<double>.Build.DenseOfEnumerable(s_cases.Select(c => c.MeasuredHrc - c.PredictedHrc));
        Matrix<double> x = Matrix<double>.Build.Dense(s_cases.Length, 2, (i, j) => j == 0 ? 1 : s_cases[i].PredictedHrc - centre);
        Matrix<double> v = Matrix<double>.Build.DenseOfDiagonalArray([prior.OffsetSdHrc * prior.OffsetSdHrc, prior.SlopeSd * prior.SlopeSd]) / (prior.ScatterHrc * prior.ScatterHrc);
        Vector<double> star = Vector<double>.Build.Dense([1, at - centre]);
        Matrix<double> inverse = (Matrix<double>.Build.DenseIdentity(s_cases.Length) + x * v * x.Transpose()).Inverse();
        Vector<double> cross = x * v * star;
        double mean = at + cross * inverse * r;
        double degrees = prior.Cases + s_cases.Length;
        double scale2 = (prior.Cases * prior.ScatterHrc * prior.ScatterHrc + r * inverse * r) / degrees;
        double sd = Math.Sqrt(scale2 * (1 + star * v * star - cross * inverse * cross));

        CorrectedHardness predicted = new ChainCalibration(s_cases, prior).Predict(at, 0.95);
        Digits.Agree(mean, predicted.Hrc, new(12), "mean");
        Digits.Agree(mean + sd * StudentT.InvCDF(0, 1, degrees, 0.975), predicted.UpperHrc, new(10), "upper end");
    }

    [Fact]
    public void It_says_how_far_the_chain_was_off_on_how_many_heats()
    {
        ChainCalibration calibration = new(s_cases, CalibrationPrior.FromModelErrorBars);
        double rms = Math.Sqrt(s_cases.Average(c => Math.Pow(c.MeasuredHrc - c.PredictedHrc, 2)));
        Assert.StartsWith(FormattableString.Invariant($"This chain was off by {rms:0.0} HRC, 1 sigma, on your 9 heats"), calibration.Notes[0], StringComparison.Ordinal);
        Assert.Equal(9, calibration.Residuals.Count);
        Assert.True(calibration.Residuals.Average(r => Math.Abs(r.AfterHrc)) < calibration.Residuals.Average(r => Math.Abs(r.BeforeHrc)));
    }

    [Fact]
    public void One_case_moves_the_prior_only_part_of_the_way_and_says_so()
    {
        ChainCalibration calibration = new([new("only", 60, 62)], CalibrationPrior.FromModelErrorBars);
        Assert.Equal(1.6, calibration.OffsetHrc, 1e-12); // 2 x 4 / (4 + 1), by hand
        Assert.Contains(calibration.Notes, n => n.StartsWith("Only 1 past case", StringComparison.Ordinal));
        Assert.Contains(calibration.Predict(66, 0.9).Notes, n => n.Contains("beyond the past cases", StringComparison.Ordinal));
    }

    [Fact]
    public void No_case_and_a_case_without_a_number_are_refused()
    {
        Assert.Throws<ArgumentException>(() => new ChainCalibration([], CalibrationPrior.FromModelErrorBars));
        Assert.Contains("K17", Assert.Throws<ArgumentException>(() => new ChainCalibration([new("K17", 60, double.NaN)], CalibrationPrior.FromModelErrorBars)).Message, StringComparison.Ordinal);
    }

    private static double[] Values(JsonDocument file, string name) =>
        [.. file.RootElement.GetProperty("data").GetProperty(name).EnumerateArray().Select(e => e.ValueKind == JsonValueKind.Array ? e[0].GetDouble() : e.GetDouble())];
}
