using System.Text.Json;

namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>Room-temperature volumes of the phases, for volume fractions.</summary>
/// <remarks>
/// <para><b>Formula.</b> Carbides: volumes of the pure-metal end members mixed linearly over the metals. Austenite: a = 3.578 A + sum k_i w_i with w in mass percent,
/// four metal atoms a cell. Martensite: a = 2.861 - 0.013 C, c = 2.861 + 0.116 C (A), two metal atoms a cell. Ferrite: atomic volumes mixed linearly.</para>
/// <para><b>Source.</b> Austenite [DysonHolmes1970]; martensite [Roberts1953]; carbides from lattice parameters. All from memory of those sources; the
/// data file says where a value was read.</para>
/// <para><b>Limits.</b> Room temperature, no thermal expansion: volume fractions are those a micrograph shows, not those in the furnace.</para>
/// </remarks>
internal sealed class PhaseVolumes
{
    private const double AvogadroPerCubicAngstrom = 0.602214076; // cm3/mol in one cubic angstrom per atom
    private readonly Dictionary<string, double[]> _perAtom = new(StringComparer.Ordinal);
    private readonly double[] _lattice;
    private readonly double _lattice0, _martensiteA0, _martensiteA, _martensiteC;
    private readonly int _carbon;
    private readonly bool[] _interstitial;
    private readonly double[] _molarMass;

    internal PhaseVolumes(ParameterSet set, IReadOnlyList<string> elements)
    {
        using JsonDocument document = JsonDocument.Parse(ParameterSetReader.ReadEmbeddedText("phase-volumes.json"));
        JsonElement root = document.RootElement;
        _interstitial = [.. elements.Select(e => e is "C" or "N")];
        _molarMass = [.. elements.Select(set.MolarMass)];
        _carbon = elements.ToList().IndexOf("C");
        foreach (JsonProperty carbide in root.GetProperty("carbides").EnumerateObject())
            _perAtom.Add(carbide.Name, PerAtom(carbide.Value.GetProperty("volumes"), carbide.Value.GetProperty("metalAtoms").GetDouble(), elements));
        _perAtom.Add(PhaseNames.Ferrite, PerAtom(root.GetProperty("ferriteAtomicVolumes"), 1, elements));
        _perAtom.Add(PhaseNames.Hexagonal, _perAtom[PhaseNames.Ferrite]);
        JsonElement austenite = root.GetProperty("austenite"), martensite = root.GetProperty("martensite");
        _lattice0 = austenite.GetProperty("latticeA").GetDouble();
        _lattice = [.. elements.Select(e => austenite.GetProperty("perMassPercentA").TryGetProperty(e, out JsonElement k) ? k.GetDouble() : 0)];
        _martensiteA0 = martensite.GetProperty("a0").GetDouble();
        _martensiteA = martensite.GetProperty("aPerMassPercentC").GetDouble();
        _martensiteC = martensite.GetProperty("cPerMassPercentC").GetDouble();
    }

    /// <summary>Volume, cm3, of a phase holding the given moles of each element; austenite as austenite.</summary>
    internal double Volume(string phase, ReadOnlySpan<double> moles)
    {
        if (phase != PhaseNames.Austenite) return Linear(phase, moles);
        double a = _lattice0;
        double mass = Mass(moles);
        for (int e = 0; e < moles.Length; e++) a += _lattice[e] * 100 * moles[e] * _molarMass[e] / mass;
        return Metals(moles) * AvogadroPerCubicAngstrom * a * a * a / 4;
    }

    /// <summary>Change of <see cref="Volume"/> with a change of the moles.</summary>
    internal double VolumeChange(string phase, ReadOnlySpan<double> moles, ReadOnlySpan<double> change)
    {
        if (phase != PhaseNames.Austenite) return Linear(phase, change);
        double a = _lattice0, aChange = 0, mass = Mass(moles), massChange = Mass(change);
        for (int e = 0; e < moles.Length; e++)
        {
            double percent = 100 * moles[e] * _molarMass[e] / mass;
            a += _lattice[e] * percent;
            aChange += _lattice[e] * (100 * change[e] * _molarMass[e] - percent * massChange) / mass;
        }
        return AvogadroPerCubicAngstrom * a * a / 4 * (Metals(change) * a + 3 * Metals(moles) * aChange);
    }

    /// <summary>Volume, cm3, with austenite turned to martensite.</summary>
    internal double MartensiticVolume(string phase, ReadOnlySpan<double> moles)
    {
        if (phase != PhaseNames.Austenite) return Volume(phase, moles);
        double carbon = _carbon < 0 ? 0 : 100 * moles[_carbon] * _molarMass[_carbon] / Mass(moles);
        double a = _martensiteA0 + _martensiteA * carbon, c = _martensiteA0 + _martensiteC * carbon;
        return Metals(moles) * AvogadroPerCubicAngstrom * a * a * c / 2;
    }

    /// <summary>Change of <see cref="MartensiticVolume"/> with a change of the moles.</summary>
    internal double MartensiticVolumeChange(string phase, ReadOnlySpan<double> moles, ReadOnlySpan<double> change)
    {
        if (phase != PhaseNames.Austenite) return Linear(phase, change);
        double mass = Mass(moles);
        double carbon = _carbon < 0 ? 0 : 100 * moles[_carbon] * _molarMass[_carbon] / mass;
        double carbonChange = _carbon < 0 ? 0 : (100 * change[_carbon] * _molarMass[_carbon] - carbon * Mass(change)) / mass;
        double a = _martensiteA0 + _martensiteA * carbon, c = _martensiteA0 + _martensiteC * carbon;
        double cellChange = (2 * a * c * _martensiteA + a * a * _martensiteC) * carbonChange;
        return AvogadroPerCubicAngstrom / 2 * (Metals(change) * a * a * c + Metals(moles) * cellChange);
    }

    private double[] PerAtom(JsonElement volumes, double metalAtoms, IReadOnlyList<string> elements) =>
        [.. elements.Select((e, i) => _interstitial[i] ? 0 : (volumes.TryGetProperty(e, out JsonElement v) ? v : volumes.GetProperty("Fe")).GetDouble() / metalAtoms)];

    private double Linear(string phase, ReadOnlySpan<double> moles)
    {
        // Graphite has no metal; its volume, 5.3 cm3/mol, only matters when that phase is asked for.
        if (!_perAtom.TryGetValue(phase, out double[]? perAtom)) return 5.3 * moles[_carbon];
        return DenseAlgebra.Dot(perAtom, moles);
    }

    private double Metals(ReadOnlySpan<double> moles)
    {
        double sum = 0;
        for (int e = 0; e < moles.Length; e++)
            if (!_interstitial[e]) sum += moles[e];
        return sum;
    }

    private double Mass(ReadOnlySpan<double> moles) => DenseAlgebra.Dot(moles, _molarMass);
}
