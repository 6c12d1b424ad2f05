namespace Meltwise.Casework.Judging;

/// <summary>The temper ladder that both lots were tested over, where equal hardness was judged by it.</summary>
/// <param name="Levels">Levels of both lots, reference first.</param>
/// <param name="Overlap">Lowest and highest hardness that both ladders reach, HRC; the comparison is for it.</param>
/// <param name="ParallelismF">F of one slope for all heats.</param>
/// <param name="ParallelismDf">Its denominator degrees of freedom.</param>
/// <param name="ParallelismP">Its p value; a small one says that no single ratio holds over the ladder.</param>
/// <param name="BetweenHeats">The slope between heats of the history beside it; null without a usable trend.</param>
public sealed record LadderOfLots(
    IReadOnlyList<LevelOfLadder> Levels, IReadOnlyList<double> Overlap, double ParallelismF, int ParallelismDf, double ParallelismP, SlopeBetweenHeats? BetweenHeats);

/// <summary>One heat at one treatment.</summary>
/// <param name="Heat">The heat.</param>
/// <param name="Role"><c>reference</c> or <c>candidate</c>.</param>
/// <param name="Treatment">The treatment.</param>
/// <param name="N">Coupons.</param>
/// <param name="HardnessMean">Mean hardness, HRC.</param>
/// <param name="Mean">Mean of the property in the unit of comparison: geometric on a log scale.</param>
public sealed record LevelOfLadder(string Heat, string Role, string Treatment, int N, double HardnessMean, double Mean);

/// <summary>The slope between heats of the history, for comparison with that of a ladder.</summary>
/// <param name="Estimate">Slope per HRC, analysis scale.</param>
/// <param name="StandardError">Its standard error.</param>
/// <param name="Heats">Heats in it.</param>
/// <param name="PEqual">Two-sided p value of equal slopes.</param>
public sealed record SlopeBetweenHeats(double Estimate, double StandardError, int Heats, double PEqual);
