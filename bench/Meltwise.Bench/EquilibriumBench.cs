using System.Diagnostics;
using System.Globalization;
using Meltwise.Metallurgy.Equilibrium;

namespace Meltwise.Bench;

/// <summary>Speed and robustness of the equilibrium: cold and warm times, the chemistry draws of an explanation, and 20,000 random steels.</summary>
internal static class EquilibriumBench
{
    private const double KelvinAt1050C = 1050 + 273.15;

    /// <summary>Runs all parts and writes a table.</summary>
    internal static void Run(TextWriter output)
    {
        SteelComposition steel = SteelComposition.Parse("C 1.0, Cr 8.0, Mo 2.0, V 1.5, W 1.0, Mn 0.4, Si 0.9");
        output.WriteLine("| what | result | asked for |");
        output.WriteLine("| --- | --- | --- |");
        Line(output, "cold equilibrium, 8 elements, 1050 °C, one thread", ColdTimes(steel).Text("0.0"), "20 ms");
        Line(output, "warm-started equilibrium, same steel, one thread", WarmTimes(steel).Text("0.00"), "1 ms");
        Line(output, "20,000 warm-started equilibria, two threads", $"{ExplanationSeconds(steel):0.0} s", "20 s");
        RandomSteels(output, 20_000);
    }

    private static Times ColdTimes(SteelComposition steel)
    {
        EquilibriumSolver solver = EquilibriumSolver.For(steel);
        for (int i = 0; i < 50; i++) solver.Solve(steel, KelvinAt1050C + i);
        const int repeats = 50;
        return Times.Of(repeats, i => solver.Solve(steel, KelvinAt1050C + 0.1 * i));
    }

    private static Times WarmTimes(SteelComposition steel)
    {
        EquilibriumSolver solver = EquilibriumSolver.For(steel);
        EquilibriumResult near = solver.Solve(steel, KelvinAt1050C);
        SteelComposition[] draws = Draws(steel, 4000);
        foreach (SteelComposition draw in draws) solver.Solve(draw, KelvinAt1050C, near);
        return Times.Of(draws.Length, i => solver.Solve(draws[i], KelvinAt1050C, near));
    }

    private static double ExplanationSeconds(SteelComposition steel)
    {
        SteelComposition[] draws = Draws(steel, 20_000);
        Stopwatch watch = Stopwatch.StartNew();
        Parallel.For(0, 2, new ParallelOptions { MaxDegreeOfParallelism = 2 }, half =>
        {
            EquilibriumSolver solver = EquilibriumSolver.For(steel);
            EquilibriumResult near = solver.Solve(steel, KelvinAt1050C);
            for (int i = half; i < draws.Length; i += 2) solver.Solve(draws[i], KelvinAt1050C, near);
        });
        return watch.Elapsed.TotalSeconds;
    }

    /// <summary>Chemistries scattered by 1 % of each content, as an analysis would.</summary>
    private static SteelComposition[] Draws(SteelComposition steel, int count)
    {
        Random random = new(11);
        return [.. Enumerable.Range(0, count).Select(_ => SteelComposition.FromMassPercent(steel.MassPercent.Where(p => p.Key != "Fe")
            .Select(p => new KeyValuePair<string, double>(p.Key, p.Value * (1 + 0.034 * (random.NextDouble() - 0.5))))))];
    }

    private static void RandomSteels(TextWriter output, int count)
    {
        Random random = new(77);
        double driving = 0, balance = 0, mismatch = 0, slowest = 0;
        int refused = 0;
        Stopwatch watch = Stopwatch.StartNew();
        for (int i = 0; i < count; i++)
        {
            (SteelComposition steel, double temperatureK) = RandomSteel(random);
            TimeSpan start = watch.Elapsed;
            try
            {
                EquilibriumCertificate certificate = EquilibriumSolver.SolveOnce(steel, temperatureK).Certificate;
                driving = Math.Max(driving, certificate.DrivingForceMaxJPerMol);
                balance = Math.Max(balance, certificate.MassBalanceMax);
                mismatch = Math.Max(mismatch, certificate.PotentialMismatchMaxJPerMol);
            }
            catch (EquilibriumRefusedException fault)
            {
                refused++;
                output.WriteLine(fault.Message);
            }
            slowest = Math.Max(slowest, (watch.Elapsed - start).TotalMilliseconds);
        }
        Line(output, $"{count} random steels from nothing, solver made anew each time", $"{watch.Elapsed.TotalSeconds:0} s, slowest {slowest:0} ms", "");
        Line(output, "of them without a certified equilibrium", $"{refused}", "0");
        Line(output, "worst certificate: driving force left", $"{driving:0.0E+0} J/mol", Limit(EquilibriumCertificate.DrivingForceLimitJPerMol) + " J/mol");
        Line(output, "worst certificate: mass balance", $"{balance:0.0E+0}", Limit(EquilibriumCertificate.MassBalanceLimit));
        Line(output, "worst certificate: difference of a potential", $"{mismatch:0.0E+0} J/mol", Limit(EquilibriumCertificate.PotentialMismatchLimitJPerMol) + " J/mol");
    }

    private static (SteelComposition Steel, double TemperatureK) RandomSteel(Random random)
    {
        SteelComposition steel;
        do
        {
            Dictionary<string, double> content = new(StringComparer.Ordinal) { ["C"] = 0.05 + 2.95 * random.NextDouble() };
            foreach ((string element, double most, double chance) in new[] { ("Cr", 18.0, 0.95), ("Mo", 10, 0.8), ("V", 12, 0.8), ("W", 18, 0.6), ("Mn", 3, 0.9), ("Si", 2, 0.9) })
                if (random.NextDouble() < chance) content[element] = 0.001 + most * Math.Pow(random.NextDouble(), 2);
            steel = SteelComposition.FromMassPercent(content);
        }
        while (steel["Fe"] < 50);
        return (steel, 973.15 + 600 * random.NextDouble());
    }

    private static string Limit(double value) => value.ToString("0E+0", CultureInfo.InvariantCulture);

    private static void Line(TextWriter output, string what, FormattableString result, string limit) =>
        output.WriteLine($"| {what} | {result.ToString(CultureInfo.InvariantCulture)} | {limit} |");

    /// <summary>Milliseconds a call: on the clock, and of the processor, which other programs on the machine do not touch.</summary>
    private readonly record struct Times(double Clock, double Processor)
    {
        internal static Times Of(int calls, Action<int> call)
        {
            Stopwatch watch = Stopwatch.StartNew();
            TimeSpan before = Environment.CpuUsage.TotalTime;
            for (int i = 0; i < calls; i++) call(i);
            return new(watch.Elapsed.TotalMilliseconds / calls, (Environment.CpuUsage.TotalTime - before).TotalMilliseconds / calls);
        }

        internal FormattableString Text(string format)
        {
            string clock = Clock.ToString(format, CultureInfo.InvariantCulture), processor = Processor.ToString(format, CultureInfo.InvariantCulture);
            return $"{clock} ms; processor {processor} ms";
        }
    }
}
