using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.ErrorsInVariables;
using Xunit;

namespace Meltwise.Statistics.Tests.ErrorsInVariables;

public sealed class LatentHardnessTrendTests
{
    // With one error variance for all and no sampling error of y the model is just identified: maximum likelihood equates moments with divisor n,
    // so the slope is m_xy/(m_xx - σ_u²·n/(n - 1)) in moments with divisor n - 1: Fuller's corn data, 1.2.1, with the error variance scaled to match.
    [Fact]
    public void Equal_errors_have_a_closed_answer()
    {
        JsonElement e = Oracle.Read("errors_in_variables.json").GetProperty("cases").GetProperty("fuller_corn");
        double[] x = e.Numbers("x"), y = e.Numbers("y");
        int n = x.Length;
        double error = e.Number("error_variance_x") * (n - 1) / n;
        LatentTrendFit fit = LatentHardnessTrend.Fit(x, [.. x.Select(_ => error)], y, [.. x.Select(_ => 0.0)]);
        Digits.Agree(e.GetProperty("computed").Number("beta1"), fit.Slope, new(5), "slope");
        Digits.Agree(e.GetProperty("computed").Number("reliability_ratio"), fit.Reliability, new(5), "reliability");
    }

    // Without error in hardness the model is an ordinary regression, and the slope its ordinary slope.
    [Fact]
    public void Without_error_it_is_the_ordinary_slope()
    {
        JsonElement e = Oracle.Read("errors_in_variables.json").GetProperty("cases").GetProperty("fuller_corn");
        double[] x = e.Numbers("x"), y = e.Numbers("y");
        LatentTrendFit fit = LatentHardnessTrend.Fit(x, [.. x.Select(_ => 0.0)], y, [.. x.Select(_ => 0.0)]);
        Digits.Agree(e.GetProperty("computed").Number("naive_ols_slope"), fit.Slope, new(5), "slope");
        Assert.Equal(1, fit.Reliability, 1e-12);
    }
}
