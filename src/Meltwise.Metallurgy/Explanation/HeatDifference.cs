using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Equilibrium;

namespace Meltwise.Metallurgy.Explanation;

/// <summary>Monte Carlo of two heats through the chain: distribution of each, and of their difference with common errors cancelling.</summary>
/// <remarks>
/// <para><b>Method.</b> Each draw takes one set of model errors for both heats (<see cref="ChainErrors"/>) and one true chemistry for each (<see cref="ChemistryDraws"/>,
/// the bias of a shared method drawn once), solves both soaks and runs both chains; the difference is taken inside the draw. Quantiles of the draws are
/// the intervals (definition 7 of Hyndman and Fan).</para>
/// <para><b>Deterministic.</b> A draw depends on seed and draw number only: results are the same at any number of threads.</para>
/// <para><b>Outside.</b> Draws where a curve ends or no equilibrium is certified are counted; above 1 % the whole is refused.</para>
/// <para><b>Source.</b> JCGM 101:2008, propagation of distributions by a Monte Carlo method.</para>
/// </remarks>
internal sealed class HeatDifference
{
    private const int Reports = 200;

    private readonly ChemistryDraws _chemistry;
    private readonly HardnessChain _chain;
    private readonly ChainErrorSpread _spread;
    private readonly ISoakAssumption _soak;
    private readonly double _temperatureK;
    private readonly ChainState[] _reference, _candidate;
    private readonly Lock _reporting = new();
    private int _done;

    public HeatDifference(ChemistryDraws chemistry, HardeningTreatment treatment, HardnessChain chain, ISoakAssumption soak, ChainErrorSpread spread, int draws)
    {
        (_chemistry, _soak, _spread) = (chemistry, soak, spread);
        _chain = chain;
        _temperatureK = treatment.HardeningTemperatureK;
        (_reference, _candidate) = (new ChainState[draws], new ChainState[draws]);
    }

    /// <summary>Chain states of the reference by draw; a failed draw has NaN hardness.</summary>
    public IReadOnlyList<ChainState> ReferenceStates => _reference;

    /// <summary>Chain states of the candidate by draw.</summary>
    public IReadOnlyList<ChainState> CandidateStates => _candidate;

    /// <summary>Runs all draws.</summary>
    /// <param name="seed">Seed.</param>
    /// <param name="threads">Threads, 1 or more.</param>
    /// <param name="progress">Told the share of the draws made, 0 to 1, never falling, about two hundred times.</param>
    /// <param name="cancel">Stops between draws.</param>
    /// <exception cref="EquilibriumRefusedException">A measured steel or the temperature is outside the parameter set.</exception>
    /// <exception cref="ChainRefusedException">A measured steel has no austenite at the temperature.</exception>
    public void Run(ulong seed, int threads, IProgress<double>? progress = null, CancellationToken cancel = default)
    {
        // Both measured steels once on this thread, so that a refusal comes out as itself and not wrapped by the parallel loop.
        _ = _soak.Near(_chemistry.Reference, _temperatureK).Of(_chemistry.Reference);
        _ = _soak.Near(_chemistry.Candidate, _temperatureK).Of(_chemistry.Candidate);
        int next = -1;
        Parallel.For(0, threads, new ParallelOptions { MaxDegreeOfParallelism = threads, CancellationToken = cancel }, _ =>
        {
            ISoak reference = _soak.Near(_chemistry.Reference, _temperatureK), candidate = _soak.Near(_chemistry.Candidate, _temperatureK);
            for (int draw = Interlocked.Increment(ref next); draw < _reference.Length; draw = Interlocked.Increment(ref next))
            {
                cancel.ThrowIfCancellationRequested();
                DrawStream stream = new(seed, draw);
                ChainErrors errors = _spread.Draw(ref stream);
                (AlloyContent r, AlloyContent c) = _chemistry.Draw(ref stream);
                _reference[draw] = StateOf(reference, r, errors);
                _candidate[draw] = StateOf(candidate, c, errors);
                if (progress is not null) Report(progress);
            }
        });
    }

    // Counted and told under one lock, so that the shares reach the listener in order whatever thread made the draw.
    private void Report(IProgress<double> progress)
    {
        lock (_reporting)
        {
            _done++;
            if (_done == _reference.Length || _done % Math.Max(1, _reference.Length / Reports) == 0) progress.Report((double)_done / _reference.Length);
        }
    }

    private ChainState StateOf(ISoak soak, AlloyContent steel, in ChainErrors errors)
    {
        try
        {
            return _chain.Of(soak.Of(steel), errors);
        }
        catch (Exception refused) when (refused is EquilibriumRefusedException or ChainRefusedException)
        {
            return new(default, default, double.NaN, double.NaN, double.NaN); // counted and reported, refused above 1 %
        }
    }
}
