namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>A phase compiled for one set of elements: constituents numbered, absent ones dropped, parameters expanded to monomials.</summary>
/// <remarks>Immutable and shared between threads. Site fractions of all sublattices follow each other in one array of length <see cref="Size"/>.</remarks>
internal sealed class PhaseModel
{
    private readonly int _widest, _vacancy, _nitrogen;

    private PhaseModel(PhaseDescription description, string[][] constituents, IReadOnlyList<string> elements, IReadOnlyList<PhaseParameter> parameters)
    {
        Id = description.Id;
        Magnetic = description.Magnetic;
        Parameters = parameters;
        Sites = description.Sites;
        Constituents = [.. constituents.SelectMany(c => c)];
        Size = Constituents.Length;
        SublatticeStart = new int[constituents.Length + 1];
        for (int s = 0; s < constituents.Length; s++) SublatticeStart[s + 1] = SublatticeStart[s] + constituents[s].Length;
        SublatticeOf = [.. constituents.SelectMany((c, s) => Enumerable.Repeat(s, c.Length))];
        ElementOf = [.. Constituents.Select(c => IndexOf(elements, c))];
        SiteOf = [.. SublatticeOf.Select(s => Sites[s])];
        AtomsOf = [.. Enumerable.Range(0, Size).Select(i => ElementOf[i] < 0 ? 0 : SiteOf[i])];
        _widest = Enumerable.Range(0, constituents.Length).MaxBy(s => constituents[s].Length);
        _vacancy = Array.IndexOf(Constituents, "Va");
        RegionCount = constituents[_widest].Length * (_vacancy < 0 ? 1 : 3);
        _nitrogen = Array.IndexOf(Constituents, "N");
        Gibbs = Compile(ParameterKind.Gibbs);
        Curie = Compile(ParameterKind.CurieTemperature);
        Moment = Compile(ParameterKind.MagneticMoment);
    }

    /// <summary>Name of the model in the parameter set.</summary>
    internal string Id { get; }

    /// <summary>Number of site fractions over all sublattices.</summary>
    internal int Size { get; }

    /// <summary>Sites of each sublattice in one formula unit.</summary>
    internal double[] Sites { get; }

    /// <summary>First site fraction of each sublattice, and the size at the end.</summary>
    internal int[] SublatticeStart { get; }

    /// <summary>Sublattice of each site fraction.</summary>
    internal int[] SublatticeOf { get; }

    /// <summary>Constituent of each site fraction; "Va" is the vacancy.</summary>
    internal string[] Constituents { get; }

    /// <summary>Element number of each site fraction, -1 for the vacancy.</summary>
    internal int[] ElementOf { get; }

    /// <summary>Sites of the sublattice of each site fraction.</summary>
    internal double[] SiteOf { get; }

    /// <summary>Atoms in a formula unit per unit of each site fraction: the sites, or 0 for the vacancy.</summary>
    internal double[] AtomsOf { get; }

    /// <summary>Magnetic constants, or null for a phase without magnetic energy.</summary>
    internal MagneticFactors? Magnetic { get; }

    /// <summary>Parameters that survive the choice of elements.</summary>
    internal IReadOnlyList<PhaseParameter> Parameters { get; }

    /// <summary>Gibbs energy without mixing entropy and magnetism.</summary>
    internal SiteFractionPolynomial Gibbs { get; }

    /// <summary>Curie temperature.</summary>
    internal SiteFractionPolynomial Curie { get; }

    /// <summary>Magnetic moment.</summary>
    internal SiteFractionPolynomial Moment { get; }

    /// <summary>Number of regions of the composition space, see <see cref="RegionOf"/>.</summary>
    internal int RegionCount { get; }

    /// <summary>Region of a composition: its commonest constituent on the sublattice with the most constituents, and whether interstitial sites are nearly empty,
    /// or filled mostly with carbon, or mostly with nitrogen.</summary>
    /// <remarks>A model with miscibility gaps has its minima in different regions, so each region is searched by itself.</remarks>
    internal int RegionOf(ReadOnlySpan<double> siteFractions)
    {
        int from = SublatticeStart[_widest], commonest = from;
        for (int i = from; i < SublatticeStart[_widest + 1]; i++)
            if (siteFractions[i] > siteFractions[commonest]) commonest = i;
        int region = commonest - from;
        if (_vacancy < 0) return region;
        double filled = 1 - siteFractions[_vacancy];
        return 3 * region + (filled < 0.2 ? 0 : _nitrogen >= 0 && siteFractions[_nitrogen] > filled / 2 ? 2 : 1);
    }

    /// <summary>Compiles a phase, or returns null when a sublattice has no constituent among the elements.</summary>
    internal static PhaseModel? For(PhaseDescription description, IReadOnlyList<string> elements)
    {
        bool Present(string c) => c == "Va" || elements.Contains(c);
        string[][] constituents = [.. description.Constituents.Select(s => s.Where(Present).ToArray())];
        if (constituents.Any(s => s.Length == 0)) return null;
        PhaseParameter[] parameters = [.. description.Parameters.Where(p =>
            p.Species.Select((names, s) => names.All(n => constituents[s].Contains(n))).All(present => present))];
        return new PhaseModel(description, constituents, elements, parameters);
    }

    /// <summary>Moles of atoms in a formula unit.</summary>
    internal double AtomsPerFormula(ReadOnlySpan<double> siteFractions)
    {
        double atoms = 0;
        for (int i = 0; i < siteFractions.Length; i++) atoms += AtomsOf[i] * siteFractions[i];
        return atoms;
    }

    /// <summary>Position of a constituent on a sublattice in the array of site fractions, or -1.</summary>
    internal int IndexOf(int sublattice, string constituent)
    {
        for (int i = SublatticeStart[sublattice]; i < SublatticeStart[sublattice + 1]; i++)
            if (Constituents[i] == constituent) return i;
        return -1;
    }

    private static int IndexOf(IReadOnlyList<string> elements, string symbol)
    {
        for (int e = 0; e < elements.Count; e++)
            if (elements[e] == symbol) return e;
        return -1;
    }

    private SiteFractionPolynomial Compile(ParameterKind kind) => SiteFractionPolynomial.From(Size,
        Parameters.Select((p, number) => (p, number)).Where(x => x.p.Kind == kind).Select(x => (x.number, Factors(x.p))));

    private List<LinearFactor> Factors(PhaseParameter p)
    {
        List<int[]> variables = [.. p.Species.Select((names, s) => names.Select(n => IndexOf(s, n)).ToArray())];
        List<LinearFactor> factors = [.. variables.SelectMany(v => v).Select(LinearFactor.Of)];
        List<int[]> mixing = [.. variables.Where(v => v.Length > 1)];
        if (mixing.Count == 0) return factors;

        if (mixing[0].Length == 3)
        {
            if (p.HasHigherOrders) factors.Add(LinearFactor.Ternary(mixing[0][p.Order], mixing[0]));
        }
        else if (mixing.Count == 2)
        {
            if (p.Order > 0) factors.Add(LinearFactor.Difference(mixing[p.Order - 1][0], mixing[p.Order - 1][1]));
        }
        else
        {
            factors.AddRange(Enumerable.Repeat(LinearFactor.Difference(mixing[0][0], mixing[0][1]), p.Order));
        }
        return factors;
    }
}
