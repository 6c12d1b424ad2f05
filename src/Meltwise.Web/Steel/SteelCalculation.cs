using Meltwise.Casework.Explaining;
using Meltwise.Metallurgy.Equilibrium;
using Meltwise.Metallurgy.Explanation;
using Meltwise.Metallurgy.Sources;
using Meltwise.Metallurgy.Tempering;
using Meltwise.Web.LongWork;

namespace Meltwise.Web.Steel;

/// <summary>How the steels are hardened.</summary>
/// <param name="AtC">Hardening temperature, °C.</param>
/// <param name="QuenchC">Coldest temperature of the quench, °C.</param>
/// <param name="Tempers">Tempers.</param>
/// <param name="Soak">What the soak reaches; null is equilibrium.</param>
public sealed record SteelSetting(double AtC, double QuenchC, IReadOnlyList<Temper> Tempers, ISoakAssumption? Soak = null);

/// <summary>A steel that was asked for.</summary>
/// <param name="Name">Name on the page.</param>
/// <param name="Steel">Composition.</param>
/// <param name="Heat">Heat it was taken from, or null.</param>
/// <param name="Typed">As typed.</param>
internal sealed record AskedSteel(string Name, SteelComposition Steel, string? Heat, string Typed);

/// <summary>One steel or two side by side, and for two why they come out differently.</summary>
/// <param name="Steels">The steels.</param>
/// <param name="Difference">The second less the first explained, or null.</param>
/// <param name="NoDifference">Why it is not explained, or null.</param>
internal sealed record SteelCalculation(IReadOnlyList<CalculatedSteel> Steels, ExplanationDocument? Difference, string? NoDifference)
{
    // Enough for intervals to a tenth, few enough that a page does not keep its reader waiting.
    private const int Draws = 400;

    /// <summary>Computes it as work beside the page.</summary>
    /// <exception cref="WorkRefusedException">Outside the models.</exception>
    public static SteelCalculation Of(AskedSteel first, AskedSteel? second, SteelSetting setting, WorkTools tools)
    {
        try
        {
            double each = second is null ? 1 : 0.4;
            var one = CalculatedSteel.Of(first.Name, first.Steel, setting, new ShareOfWork(tools.Progress, 0, each), tools.Cancel);
            if (second is null)
            {
                return new([one], null, null);
            }

            var other = CalculatedSteel.Of(second.Name, second.Steel, setting, new ShareOfWork(tools.Progress, each, 2 * each), tools.Cancel);
            (ExplanationDocument? difference, string? fault) = SteelDifference.Explain(
                tools.Bench, (first.Name, first.Heat, first.Typed), (second.Name, second.Heat, second.Typed),
                new HardeningTreatment(setting.AtC, [setting.QuenchC], setting.Tempers), setting.Soak, Draws, new ShareOfWork(tools.Progress, 2 * each, 1), tools.Cancel);
            return new([one, other], difference, fault);
        }
        catch (OutsideModelRangeException range)
        {
            throw new WorkRefusedException(range.Words);
        }
        catch (Exception refused) when (refused is EquilibriumRefusedException or ChainRefusedException)
        {
            throw new WorkRefusedException(refused.Message);
        }
    }
}
