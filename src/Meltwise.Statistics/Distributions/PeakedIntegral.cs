namespace Meltwise.Statistics.Distributions;

/// <summary>Integral over the whole line of exp(g) for an analytic g with one peak.</summary>
/// <remarks><b>Computation.</b> Peak by bisection on the slope, ends where g has fallen by 40, trapezoidal rule halved until two
/// successive values agree to 1e-13. The rule converges exponentially here. <b>Source.</b> [TrefethenWeideman2014].</remarks>
internal static class PeakedIntegral
{
    private const double Fall = 40;

    /// <summary>∫ exp(log(u)) du.</summary>
    /// <param name="log">Logarithm of the integrand.</param>
    /// <param name="slope">Its derivative: positive left of the peak, negative right of it.</param>
    public static double Over(Func<double, double> log, Func<double, double> slope)
    {
        return Around(log, Peak(slope));
    }

    /// <summary>∫ exp(log(u)) du where no derivative is at hand: the peak is found by golden section between two points.</summary>
    public static double Between(Func<double, double> log, double low, double high)
    {
        const double Golden = 0.6180339887498949;
        double c = high - Golden * (high - low), d = low + Golden * (high - low), fc = log(c), fd = log(d);
        while (high - low > 1e-3)
        {
            if (fc > fd)
            {
                (high, d, fd) = (d, c, fc);
                c = high - Golden * (high - low);
                fc = log(c);
            }
            else
            {
                (low, c, fc) = (c, d, fd);
                d = low + Golden * (high - low);
                fd = log(d);
            }
        }
        return Around(log, 0.5 * (low + high));
    }

    private static double Around(Func<double, double> log, double peak)
    {
        double top = log(peak);
        double left = End(log, peak, top, -1), right = End(log, peak, top, 1);

        int n = 32;
        double h = (right - left) / n, sum = 0;
        for (int i = 0; i <= n; i++) sum += Math.Exp(log(left + i * h) - top);
        double last = sum * h;
        for (int halving = 0; halving < 8; halving++)
        {
            for (int i = 0; i < n; i++) sum += Math.Exp(log(left + (i + 0.5) * h) - top);
            n *= 2;
            h /= 2;
            double now = sum * h;
            if (Math.Abs(now - last) <= 1e-13 * now) return now * Math.Exp(top);
            last = now;
        }
        return last * Math.Exp(top);
    }

    private static double Peak(Func<double, double> slope)
    {
        double step = 1, low = 0, high = 0;
        while (slope(low) < 0 && low > -700) { high = low; low -= step; step *= 2; }
        step = 1;
        while (slope(high) > 0 && high < 700) { low = high; high += step; step *= 2; }
        for (int i = 0; i < 60 && high - low > 1e-9; i++)
        {
            double middle = 0.5 * (low + high);
            if (slope(middle) > 0) low = middle; else high = middle;
        }
        return 0.5 * (low + high);
    }

    /// <summary>A point beyond which nothing counts; need not be exact, only beyond and not far beyond.</summary>
    private static double End(Func<double, double> log, double peak, double top, int side)
    {
        double near = 0, far = 1e-3;
        while (log(peak + side * far) > top - Fall) { near = far; far *= 2; }
        for (int i = 0; i < 6; i++)
        {
            double middle = 0.5 * (near + far);
            if (log(peak + side * middle) > top - Fall) near = middle; else far = middle;
        }
        return peak + side * far;
    }
}
