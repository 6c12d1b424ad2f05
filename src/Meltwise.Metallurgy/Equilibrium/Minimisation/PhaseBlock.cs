namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>One phase taking part in an equilibrium: its site fractions and amount, and its block of the Newton system.</summary>
/// <remarks>
/// <para><b>What it computes.</b> With d = sqrt(y), D = diag(d) and P the projection onto directions that keep every sublattice full, the scaled
/// Hessian K = P D H D P + Q (Q fills the complement) is of order one whatever the size of a site fraction, and is positive definite
/// exactly where the phase is stable against demixing. Its Cholesky factor L gives the response of the site fractions to the chemical
/// potentials, dy = D L^-T (W mu - w), with W = L^-1 P D A^T and w = L^-1 P D g.</para>
/// <para><b>Source.</b> Elimination of each phase from the Lagrangian: [SundmanLuOhtani2015]; the scaling is the usual one of interior-point methods.</para>
/// <para><b>Limits.</b> Where K is not positive definite a multiple of the unit matrix is added until it is; the result is then a descent direction, not Newton's.
/// Energies are in units of R T. Belongs to one thread; allocates only when made.</para>
/// </remarks>
internal sealed class PhaseBlock
{
    /// <summary>Site fraction below which a constituent is a trace that changes nothing.</summary>
    internal const double Trace = 1e-13;

    private readonly int _elements;
    private readonly double _gasConstant;
    private readonly double[] _hessian, _factor, _coupling, _force, _root, _work, _saved;
    private readonly double[] _gradient;

    internal PhaseBlock(PhaseEnergy energy, int modelIndex, int elements, double gasConstant)
    {
        Energy = energy;
        ModelIndex = modelIndex;
        _elements = elements;
        _gasConstant = gasConstant;
        int n = energy.Model.Size;
        SiteFractions = new double[n];
        Step = new double[n];
        Atoms = new double[elements];
        _gradient = new double[n];
        _hessian = new double[n * n];
        _factor = new double[n * n];
        _coupling = new double[n * elements];
        _force = new double[n];
        _root = new double[n];
        _work = new double[n];
        _saved = new double[n];
    }

    internal PhaseEnergy Energy { get; }

    /// <summary>Number of the phase model in the solver.</summary>
    internal int ModelIndex { get; }

    /// <summary>Site fractions; every one above zero.</summary>
    internal double[] SiteFractions { get; }

    /// <summary>Moles of formula units per mole of atoms in the steel.</summary>
    internal double Amount { get; set; }

    /// <summary>Relative step of each site fraction, d(ln y), found by <see cref="Respond"/>.</summary>
    internal double[] Step { get; }

    /// <summary>Moles of each element in a formula unit.</summary>
    internal double[] Atoms { get; }

    /// <summary>Gibbs energy of a formula unit over R T.</summary>
    internal double Gibbs { get; private set; }

    /// <summary>True when the Hessian had to be shifted: the phase stands inside a miscibility gap.</summary>
    internal bool Shifted { get; private set; }

    /// <summary>Iterations in a row in which Newton asked for a negative amount.</summary>
    internal int Strikes { get; set; }

    /// <summary>Moles of atoms in a formula unit.</summary>
    internal double AtomsPerFormula => Energy.Model.AtomsPerFormula(SiteFractions);

    /// <summary>Evaluates energy, derivatives and atoms at the present site fractions, at temperature <paramref name="temperatureK"/>.</summary>
    internal void Evaluate(double temperatureK)
    {
        PhaseModel model = Energy.Model;
        double scale = 1 / (_gasConstant * temperatureK);
        Gibbs = Energy.Hessian(SiteFractions, _gradient, _hessian) * scale;
        for (int i = 0; i < _gradient.Length; i++) _gradient[i] *= scale;
        for (int i = 0; i < _hessian.Length; i++) _hessian[i] *= scale;
        for (int i = 0; i < _root.Length; i++) _root[i] = Math.Sqrt(SiteFractions[i]);
        Array.Clear(Atoms);
        for (int i = 0; i < SiteFractions.Length; i++)
            if (model.ElementOf[i] >= 0) Atoms[model.ElementOf[i]] += model.AtomsOf[i] * SiteFractions[i];
    }

    /// <summary>Distance of the phase above the plane of the potentials, over R T, per formula unit: G - sum N mu.</summary>
    internal double Distance(ReadOnlySpan<double> potentials)
    {
        double distance = Gibbs;
        for (int e = 0; e < _elements; e++) distance -= Atoms[e] * potentials[e];
        return distance;
    }

    /// <summary>Factors the scaled projected Hessian, shifting it when the phase is unstable.</summary>
    internal void Factor()
    {
        int n = _root.Length;
        double shift = 0;
        Shifted = false;
        while (true)
        {
            for (int i = 0; i < n; i++)
                for (int j = 0; j < n; j++)
                    _factor[i * n + j] = _root[i] * _hessian[i * n + j] * _root[j];
            ProjectFactor();
            for (int i = 0; i < n; i++) _factor[i * n + i] += shift;
            if (DenseAlgebra.Cholesky(_factor, n, floor: 1e-7)) return;
            Shifted = true;
            shift = shift == 0 ? 0.1 : shift * 4;
        }
    }

    /// <summary>Fills W and w, the couplings of the site fractions to the potentials, from the factor.</summary>
    internal void Couple()
    {
        PhaseModel model = Energy.Model;
        int n = _root.Length;
        for (int e = 0; e < _elements; e++)
        {
            Span<double> column = _coupling.AsSpan(e * n, n);
            for (int i = 0; i < n; i++) column[i] = model.ElementOf[i] == e ? model.AtomsOf[i] * _root[i] : 0;
            Project(column);
            DenseAlgebra.ForwardSolve(_factor, n, column);
        }
        for (int i = 0; i < n; i++) _force[i] = _root[i] * _gradient[i];
        Project(_force);
        DenseAlgebra.ForwardSolve(_factor, n, _force);
    }

    /// <summary>Adds this phase's terms to the Newton matrix (row length <paramref name="width"/>) and right-hand side.</summary>
    internal void AddTo(Span<double> matrix, Span<double> rhs, int width, int row)
    {
        int n = _root.Length;
        for (int e = 0; e < _elements; e++)
        {
            ReadOnlySpan<double> we = _coupling.AsSpan(e * n, n);
            for (int f = 0; f <= e; f++)
            {
                double product = Amount * DenseAlgebra.Dot(we, _coupling.AsSpan(f * n, n));
                matrix[e * width + f] += product;
                if (f != e) matrix[f * width + e] += product;
            }
            rhs[e] += Amount * DenseAlgebra.Dot(we, _force);
            matrix[e * width + row] = Atoms[e];
            matrix[row * width + e] = Atoms[e];
        }
        rhs[row] = Gibbs;
    }

    /// <summary>Finds the relative step of the site fractions for the given potentials; returns its size: the norm of the scaled step or, if larger, the relative step of any constituent that is not a trace.</summary>
    internal double Respond(ReadOnlySpan<double> potentials)
    {
        int n = _root.Length;
        for (int i = 0; i < n; i++)
        {
            double sum = -_force[i];
            for (int e = 0; e < _elements; e++) sum += _coupling[e * n + i] * potentials[e];
            _work[i] = sum;
        }
        double size = FinishStep();
        for (int i = 0; i < n; i++)
            if (SiteFractions[i] > Trace) size = Math.Max(size, Math.Abs(Step[i]));
        return size;
    }

    /// <summary>As <see cref="Respond"/> for given potentials, without couplings; returns the decrease of the distance the step promises.</summary>
    internal double Descend(ReadOnlySpan<double> potentials, out double norm)
    {
        int n = _root.Length;
        LoadImbalance(potentials, _work);
        DenseAlgebra.ForwardSolve(_factor, n, _work);
        double promise = DenseAlgebra.Dot(_work, _work);
        norm = FinishStep();
        return promise;
    }

    /// <summary>Norm of the scaled, projected imbalance between the phase's potentials and the given ones; zero at equilibrium.</summary>
    internal double Imbalance(ReadOnlySpan<double> potentials)
    {
        LoadImbalance(potentials, _work);
        return Math.Sqrt(DenseAlgebra.Dot(_work, _work));
    }

    /// <summary>Largest difference between a potential in this phase and the common one, over R T per mole of sites.</summary>
    /// <remarks>Constituents below <see cref="Trace"/> are left out: they change nothing, and some stand at the smallest site fraction allowed.</remarks>
    internal double PotentialMismatch(ReadOnlySpan<double> potentials)
    {
        PhaseModel model = Energy.Model;
        double largest = 0;
        for (int s = 0; s + 1 < model.SublatticeStart.Length; s++)
        {
            double multiplier = 0;
            for (int pass = 0; pass < 2; pass++)
                for (int i = model.SublatticeStart[s]; i < model.SublatticeStart[s + 1]; i++)
                {
                    double excess = _gradient[i] - (model.ElementOf[i] >= 0 ? model.AtomsOf[i] * potentials[model.ElementOf[i]] : 0);
                    if (pass == 0) multiplier += SiteFractions[i] * excess;
                    else if (SiteFractions[i] > Trace) largest = Math.Max(largest, Math.Abs(excess - multiplier) / model.SiteOf[i]);
                }
        }
        return largest;
    }

    /// <summary>Largest difference of a site fraction from another composition of the same model.</summary>
    internal double Difference(ReadOnlySpan<double> siteFractions)
    {
        double largest = 0;
        for (int i = 0; i < SiteFractions.Length; i++) largest = Math.Max(largest, Math.Abs(SiteFractions[i] - siteFractions[i]));
        return largest;
    }

    /// <summary>Slope to temperature, at fixed site fractions, of the energy over R T (returned) and of its gradient over R T.</summary>
    internal double TemperatureSlope(Span<double> gradientSlope, double temperatureK)
    {
        double scale = 1 / (_gasConstant * temperatureK);
        double slope = Energy.TemperatureSlope(SiteFractions, gradientSlope) * scale - Gibbs / temperatureK;
        for (int i = 0; i < gradientSlope.Length; i++) gradientSlope[i] = gradientSlope[i] * scale - _gradient[i] / temperatureK;
        return slope;
    }

    /// <summary>Response of the site fractions (absolute) to a change of the potentials and of the gradient, by the present factor.</summary>
    /// <param name="potentials">Change of the potentials, over R T.</param>
    /// <param name="gradient">Change of the gradient, over R T.</param>
    /// <param name="siteFractions">Result: change of the site fractions.</param>
    internal void Differentiate(ReadOnlySpan<double> potentials, ReadOnlySpan<double> gradient, Span<double> siteFractions)
    {
        PhaseModel model = Energy.Model;
        int n = _root.Length;
        for (int i = 0; i < n; i++)
            _work[i] = _root[i] * ((model.ElementOf[i] >= 0 ? model.AtomsOf[i] * potentials[model.ElementOf[i]] : 0) - gradient[i]);
        Project(_work);
        DenseAlgebra.ForwardSolve(_factor, n, _work);
        DenseAlgebra.BackwardSolve(_factor, n, _work);
        Project(_work);
        for (int i = 0; i < n; i++) siteFractions[i] = _root[i] * _work[i];
    }

    /// <summary>Keeps the present site fractions and amount as the start of the next <see cref="Move"/>.</summary>
    internal void Save()
    {
        SiteFractions.CopyTo(_saved, 0);
        SavedAmount = Amount;
    }

    /// <summary>Amount when <see cref="Save"/> was last called.</summary>
    internal double SavedAmount { get; private set; }

    /// <summary>Puts the site fractions at the saved ones moved along <see cref="Step"/> by the share <paramref name="length"/>.</summary>
    /// <remarks>The step is taken in ln y, so that a site fraction stays above zero and a trace element converges at once.</remarks>
    internal void Move(double length)
    {
        double[] from = _saved;
        int[] start = Energy.Model.SublatticeStart;
        for (int s = 0; s + 1 < start.Length; s++)
        {
            double sum = 0;
            for (int i = start[s]; i < start[s + 1]; i++)
            {
                double moved = from[i] * Math.Exp(Math.Clamp(length * Step[i], -12, 40));
                sum += SiteFractions[i] = Math.Clamp(moved, 1e-30, Math.Max(0.01, Math.E * from[i]));
            }
            for (int i = start[s]; i < start[s + 1]; i++) SiteFractions[i] /= sum;
        }
    }

    /// <summary>Largest relative step among site fractions that matter (above 1e-3).</summary>
    internal double LargestStep()
    {
        double largest = 0;
        for (int i = 0; i < Step.Length; i++)
            if (SiteFractions[i] > 1e-3) largest = Math.Max(largest, Math.Abs(Step[i]));
        return largest;
    }

    private double FinishStep()
    {
        int n = _root.Length;
        DenseAlgebra.BackwardSolve(_factor, n, _work);
        Project(_work);
        double norm = 0;
        for (int i = 0; i < n; i++)
        {
            norm += _work[i] * _work[i];
            Step[i] = _work[i] / _root[i];
        }
        return Math.Sqrt(norm);
    }

    private void LoadImbalance(ReadOnlySpan<double> potentials, Span<double> v)
    {
        PhaseModel model = Energy.Model;
        for (int i = 0; i < v.Length; i++)
            v[i] = _root[i] * ((model.ElementOf[i] >= 0 ? model.AtomsOf[i] * potentials[model.ElementOf[i]] : 0) - _gradient[i]);
        Project(v);
    }

    /// <summary>Removes from v its part along the direction of each sublattice's sum.</summary>
    private void Project(Span<double> v)
    {
        int[] start = Energy.Model.SublatticeStart;
        for (int s = 0; s + 1 < start.Length; s++)
        {
            double along = 0;
            for (int i = start[s]; i < start[s + 1]; i++) along += _root[i] * v[i];
            for (int i = start[s]; i < start[s + 1]; i++) v[i] -= along * _root[i];
        }
    }

    /// <summary>Turns the scaled Hessian M into P M P plus the unit matrix on the complement.</summary>
    private void ProjectFactor()
    {
        int n = _root.Length;
        int[] start = Energy.Model.SublatticeStart;
        for (int s = 0; s + 1 < start.Length; s++)
        {
            double twice = 0;
            for (int i = 0; i < n; i++)
            {
                double along = 0;
                for (int j = start[s]; j < start[s + 1]; j++) along += _factor[i * n + j] * _root[j];
                _work[i] = along;
                if (i >= start[s] && i < start[s + 1]) twice += along * _root[i];
            }
            for (int i = 0; i < n; i++)
                for (int j = 0; j < n; j++)
                {
                    double ci = i >= start[s] && i < start[s + 1] ? _root[i] : 0;
                    double cj = j >= start[s] && j < start[s + 1] ? _root[j] : 0;
                    _factor[i * n + j] += (twice + 1) * ci * cj - ci * _work[j] - cj * _work[i];
                }
        }
    }
}
