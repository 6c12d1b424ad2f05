namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>Equilibrium of a given set of phases: Newton's method on the full Lagrangian, site fractions included.</summary>
/// <remarks>
/// <para><b>Equations.</b> For every phase: dG/dy_i = a_i mu + lambda_s and G = sum N_e mu_e; for every element: sum n N_e = b_e.
/// Eliminating the site fractions (<see cref="PhaseBlock"/>) leaves one dense system of elements + phases for the new potentials and amounts:
/// [sum n W^T W, N; N^T, 0] [mu; n] = [b + sum n W^T w; G].</para>
/// <para><b>Source.</b> [SundmanLuOhtani2015]; convergence is quadratic near the solution.</para>
/// <para><b>Safeguards.</b> Relative steps above one are shortened; the step is halved while the residual grows; a phase whose amount
/// goes below zero is removed; two phases of one model that meet are merged.</para>
/// <para><b>Units.</b> Energies over R T; amounts in formula units per mole of atoms. Allocates nothing.</para>
/// </remarks>
internal sealed class LagrangeNewton
{
    private const int MaximumIterations = 60;
    private readonly int _elements;
    private readonly double[] _matrix, _unknowns, _previous, _scale;
    private readonly int[] _pivots;
    private readonly double[] _target;

    internal LagrangeNewton(int elements, int phases)
    {
        int width = elements + phases;
        _elements = elements;
        _matrix = new double[width * width];
        _unknowns = new double[width];
        _previous = new double[elements];
        _scale = new double[width];
        _pivots = new int[width];
        _target = new double[elements];
        Active = new List<PhaseBlock>(phases);
        Potentials = new double[elements];
    }

    /// <summary>The phases taking part.</summary>
    internal List<PhaseBlock> Active { get; }

    /// <summary>Chemical potentials of the elements, over R T.</summary>
    internal double[] Potentials { get; }

    /// <summary>Iterations of the last call.</summary>
    internal int Iterations { get; private set; }

    /// <summary>True when a phase of the probe's model with about the probe's composition is present.</summary>
    internal bool Holds(PhaseBlock probe)
    {
        foreach (PhaseBlock block in Active)
            if (block.ModelIndex == probe.ModelIndex && block.Difference(probe.SiteFractions) < 0.05) return true;
        return false;
    }

    /// <summary>Solves for the composition <paramref name="b"/>, mole fractions; false when it does not converge.</summary>
    internal bool Solve(ReadOnlySpan<double> b, double temperatureK)
    {
        b.CopyTo(_target);
        foreach (PhaseBlock block in Active) block.Evaluate(temperatureK);
        bool settled = false;
        for (Iterations = 1; Iterations <= MaximumIterations; Iterations++)
        {
            double merit = Merit();
            if (!FindStep(out double change)) return false;
            if (change < 1e-12 || settled)
            {
                Take(1, temperatureK);
                return Active.Count > 0 && Active.TrueForAll(p => p.Amount >= 0);
            }
            settled = change < 1e-7;
            Advance(merit, temperatureK);
            if (RemoveEmpty() | MergeEqual()) settled = false;
        }
        return false;
    }

    /// <summary>Factors the system at the solution, for derivatives; false when singular.</summary>
    internal bool FactorAtSolution(double temperatureK)
    {
        foreach (PhaseBlock block in Active) block.Evaluate(temperatureK);
        return Assemble();
    }

    /// <summary>Solves the factored system in place: change of the balances and of the phases' energies to change of potentials and amounts.</summary>
    internal void SolveFactored(Span<double> rightHandSide) =>
        DenseAlgebra.Solve(_matrix, _elements + Active.Count, _pivots, _scale, rightHandSide);

    private bool Assemble()
    {
        int width = _elements + Active.Count;
        Array.Clear(_matrix, 0, width * width);
        Array.Clear(_unknowns, 0, width);
        _target.CopyTo(_unknowns, 0);
        for (int p = 0; p < Active.Count; p++)
        {
            Active[p].Factor();
            Active[p].Couple();
            Active[p].AddTo(_matrix, _unknowns, width, _elements + p);
        }
        return DenseAlgebra.Factor(_matrix, width, _pivots, _scale);
    }

    /// <summary>Finds new potentials, amounts and steps of the site fractions. The change is the largest scaled step.</summary>
    private bool FindStep(out double change)
    {
        change = double.PositiveInfinity;
        if (!Assemble()) return false;
        DenseAlgebra.Solve(_matrix, _elements + Active.Count, _pivots, _scale, _unknowns);
        Potentials.CopyTo(_previous, 0);
        change = 0;
        for (int p = 0; p < Active.Count; p++)
        {
            double norm = Active[p].Respond(_unknowns.AsSpan(0, _elements));
            if (!double.IsFinite(norm)) return false;
            change = Math.Max(change, Math.Max(norm, Math.Abs(_unknowns[_elements + p] - Active[p].Amount)));
            Active[p].Save();
        }
        return true;
    }

    private void Advance(double merit, double temperatureK)
    {
        double length = 1;
        foreach (PhaseBlock block in Active) length = Math.Min(length, 1 / Math.Max(1, block.LargestStep()));
        for (int p = 0; p < Active.Count; p++)
        {
            double n = Active[p].SavedAmount, wanted = _unknowns[_elements + p];
            Active[p].Strikes = wanted < 0 ? Active[p].Strikes + 1 : 0;
            if (wanted < 0) length = Math.Min(length, Math.Max(0.05, 0.9 * n / (n - wanted)));
        }
        bool far = merit > 1e-4 || length < 1;
        Take(length, temperatureK);
        // Near the solution the step is Newton's own: a trace that has far to go must not be held back, and its growth can raise the residual on the way.
        for (int halving = 0; far && halving < 5 && !(Merit() < merit * (1 - 1e-4 * length)); halving++)
        {
            length /= 2;
            Take(length, temperatureK);
        }
    }

    private void Take(double length, double temperatureK)
    {
        for (int e = 0; e < _elements; e++) Potentials[e] = _previous[e] + length * (_unknowns[e] - _previous[e]);
        for (int p = 0; p < Active.Count; p++)
        {
            PhaseBlock block = Active[p];
            block.Amount = block.SavedAmount + length * (_unknowns[_elements + p] - block.SavedAmount);
            block.Move(length);
            block.Evaluate(temperatureK);
        }
    }

    /// <summary>Sum of squares of all residuals, each scaled to be of order one.</summary>
    private double Merit()
    {
        double merit = 0;
        foreach (PhaseBlock block in Active)
        {
            double imbalance = block.Imbalance(Potentials), distance = block.Distance(Potentials);
            merit += imbalance * imbalance + distance * distance;
        }
        for (int e = 0; e < _elements; e++)
        {
            double missing = _target[e];
            foreach (PhaseBlock block in Active) missing -= block.Amount * block.Atoms[e];
            merit += missing * missing / _target[e];
        }
        return merit;
    }

    private bool RemoveEmpty()
    {
        int worst = -1;
        for (int p = 0; p < Active.Count; p++)
            if ((Active[p].Amount <= 1e-9 || Active[p].Strikes >= 3) && Active.Count > 1 && (worst < 0 || Active[p].Amount < Active[worst].Amount)
                && Active[p].Strikes > 0)
                worst = p;
        if (worst < 0) return false;
        Active.RemoveAt(worst);
        foreach (PhaseBlock block in Active) block.Strikes = 0;
        return true;
    }

    private bool MergeEqual()
    {
        for (int p = 0; p < Active.Count; p++)
            for (int q = p + 1; q < Active.Count; q++)
            {
                if (Active[p].ModelIndex != Active[q].ModelIndex || Active[p].Difference(Active[q].SiteFractions) > 0.01) continue;
                Active[p].Amount += Active[q].Amount;
                Active.RemoveAt(q);
                return true;
            }
        return false;
    }
}
