namespace Meltwise.Statistics.Distributions;

/// <summary>Finds the point where a tail probability has a wanted value.</summary>
/// <remarks>
/// <para><b>Computation.</b> The logarithm of the smaller tail is matched, so that 1e-12 is met as closely as 0.5;
/// the bracket grows from a starting point and a Chandrupatla search closes it.</para>
/// <para><b>Source.</b> [Chandrupatla1997].</para>
/// </remarks>
internal static class TailInversion
{
    /// <summary>Solves tails(x) = p for a distribution on the whole line.</summary>
    /// <param name="p">Wanted lower-tail probability, above 0 and below 1.</param>
    /// <param name="tails">Lower and upper tail at a point; the lower one must rise with the point.</param>
    /// <param name="start">A point of the right order.</param>
    /// <param name="width">First step of the bracket; above 0.</param>
    public static double OnLine(double p, Func<double, (double Lower, double Upper)> tails, double start, double width)
    {
        if (p is <= 0 or >= 1 || double.IsNaN(p))
            throw new ArgumentOutOfRangeException(nameof(p), p, "A quantile needs a probability above 0 and below 1.");
        bool lower = p <= 0.5;
        double target = lower ? Math.Log(p) : Math.Log(1 - p);
        double Excess(double x)
        {
            (double l, double u) = tails(x);
            return lower ? Log(l) - target : target - Log(u);
        }

        double a = start - width, b = start + width, fa = Excess(a), fb = Excess(b);
        for (int i = 0; fa > 0 && i < 1000; i++)
            (b, fb, a, fa, width) = (a, fa, a - 2 * width, Excess(a - 2 * width), 2 * width);
        for (int i = 0; fb < 0 && i < 1000; i++)
            (a, fa, b, fb, width) = (b, fb, b + 2 * width, Excess(b + 2 * width), 2 * width);
        return Close(Excess, a, fa, b, fb);
    }

    /// <summary>Solves tails(x) = p for a distribution on x &gt; 0; the search runs in ln x.</summary>
    public static double OnPositive(double p, Func<double, (double Lower, double Upper)> tails, double start) =>
        Math.Exp(OnLine(p, u => tails(Math.Exp(u)), Math.Log(start), 0.5));

    private static double Log(double tail) => tail > 0 ? Math.Log(tail) : -800;

    /// <summary>Inverse quadratic interpolation where it is safe, bisection elsewhere.</summary>
    private static double Close(Func<double, double> f, double a, double fa, double b, double fb)
    {
        double c = a, fc = fa, t = 0.5;
        for (int i = 0; i < 200; i++)
        {
            double x = a + t * (b - a), fx = f(x);
            if (Math.Sign(fx) == Math.Sign(fa)) (c, fc) = (a, fa);
            else (c, b, fc, fb) = (b, a, fb, fa);
            (a, fa) = (x, fx);

            double best = Math.Abs(fa) < Math.Abs(fb) ? a : b;
            double tolerance = 4e-16 * Math.Abs(best) + 1e-300;
            double limit = tolerance / Math.Abs(b - c);
            if (limit > 0.5 || fa.Equals(0.0)) return best;

            double xi = (a - b) / (c - b), phi = (fa - fb) / (fc - fb);
            t = phi * phi < xi && (1 - phi) * (1 - phi) < 1 - xi
                ? fa / (fb - fa) * fc / (fb - fc) + (c - a) / (b - a) * fa / (fc - fa) * fb / (fc - fb)
                : 0.5;
            t = Math.Clamp(t, limit, 1 - limit);
        }
        return a;
    }
}
