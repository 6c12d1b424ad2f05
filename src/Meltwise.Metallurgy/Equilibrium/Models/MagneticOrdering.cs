namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>The magnetic Gibbs energy of a phase as a function of its Curie temperature and moment.</summary>
/// <remarks>
/// <para><b>Formula.</b> G = R T ln(beta + 1) g(tau), tau = T / Tc, A = 518/1125 + 11692/15975 (1/p - 1);
/// tau &lt; 1: g = 1 - [79/(140 p tau) + 474/497 (1/p - 1)(tau^3/6 + tau^9/135 + tau^15/600)]/A;
/// tau &gt;= 1: g = -[tau^-5/10 + tau^-15/315 + tau^-25/1500]/A. Negative Tc and negative beta are each divided by the
/// antiferromagnetic factor.</para>
/// <para><b>Source.</b> [HillertJarl1978], after [Inden1976].</para>
/// <para><b>Limits.</b> The second derivative jumps at tau = 1, as in the paper. A Curie temperature of zero has no magnetic energy.</para>
/// </remarks>
internal sealed class MagneticOrdering(MagneticFactors factors, double gasConstant)
{
    private readonly double _p = factors.StructureFactor;
    private readonly double _a = 518.0 / 1125 + 11692.0 / 15975 * (1 / factors.StructureFactor - 1);

    /// <summary>Energy in J per mole of formula, and its derivatives to the unscaled Tc (K), beta and T (K).</summary>
    internal MagneticEnergy At(double temperatureK, double curieK, double moment)
    {
        double curieScale = curieK < 0 ? 1 / factors.AntiferromagneticFactor : 1;
        double momentScale = moment < 0 ? 1 / factors.AntiferromagneticFactor : 1;
        double tc = curieK * curieScale, b = moment * momentScale;
        if (tc <= 0 || b <= 0) return default;

        double tau = temperatureK / tc;
        (double g, double g1, double g2) = Ordering(tau);
        double log = Math.Log(b + 1), log1 = 1 / (b + 1), log2 = -log1 * log1;
        double rt = gasConstant * temperatureK;

        // g as a function of Tc: d tau / d Tc = -tau / Tc.
        double h1 = -g1 * tau / tc, h2 = (g2 * tau + 2 * g1) * tau / (tc * tc);
        // Cross derivative of R T h(Tc) to T: R [h1 + T d(h1)/dT], d(h1)/dT = -(g2 tau + g1) / Tc^2.
        double h1T = gasConstant * (h1 - tau * (g2 * tau + g1) / tc);
        double gT = gasConstant * (g + tau * g1);
        return new MagneticEnergy(
            rt * log * g,
            rt * log * h1 * curieScale, rt * log1 * g * momentScale,
            rt * log * h2 * curieScale * curieScale, rt * log1 * h1 * curieScale * momentScale, rt * log2 * g * momentScale * momentScale,
            log * gT, log * h1T * curieScale, log1 * gT * momentScale);
    }

    private (double Value, double First, double Second) Ordering(double tau)
    {
        if (tau < 1)
        {
            double k = 474.0 / 497 * (1 / _p - 1), t3 = tau * tau * tau, t9 = t3 * t3 * t3, t15 = t9 * t3 * t3;
            double lead = 79.0 / (140 * _p * tau);
            return (1 - (lead + k * (t3 / 6 + t9 / 135 + t15 / 600)) / _a,
                (lead - k * (t3 / 2 + t9 / 15 + t15 / 40)) / (tau * _a),
                -(2 * lead + k * (t3 + 8 * t9 / 15 + 14 * t15 / 40)) / (tau * tau * _a));
        }
        double i5 = Math.Pow(tau, -5), i15 = i5 * i5 * i5, i25 = i15 * i5 * i5;
        return (-(i5 / 10 + i15 / 315 + i25 / 1500) / _a,
            (i5 / 2 + i15 / 21 + i25 / 60) / (tau * _a),
            -(3 * i5 + 16 * i15 / 21 + 26 * i25 / 60) / (tau * tau * _a));
    }
}

/// <summary>Magnetic Gibbs energy and its derivatives to Curie temperature, moment and temperature.</summary>
internal readonly record struct MagneticEnergy(
    double Value, double ByCurie, double ByMoment, double ByCurieCurie, double ByCurieMoment, double ByMomentMoment,
    double ByTemperature, double ByCurieTemperature, double ByMomentTemperature);
