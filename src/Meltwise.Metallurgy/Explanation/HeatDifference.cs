using System.Globalization;
using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Equilibrium;

namespace Meltwise.Metallurgy.Explanation;

/// <summary>A computed quantity with its interval.</summary>
/// <param name="Estimate">Median of the draws.</param>
/// <param name="Lower">Lower end.</param>
/// <param name="Upper">Upper end.</param>
/// <param name="Level">Probability of the interval.</param>
public readonly record struct Interval(double Estimate, double Lower, double Upper, double Level)
{
    /// <summary>Whether the interval holds a value.</summary>
    public bool Holds(double value) => value >= Lower && value <= Upper;

    /// <summary>Half the width.</summary>
    public double HalfWidth => (Upper - Lower) / 2;
}

/// <summary>Every quantity of the chain, of one heat or as candidate less reference.</summary>
/// <param name="CarbonInAustenite">Mass percent.</param>
/// <param name="ChromiumInAustenite">Mass percent.</param>
/// <param name="MolybdenumInAustenite">Mass percent.</param>
/// <param name="VanadiumInAustenite">Mass percent.</param>
/// <param name="TungstenInAustenite">Mass percent.</param>
/// <param name="CarbideVolumeFraction">All undissolved carbide, 0 to 1.</param>
/// <param name="CarbidesByKind">By kind, 0 to 1; kinds that are there in at least one draw.</param>
/// <param name="MartensiteStartC">°C.</param>
/// <param name="RetainedAustenite">Volume fraction of the whole.</param>
/// <param name="HardnessHrc">Rockwell C.</param>
public sealed record ChainIntervals(
    Interval CarbonInAustenite, Interval ChromiumInAustenite, Interval MolybdenumInAustenite, Interval VanadiumInAustenite, Interval TungstenInAustenite,
    Interval CarbideVolumeFraction, IReadOnlyDictionary<CarbideKind, Interval> CarbidesByKind,
    Interval MartensiteStartC, Interval RetainedAustenite, Interval HardnessHrc);

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
    private readonly ChemistryDraws _chemistry;
    private readonly HardnessChain _chain;
    private readonly ChainErrorSpread _spread;
    private readonly ISoakAssumption _soak;
    private readonly double _temperatureK;
    private readonly ChainState[] _reference, _candidate;

    public HeatDifference(ChemistryDraws chemistry, HardeningTreatment treatment, ISoakAssumption soak, ChainErrorSpread spread, int draws)
    {
        (_chemistry, _soak, _spread) = (chemistry, soak, spread);
        _chain = new(treatment);
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
    /// <param name="cancel">Stops between draws.</param>
    /// <exception cref="EquilibriumRefusedException">A measured steel or the temperature is outside the parameter set.</exception>
    /// <exception cref="ChainRefusedException">A measured steel has no austenite at the temperature.</exception>
    public void Run(ulong seed, int threads, CancellationToken cancel)
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
            }
        });
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

/// <summary>Turns draws into intervals.</summary>
internal static class DrawSummary
{
    /// <summary>Draws that gave no number, in words, or null when there were none.</summary>
    /// <exception cref="ChainRefusedException">More than one in a hundred.</exception>
    public static string? FailedDraws(IReadOnlyList<ChainState> reference, IReadOnlyList<ChainState> candidate)
    {
        int failed = 0;
        for (int i = 0; i < reference.Count; i++)
            if (double.IsNaN(reference[i].HardnessHrc) || double.IsNaN(candidate[i].HardnessHrc)) failed++;
        if (failed > 0.01 * reference.Count)
            throw new ChainRefusedException(string.Create(CultureInfo.InvariantCulture,
                $"In {failed} of {reference.Count} draws the chain has no answer: dissolved carbon outside 0.1 to 1.0 wt%, or no certified equilibrium. The treatment or the chemistry is outside what the models cover."));
        return failed == 0 ? null : string.Create(CultureInfo.InvariantCulture, $"{failed} of {reference.Count} draws had no answer and were left out.");
    }

    /// <summary>Intervals of one heat.</summary>
    public static ChainIntervals Of(IReadOnlyList<ChainState> states, double level) => Build(states, null, level);

    /// <summary>Intervals of candidate less reference.</summary>
    public static ChainIntervals Difference(IReadOnlyList<ChainState> candidate, IReadOnlyList<ChainState> reference, double level) => Build(candidate, reference, level);

    /// <summary>Interval of a list of draws.</summary>
    public static Interval Of(IReadOnlyList<double> draws, double level)
    {
        double[] sorted = [.. draws.Where(d => !double.IsNaN(d)).Order()];
        return new(Quantile(sorted, 0.5), Quantile(sorted, (1 - level) / 2), Quantile(sorted, (1 + level) / 2), level);
    }

    private static double Quantile(double[] sorted, double p)
    {
        double h = (sorted.Length - 1) * p;
        int i = (int)h;
        return i + 1 < sorted.Length ? sorted[i] + (h - i) * (sorted[i + 1] - sorted[i]) : sorted[^1];
    }

    private static ChainIntervals Build(IReadOnlyList<ChainState> states, IReadOnlyList<ChainState>? less, double level)
    {
        Interval Each(Func<ChainState, double> quantity)
        {
            double[] draws = new double[states.Count];
            for (int i = 0; i < draws.Length; i++)
            {
                bool failed = double.IsNaN(states[i].HardnessHrc) || (less is not null && double.IsNaN(less[i].HardnessHrc));
                draws[i] = failed ? double.NaN : quantity(states[i]) - (less is null ? 0 : quantity(less[i]));
            }
            return Of(draws, level);
        }

        Dictionary<CarbideKind, Interval> kinds = [];
        foreach (CarbideKind kind in Enum.GetValues<CarbideKind>())
            if (states.Any(s => s.Carbides[kind] > 0) || (less?.Any(s => s.Carbides[kind] > 0) ?? false)) kinds[kind] = Each(s => s.Carbides[kind]);
        return new(Each(s => s.Austenite.C), Each(s => s.Austenite.Cr), Each(s => s.Austenite.Mo), Each(s => s.Austenite.V), Each(s => s.Austenite.W),
            Each(s => s.Carbides.Total), kinds, Each(s => s.MartensiteStartC), Each(s => s.RetainedAustenite), Each(s => s.HardnessHrc));
    }
}

/// <summary>The chain cannot answer, and why.</summary>
public sealed class ChainRefusedException(string message) : InvalidOperationException(message);
