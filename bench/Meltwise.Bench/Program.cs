using Meltwise.Bench;

Dictionary<string, Action<TextWriter>> benches = new(StringComparer.Ordinal)
{
    ["equilibrium"] = EquilibriumBench.Run,
    ["explanation"] = ExplanationBench.Run,
};

if (args.Length != 1 || !benches.TryGetValue(args[0], out Action<TextWriter>? bench))
{
    Console.Error.WriteLine($"usage: dotnet run -c Release --project bench/Meltwise.Bench -- {string.Join('|', benches.Keys)}");
    return 2;
}
bench(Console.Out);
return 0;
