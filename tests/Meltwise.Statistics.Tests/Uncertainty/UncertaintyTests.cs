using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.Uncertainty;
using Xunit;

namespace Meltwise.Statistics.Tests.Uncertainty;

/// <summary>Oracles/statistics/gum_conformity.json: examples of JCGM 100 and 101 (printed values from memory, all reproduced), definitions of JCGM 106.</summary>
public sealed class UncertaintyTests
{
    private static readonly JsonElement s_cases = Oracle.Read("gum_conformity.json").GetProperty("cases");

    // JCGM 100:2008, H.1, calibration of an end gauge: u_c = 32 nm, 16 effective degrees of freedom, U_99 = 93 nm.
    [Fact]
    public void End_gauge()
    {
        JsonElement c = s_cases.GetProperty("gum_H1_end_gauge").GetProperty("computed");
        InputQuantity[] inputs =
        [
            new("length of the standard", 50000623, 25, 18), new("difference", 215, c.Number("u_d_nm"), c.Number("veff_d")),
            new("difference of expansion", 0, 0.58e-6, 50), new("difference of temperature", 0, 0.029, 2), new("expansion", 11.5e-6, 1.2e-6), new("temperature", -0.1, 0.41),
        ];
        PropagatedUncertainty u = UncertaintyBudget.Propagate(inputs, x => x[0] + x[1] - x[0] * (x[2] * x[5] + x[4] * x[3]));
        Digits.Agree(c.Number("uc_nm"), u.StandardUncertainty, new(6), "combined uncertainty");
        Digits.Agree(c.Number("veff"), u.EffectiveDegreesOfFreedom, new(5), "effective degrees of freedom");
        Digits.Agree(c.Number("U99_nm"), u.Expanded(0.99), new(6), "expanded uncertainty");
        new Published("93").Agrees(u.Expanded(0.99), "as printed");
    }

    // JCGM 100:2008, H.2: simultaneous resistance and reactance from correlated means.
    [Fact]
    public void Correlated_means()
    {
        JsonElement e = s_cases.GetProperty("gum_H2_impedance"), c = e.GetProperty("computed");
        double[] mean = c.Numbers("means"), u = c.Numbers("u_means"), r = c.Numbers("r_VI_VP_IP");
        InputQuantity[] inputs = [new("V", mean[0], u[0], 4), new("I", mean[1] / 1000, u[1] / 1000, 4), new("phi", mean[2], u[2], 4)];
        double[,] correlation = { { 1, r[0], r[1] }, { r[0], 1, r[2] }, { r[1], r[2], 1 } };
        double[] uncertainty = c.Numbers("u"), value = c.Numbers("RXZ");
        Func<double[], double>[] models = [x => x[0] / x[1] * Math.Cos(x[2]), x => x[0] / x[1] * Math.Sin(x[2]), x => x[0] / x[1]];
        for (int i = 0; i < 3; i++)
        {
            PropagatedUncertainty p = UncertaintyBudget.Propagate(inputs, models[i], correlation);
            Digits.Agree(value[i], p.Value, new(10), "value");
            Digits.Agree(uncertainty[i], p.StandardUncertainty, new(6), "uncertainty");
        }
    }

    // JCGM 100:2008, H.6, hardness on the Rockwell C scale: reference machine 0.5, five readings of 0.45 each, block not uniform 0.11; 64.0 HRC with u_c = 0.55.
    [Fact]
    public void Rockwell_hardness_of_a_block()
    {
        JsonElement e = s_cases.GetProperty("gum_H6_rockwell_c"), c = e.GetProperty("computed");
        double[] part = [.. e.GetProperty("published").EnumerateObject().Skip(2).Select(p => p.Value.Number())];
        PropagatedUncertainty u = UncertaintyBudget.Propagate(
            [new("depth", c.Number("mean_depth_mm"), 0), new("machine", 0, part[0]), new("readings", 0, part[1], 4), new("block", 0, part[2])], x => 100 - x[0] / 0.002 + x[1] + x[2] + x[3]);
        Digits.Agree(c.Number("hardness_HRC"), u.Value, new(14), "hardness");
        Digits.Agree(c.Number("uc_from_the_three_components"), u.StandardUncertainty, new(9), "combined uncertainty");
        new Published("0.55").Agrees(u.StandardUncertainty, "as printed");
    }

    // JCGM 100:2008, G.4.1: y = b x1 x2 x3 with 0.25 %, 0.57 %, 0.82 % from 10, 5 and 15 readings.
    [Fact]
    public void Effective_degrees_of_freedom_of_a_product()
    {
        JsonElement e = s_cases.GetProperty("welch_satterthwaite"), c = e.GetProperty("computed");
        PropagatedUncertainty u = UncertaintyBudget.Propagate([new("x1", 1, 0.0025, 9), new("x2", 1, 0.0057, 4), new("x3", 1, 0.0082, 14)], x => x[0] * x[1] * x[2]);
        Digits.Agree(c.Number("uc_percent"), 100 * u.StandardUncertainty, new(7), "relative uncertainty");
        Digits.Agree(c.Number("veff"), u.EffectiveDegreesOfFreedom, new(6), "degrees of freedom");
        Assert.Equal(1, u.Shares.Sum(), 1e-7);
    }

    // JCGM 101:2008, 9.2: sums of four rectangular or normal inputs; exact 97.5 % points in the oracle. Four standard errors of a quantile from a million draws.
    [Fact]
    public void Sums_of_four_inputs()
    {
        JsonElement exact = s_cases.GetProperty("gum_s1_9_2_additive").GetProperty("computed_exact");
        double half = Math.Sqrt(3);
        InputDistribution unit = new InputDistribution.Rectangular(-half, half);
        MonteCarloResult rectangular = MonteCarloPropagation.Propagate([unit, unit, unit, unit], Sum, 1_000_000, 1);
        Assert.Equal(exact.Number("four_rectangular_upper_97.5"), rectangular.Symmetric.Upper, 0.015);
        Assert.Equal(2, rectangular.StandardUncertainty, 0.006);
        MonteCarloResult one = MonteCarloPropagation.Propagate([unit, unit, unit, new InputDistribution.Rectangular(-10 * half, 10 * half)], Sum, 1_000_000, 2);
        Assert.Equal(exact.Number("rect_1_1_1_10_upper_97.5"), one.Symmetric.Upper, 0.04);
        InputDistribution normal = new InputDistribution.Gaussian(0, 1);
        Assert.Equal(exact.Number("four_normal_upper_97.5"), MonteCarloPropagation.Propagate([normal, normal, normal, normal], Sum, 1_000_000, 3).Symmetric.Upper, 0.02);
    }

    private static double Sum(ReadOnlySpan<double> x) => x[0] + x[1] + x[2] + x[3];

    // JCGM 101:2008, 9.3: calibration of a weight, where the first-order law gives 0.054 mg and the distributions 0.075 mg.
    [Fact]
    public void Mass_calibration_is_not_linear()
    {
        JsonElement c = s_cases.GetProperty("gum_s1_9_3_mass").GetProperty("computed");
        MonteCarloResult r = MonteCarloPropagation.Propagate(
            [new InputDistribution.Gaussian(100000, 0.05), new InputDistribution.Gaussian(1.234, 0.02), new InputDistribution.Rectangular(1.1, 1.3), new InputDistribution.Rectangular(7000, 9000), new InputDistribution.Rectangular(7950, 8050)],
            x => (x[0] + x[1]) * (1 + (x[2] - 1.2) * (1 / x[3] - 1 / x[4])) - 100000, 1_000_000, 4);
        Assert.Equal(c.Number("MC_u"), r.StandardUncertainty, 0.0003);
        double[] shortest = c.Numbers("MC_shortest95");
        Assert.Equal(shortest[0], r.Shortest.Lower, 0.003);
        Assert.Equal(shortest[1], r.Shortest.Upper, 0.003);
    }

    [Fact]
    public void One_seed_gives_one_result()
    {
        InputDistribution t = new InputDistribution.ScaledT(5, 0.1, 4);
        Assert.Equal(MonteCarloPropagation.Propagate([t], x => x[0] * x[0], 20_000, 9), MonteCarloPropagation.Propagate([t], x => x[0] * x[0], 20_000, 9));
    }

    [Fact]
    public void Conformance_probability_guard_bands_and_risks()
    {
        JsonElement e = s_cases.GetProperty("conformity");
        foreach (JsonElement r in e.GetProperty("conformance_probability").EnumerateArray())
            Digits.Agree(r.Number("p_conform"), Conformity.Probability(r.Number("estimate"), r.Number("u"), r.Number("lower"), r.Number("upper")), new(11), r.ToString());
        foreach (JsonElement r in e.GetProperty("guard_band_one_sided").EnumerateArray())
            if (r.TryGetProperty("risk", out JsonElement risk))
                Digits.Agree(r.Number("guard_band_over_u"), Conformity.GuardBand(1, risk.Number()), new(12), "guard band");
            else
                Digits.Agree(r.Number("worst_case_probability_of_false_accept_at_the_acceptance_limit"), Conformity.WorstFalseAcceptance(r.Number("r") * r.Number("U_over_u"), 1), new(12), "false acceptance");
        foreach (JsonElement r in e.GetProperty("global_risks").EnumerateArray())
        {
            GlobalRisks risks = Conformity.Risks(r.Number("T"), r.Number("guard"), r.Number("u_m"), r.Number("process_mean"), r.Number("u_0"));
            Digits.Agree(r.Number("consumer_risk"), risks.Consumer, new(8), "consumer");
            Digits.Agree(r.Number("producer_risk"), risks.Producer, new(8), "producer");
            Digits.Agree(r.Number("accepted"), risks.Accepted, new(8), "accepted");
        }
    }

    // The handbook's example: C limit 1.40-1.60, result 1.59, u = 0.015: inside as measured, conformity not shown at 95 %.
    [Fact]
    public void A_carbon_result_close_to_its_limit_is_undetermined() =>
        Assert.Equal(ConformityDecision.Undetermined, Conformity.Decide(1.59, 1.40, 1.60, Conformity.GuardBand(0.015, 0.05)));
}
