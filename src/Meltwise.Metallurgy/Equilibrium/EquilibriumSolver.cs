using System.Globalization;

namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>Computes equilibria of steels that hold one set of elements. Made once, then used many times; from one thread at a time.</summary>
/// <remarks>
/// <para><b>What.</b> The state of least Gibbs energy over austenite, ferrite, MC, M2C, M3C, M6C, M7C3 and M23C6 (<see cref="GibbsMinimiser"/>), with a certificate; a
/// result whose certificate does not hold is refused, never returned.</para>
/// <para><b>Source.</b> Parameters: <see cref="ParameterSet.ToolSteel"/>. Formulas and method: <c>docs/methods/Equilibrium.md</c>.</para>
/// <para><b>Limits.</b> Equilibrium, not kinetics; no liquid. Warnings of a result name the known failures it touches.</para>
/// </remarks>
public sealed class EquilibriumSolver
{
    private readonly ParameterSet _set = ParameterSet.ToolSteel;
    private readonly PhaseVolumes _volumes;
    private readonly double[] _molarMass, _moleFractions;
    private readonly ParameterSource[] _sources;

    private EquilibriumSolver(IReadOnlyList<string> elements, IReadOnlyList<string> phases)
    {
        Elements = elements;
        PhaseModel[] models = [.. _set.Phases.Where(p => phases.Contains(p.Id)).Select(p => PhaseModel.For(p, elements)).OfType<PhaseModel>()];
        Minimiser = new GibbsMinimiser(_set, elements, models);
        _volumes = new PhaseVolumes(_set, elements);
        _molarMass = [.. elements.Select(_set.MolarMass)];
        _moleFractions = new double[elements.Count];
        _sources = [.. models.SelectMany(m => m.Parameters.Select(p => p.Source(m.Id, _set)))];
    }

    /// <summary>Elements the solver was made for, iron first.</summary>
    public IReadOnlyList<string> Elements { get; }

    /// <summary>Every parameter in use, with its citation.</summary>
    public IReadOnlyList<ParameterSource> Sources => _sources;

    internal GibbsMinimiser Minimiser { get; }

    /// <summary>A solver for the elements of a steel.</summary>
    public static EquilibriumSolver For(SteelComposition steel)
    {
        ArgumentNullException.ThrowIfNull(steel);
        return For(steel.Modelled);
    }

    /// <summary>A solver for a set of elements.</summary>
    /// <param name="elements">Symbols; iron is added when missing.</param>
    /// <param name="additionalPhases">Phases that are off by default and asked for: see <see cref="ParameterSet.OffByDefault"/>.</param>
    /// <exception cref="ArgumentException">An element or phase that the set does not hold.</exception>
    public static EquilibriumSolver For(IEnumerable<string> elements, IEnumerable<string>? additionalPhases = null)
    {
        ArgumentNullException.ThrowIfNull(elements);
        ParameterSet set = ParameterSet.ToolSteel;
        HashSet<string> wanted = [.. elements, "Fe"];
        foreach (string e in wanted) _ = set.MolarMass(e);
        string[] phases = [.. set.DefaultPhases, .. additionalPhases ?? []];
        foreach (string phase in phases)
            if (set.Phases.All(p => p.Id != phase))
                throw new ArgumentException($"Phase {phase} is not in the parameter set, which holds {string.Join(" ", set.Phases.Select(p => p.Id))}.", nameof(additionalPhases));
        return new EquilibriumSolver([.. set.Elements.Select(e => e.Symbol).Where(wanted.Contains)], phases);
    }

    /// <summary>The equilibrium of a steel, for one question: makes a solver and uses it once.</summary>
    public static EquilibriumResult SolveOnce(SteelComposition steel, double temperatureK) => For(steel).Solve(steel, temperatureK);

    /// <summary>The equilibrium of a steel at a temperature.</summary>
    /// <param name="steel">Holds exactly the elements of this solver.</param>
    /// <param name="temperatureK">Temperature, K.</param>
    /// <param name="near">A result for the same elements to start from; much faster when it is near, ignored when it is for other elements. The answer does not depend
    /// on it beyond the tolerances of the certificate; for the same start it is the same to the bit, whatever this solver was asked before.</param>
    /// <exception cref="EquilibriumRefusedException">Outside the range of temperature or contents, or no certificate was reached.</exception>
    /// <exception cref="ArgumentException">The steel holds other elements than this solver.</exception>
    public EquilibriumResult Solve(SteelComposition steel, double temperatureK, EquilibriumResult? near = null)
    {
        ArgumentNullException.ThrowIfNull(steel);
        if (!steel.Modelled.SequenceEqual(Elements))
            throw new ArgumentException($"The steel holds {string.Join(" ", steel.Modelled)}, this solver is for {string.Join(" ", Elements)}. Make a solver for the steel.", nameof(steel));
        EquilibriumRange.Require(steel, temperatureK);
        SetMoleFractions(steel);
        Minimiser.MoveTo(temperatureK);

        bool start = near is not null && near.Steel.Modelled.SequenceEqual(Elements) && Load(near);
        EquilibriumCertificate? certificate = start && Minimiser.Refine(_moleFractions) ? Certify() : null;
        if (certificate is not { IsValid: true })
            certificate = Minimiser.SolveCold(_moleFractions) ? Certify() : null;
        return certificate is { IsValid: true }
            ? Result(steel, certificate)
            : throw new EquilibriumRefusedException(
                string.Create(CultureInfo.InvariantCulture, $"No certified equilibrium of {steel} at {temperatureK - 273.15:0.##} °C: {(certificate is null ? "the minimisation did not converge" : certificate.ToString())}."),
                "This is a fault of the program: please report the composition and temperature.");
    }

    /// <summary>Derivatives of everything in a result to temperature and to each element, by implicit differentiation.</summary>
    /// <param name="at">A result for the elements of this solver.</param>
    /// <exception cref="EquilibriumRefusedException">The result stands exactly on a phase boundary, where the derivatives of the two sides differ.</exception>
    public EquilibriumSensitivities Sensitivities(EquilibriumResult at)
    {
        ArgumentNullException.ThrowIfNull(at);
        SetMoleFractions(at.Steel);
        Minimiser.MoveTo(at.TemperatureK);
        if (!Load(at) || !Minimiser.Newton.FactorAtSolution(at.TemperatureK))
            throw new EquilibriumRefusedException("The derivatives of this result do not exist: it stands on a phase boundary.", "Ask a little above or below.");
        return new ImplicitDifferentiation(Minimiser, _volumes, _molarMass, Elements).Of(at);
    }

    private void SetMoleFractions(SteelComposition steel)
    {
        double sum = 0;
        for (int e = 0; e < Elements.Count; e++) sum += _moleFractions[e] = steel[Elements[e]] / _molarMass[e];
        for (int e = 0; e < Elements.Count; e++) _moleFractions[e] /= sum;
    }

    private bool Load(EquilibriumResult near)
    {
        Minimiser.Clear();
        Span<double> y = stackalloc double[64];
        for (int e = 0; e < Elements.Count; e++)
            Minimiser.Newton.Potentials[e] = near.ChemicalPotentialsJPerMol[Elements[e]] / Minimiser.GasEnergy;
        foreach (EquilibriumPhase phase in near.Phases)
        {
            if (phase.ModelIndex >= Minimiser.Models.Count || Minimiser.Models[phase.ModelIndex].Size != phase.SiteFractions.Count) return false;
            for (int i = 0; i < phase.SiteFractions.Count; i++) y[i] = phase.SiteFractions[i].Fraction;
            Minimiser.Add(phase.ModelIndex, y, phase.FormulaUnits);
        }
        return true;
    }

    private EquilibriumCertificate Certify()
    {
        LagrangeNewton newton = Minimiser.Newton;
        double balance = 0, mismatch = 0;
        for (int e = 0; e < Elements.Count; e++)
        {
            double missing = _moleFractions[e];
            foreach (PhaseBlock block in newton.Active) missing -= block.Amount * block.Atoms[e];
            balance = Math.Max(balance, Math.Abs(missing));
        }
        foreach (PhaseBlock block in newton.Active)
            mismatch = Math.Max(mismatch, Math.Max(block.PotentialMismatch(newton.Potentials), Math.Abs(block.Distance(newton.Potentials)) / block.AtomsPerFormula));
        return new EquilibriumCertificate(Minimiser.LargestDrivingForce * Minimiser.GasEnergy, balance, mismatch * Minimiser.GasEnergy, Minimiser.SampleCount);
    }

    private EquilibriumResult Result(SteelComposition steel, EquilibriumCertificate certificate)
    {
        LagrangeNewton newton = Minimiser.Newton;
        EquilibriumPhase[] phases = PhasesOf(newton);
        double gibbs = 0;
        foreach (PhaseBlock block in newton.Active) gibbs += block.Amount * block.Gibbs * Minimiser.GasEnergy;
        List<EquilibriumWarning> warnings = [];
        EquilibriumRange.AddWarnings(steel, Minimiser.TemperatureK, warnings);
        EquilibriumRange.AddPhaseWarnings(steel, phases, warnings);
        return new EquilibriumResult(steel, Minimiser.TemperatureK, phases, gibbs,
            new ElementAmounts(Elements, [.. newton.Potentials.Select(p => p * Minimiser.GasEnergy)]), certificate, warnings, _sources);
    }

    private EquilibriumPhase[] PhasesOf(LagrangeNewton newton)
    {
        int count = newton.Active.Count;
        Span<double> moles = stackalloc double[Elements.Count];
        double[] volume = new double[count], martensitic = new double[count], mass = new double[count];
        for (int p = 0; p < count; p++)
        {
            PhaseBlock block = newton.Active[p];
            for (int e = 0; e < moles.Length; e++) moles[e] = block.Amount * block.Atoms[e];
            string name = PhaseNames.Of(block.Energy.Model, block.SiteFractions);
            volume[p] = _volumes.Volume(name, moles);
            martensitic[p] = _volumes.MartensiticVolume(name, moles);
            mass[p] = DenseAlgebra.Dot(moles, _molarMass);
        }
        double volumes = volume.Sum(), martensitics = martensitic.Sum(), masses = mass.Sum();
        EquilibriumPhase[] phases = new EquilibriumPhase[count];
        for (int p = 0; p < count; p++)
            phases[p] = PhaseOf(newton.Active[p], mass[p] / masses, volume[p] / volumes, martensitic[p] / martensitics);
        Array.Sort(phases, static (a, b) => b.MoleFraction.CompareTo(a.MoleFraction));
        return phases;
    }

    private EquilibriumPhase PhaseOf(PhaseBlock block, double massFraction, double volumeFraction, double martensitic)
    {
        PhaseModel model = block.Energy.Model;
        double[] percent = new double[Elements.Count];
        double mass = DenseAlgebra.Dot(block.Atoms, _molarMass);
        for (int e = 0; e < percent.Length; e++) percent[e] = 100 * block.Atoms[e] * _molarMass[e] / mass;
        SiteFraction[] sites = new SiteFraction[model.Size];
        for (int i = 0; i < sites.Length; i++) sites[i] = new(model.SublatticeOf[i] + 1, model.Constituents[i], block.SiteFractions[i]);
        return new EquilibriumPhase(PhaseNames.Of(model, block.SiteFractions), block.Amount * block.AtomsPerFormula, massFraction, volumeFraction, martensitic,
            new ElementAmounts(Elements, percent), sites)
        { ModelIndex = block.ModelIndex, FormulaUnits = block.Amount };
    }
}
