namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>Derivatives of an equilibrium by the implicit function theorem, from the Newton system at the solution.</summary>
/// <remarks>
/// <para><b>Formula.</b> With the phases fixed, the equations of <see cref="LagrangeNewton"/> hold along any change of b or T, so
/// [sum n W^T W, N; N^T, 0] [d mu; dn] = [db - sum n A dy0; dG] with dG and dy0 = -M dg the direct effect of T on energies and site fractions,
/// and dy = M A^T d mu + dy0. Exact to rounding; costs one solve with the factors at hand for each variable.</para>
/// <para><b>Source.</b> Implicit function theorem; for thermodynamic systems [SundmanLuOhtani2015].</para>
/// <para><b>Limits.</b> One-sided at a phase boundary: beyond it other phases are present.</para>
/// </remarks>
internal sealed class ImplicitDifferentiation(GibbsMinimiser minimiser, PhaseVolumes volumes, double[] molarMass, IReadOnlyList<string> elements)
{
    private readonly List<PhaseBlock> _active = minimiser.Newton.Active;
    private readonly int _count = elements.Count;

    /// <summary>All derivatives of the result loaded and factored in the minimiser.</summary>
    internal EquilibriumSensitivities Of(EquilibriumResult at)
    {
        double molesPerHundredGram = 0;
        for (int e = 0; e < _count; e++) molesPerHundredGram += at.Steel[elements[e]] / molarMass[e];
        Dictionary<string, EquilibriumDerivative> byElement = new(StringComparer.Ordinal);
        for (int e = 1; e < _count; e++)
        {
            double[] balance = new double[_count];
            balance[e] = 1 / (molarMass[e] * molesPerHundredGram);
            balance[0] = -1 / (molarMass[0] * molesPerHundredGram);
            byElement.Add(elements[e], Derivative(elements[e], balance, perKelvin: false));
        }
        return new EquilibriumSensitivities(at, Derivative("temperature", new double[_count], perKelvin: true), byElement);
    }

    private EquilibriumDerivative Derivative(string variable, double[] balance, bool perKelvin)
    {
        double[][] gradients = [.. _active.Select(b => new double[b.SiteFractions.Length])], sites = [.. _active.Select(b => new double[b.SiteFractions.Length])];
        double[] unknowns = [.. balance, .. new double[_active.Count]], none = new double[_count];
        if (perKelvin)
            for (int p = 0; p < _active.Count; p++)
            {
                PhaseBlock block = _active[p];
                unknowns[_count + p] = block.TemperatureSlope(gradients[p], minimiser.TemperatureK);
                block.Differentiate(none, gradients[p], sites[p]);
                AddAtoms(block, sites[p], -block.Amount, unknowns);
            }
        minimiser.Newton.SolveFactored(unknowns);
        for (int p = 0; p < _active.Count; p++) _active[p].Differentiate(unknowns.AsSpan(0, _count), gradients[p], sites[p]);

        double[] potentials = new double[_count];
        for (int e = 0; e < _count; e++)
            potentials[e] = minimiser.GasEnergy * (unknowns[e] + (perKelvin ? minimiser.Newton.Potentials[e] / minimiser.TemperatureK : 0));
        return new EquilibriumDerivative(variable, PhaseDerivatives(unknowns, sites), new ElementAmounts(elements, potentials));
    }

    private PhaseDerivative[] PhaseDerivatives(double[] unknowns, double[][] sites)
    {
        int phases = _active.Count;
        Extent[] extents = new Extent[phases];
        for (int p = 0; p < phases; p++)
        {
            PhaseBlock block = _active[p];
            double[] moles = [.. block.Atoms.Select(a => a * block.Amount)], change = [.. block.Atoms.Select(a => a * unknowns[_count + p])];
            AddAtoms(block, sites[p], block.Amount, change);
            extents[p] = ExtentOf(PhaseNames.Of(block.Energy.Model, block.SiteFractions), moles, change);
        }
        double[] mole = Shares([.. extents.Select(x => x.Atoms)]), mass = Shares([.. extents.Select(x => x.Mass)]);
        double[] volume = Shares([.. extents.Select(x => x.Volume)]), martensitic = Shares([.. extents.Select(x => x.Martensitic)]);
        return [.. extents.Select((x, p) => new PhaseDerivative(x.Name, mole[p], mass[p], volume[p], martensitic[p], new ElementAmounts(elements, x.Percent)))];
    }

    private Extent ExtentOf(string name, double[] moles, double[] change)
    {
        double mass = DenseAlgebra.Dot(moles, molarMass), massChange = DenseAlgebra.Dot(change, molarMass);
        double[] percent = new double[_count];
        for (int e = 0; e < _count; e++)
            percent[e] = 100 * (change[e] * molarMass[e] - moles[e] * molarMass[e] * massChange / mass) / mass;
        return new Extent(name, (moles.Sum(), change.Sum()), (mass, massChange), (volumes.Volume(name, moles), volumes.VolumeChange(name, moles, change)),
            (volumes.MartensiticVolume(name, moles), volumes.MartensiticVolumeChange(name, moles, change)), percent);
    }

    /// <summary>Changes of the shares of a whole from the parts and their changes.</summary>
    private static double[] Shares((double Value, double Change)[] parts)
    {
        double whole = parts.Sum(p => p.Value), change = parts.Sum(p => p.Change);
        return [.. parts.Select(p => (p.Change - p.Value * change / whole) / whole)];
    }

    private static void AddAtoms(PhaseBlock block, double[] siteFractions, double factor, double[] atoms)
    {
        PhaseModel model = block.Energy.Model;
        for (int i = 0; i < siteFractions.Length; i++)
            if (model.ElementOf[i] >= 0) atoms[model.ElementOf[i]] += factor * model.AtomsOf[i] * siteFractions[i];
    }

    private sealed record Extent(
        string Name, (double Value, double Change) Atoms, (double Value, double Change) Mass, (double Value, double Change) Volume,
        (double Value, double Change) Martensitic, double[] Percent);
}
