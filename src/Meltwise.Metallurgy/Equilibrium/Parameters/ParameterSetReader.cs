using System.Globalization;
using System.Text.Json;

namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>Reads the parameter files shipped inside this library.</summary>
internal static class ParameterSetReader
{
    private const string Folder = "Meltwise.Metallurgy.Equilibrium.Parameters.";

    /// <summary>Text of a shipped file.</summary>
    internal static string ReadEmbeddedText(string file)
    {
        using Stream stream = Open(file);
        using StreamReader reader = new(stream);
        return reader.ReadToEnd();
    }

    /// <summary>The shipped parameter set of the given file name.</summary>
    internal static ParameterSet ReadEmbedded(string file)
    {
        using Stream stream = Open(file);
        using JsonDocument document = JsonDocument.Parse(stream);
        return Read(document.RootElement);
    }

    private static Stream Open(string file) => typeof(ParameterSetReader).Assembly.GetManifestResourceStream(Folder + file)
        ?? throw new InvalidOperationException($"The parameter file {file} is missing from the library: the build that made it is damaged.");

    private static ParameterSet Read(JsonElement root)
    {
        Dictionary<string, int> names = new(StringComparer.Ordinal);
        List<TemperatureFunction> functions = [];
        JsonElement table = root.GetProperty("functions");
        foreach (JsonProperty function in table.EnumerateObject()) ReadFunction(function.Name, table, names, functions);

        JsonElement valid = root.GetProperty("validity").GetProperty("temperature_C");
        return new ParameterSet
        {
            Id = Text(root, "setId"),
            Description = Text(root, "description"),
            ValidFromC = valid[0].GetDouble(),
            ValidToC = valid[1].GetDouble(),
            GasConstant = root.GetProperty("units").GetProperty("R").GetDouble(),
            Elements = [.. root.GetProperty("elements").EnumerateArray().Select(e => new ParameterElement(Text(e, "symbol"), e.GetProperty("molarMass_g_mol").GetDouble()))],
            References = Table(root.GetProperty("references")),
            ProvenanceLegend = Table(root.GetProperty("provenanceLegend")),
            OffByDefault = Table(root.GetProperty("offByDefault")),
            Functions = functions,
            Phases = [.. root.GetProperty("phases").EnumerateArray().Select(p => ReadPhase(p, names))],
            DefaultPhases = [.. root.GetProperty("defaultActivePhases").EnumerateArray().Select(p => p.GetString()!)],
        };
    }

    /// <summary>Adds a function after those it refers to, so that one pass in order evaluates them all.</summary>
    private static void ReadFunction(string name, JsonElement table, Dictionary<string, int> names, List<TemperatureFunction> functions)
    {
        if (names.ContainsKey(name)) return;
        JsonElement segments = table.GetProperty(name).GetProperty("segments");
        foreach (JsonElement segment in segments.EnumerateArray())
            if (segment.TryGetProperty("plus", out JsonElement plus))
                foreach (JsonElement term in plus.EnumerateArray())
                    ReadFunction(term[1].GetString()!, table, names, functions);
        TemperatureFunction function = ReadSegments(segments, names);
        names.Add(name, functions.Count);
        functions.Add(function);
    }

    private static TemperatureFunction ReadSegments(JsonElement segments, Dictionary<string, int> names) => new(
        [.. segments.EnumerateArray().Select(s => new TemperatureSegment(
            s.GetProperty("from").GetDouble(),
            s.GetProperty("to").GetDouble(),
            [.. s.GetProperty("terms").EnumerateObject().Select(t => new BasisTerm(BasisNumber(t.Name), t.Value.GetDouble()))],
            s.TryGetProperty("plus", out JsonElement plus)
                ? [.. plus.EnumerateArray().Select(t => new FunctionTerm(names[t[1].GetString()!], t[0].GetDouble()))]
                : []))]);

    private static int BasisNumber(string name)
    {
        int number = Array.IndexOf(TemperatureBasis.Names, name);
        return number >= 0 ? number : throw new InvalidOperationException($"The parameter file uses the temperature basis {name}, which is not one of {string.Join(", ", TemperatureBasis.Names)}.");
    }

    private static PhaseDescription ReadPhase(JsonElement phase, Dictionary<string, int> names)
    {
        List<PhaseParameter> parameters = [.. phase.GetProperty("parameters").EnumerateArray().Select(p => ReadParameter(p, names))];
        HashSet<string> higher = [.. parameters.Where(p => p.Order > 0).Select(Key)];
        return new PhaseDescription(
            Text(phase, "id"),
            [.. phase.GetProperty("sites").EnumerateArray().Select(s => s.GetDouble())],
            Species(phase.GetProperty("constituents")),
            phase.TryGetProperty("magnetic", out JsonElement m) && m.ValueKind == JsonValueKind.Object
                ? new MagneticFactors(m.GetProperty("afmFactor").GetDouble(), m.GetProperty("structureFactor").GetDouble())
                : null,
            [.. parameters.Select(p => p with { HasHigherOrders = higher.Contains(Key(p)) })]);
    }

    private static string Key(PhaseParameter p) => $"{p.Kind}|{string.Join(":", p.Species.Select(s => string.Join(",", s.Order(StringComparer.Ordinal))))}";

    private static PhaseParameter ReadParameter(JsonElement p, Dictionary<string, int> names) => new(
        Text(p, "kind") switch
        {
            "G" => ParameterKind.Gibbs,
            "Tc" => ParameterKind.CurieTemperature,
            "beta" => ParameterKind.MagneticMoment,
            string other => throw new InvalidOperationException(string.Create(CultureInfo.InvariantCulture, $"The parameter file holds a parameter of kind {other}; G, Tc or beta was expected.")),
        },
        Species(p.GetProperty("species")),
        p.GetProperty("order").GetInt32(),
        HasHigherOrders: false,
        ReadSegments(p.GetProperty("segments"), names),
        Text(p, "ref"),
        Text(p, "provenance"),
        p.TryGetProperty("note", out JsonElement note) ? note.GetString() : null);

    private static string[][] Species(JsonElement sublattices) =>
        [.. sublattices.EnumerateArray().Select(s => s.EnumerateArray().Select(c => c.GetString()!).ToArray())];

    private static Dictionary<string, string> Table(JsonElement o) =>
        o.EnumerateObject().ToDictionary(p => p.Name, p => p.Value.GetString()!, StringComparer.Ordinal);

    private static string Text(JsonElement o, string name) => o.GetProperty(name).GetString()!;
}
