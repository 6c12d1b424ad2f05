using System.Text.Json;
using Meltwise.Casework.Judging;
using Meltwise.Casework.Planning;
using Meltwise.Domain;
using Meltwise.Statistics.Resampling;
using Xunit;

namespace Meltwise.Casework.Tests.Planning;

/// <summary>Rates of another program's simulation of the same rule (Oracles/planning/README.md), each within 3.5 combined Monte-Carlo errors.</summary>
public sealed class SimulatedRatesTests
{
    private const int Replicates = 40_000;

    private static readonly PlanRequest s_plan = new() { MarginLow = 0.8, MarginHigh = 1.25, WithinHeatSd = 0.12, Coupons = [6], Replicates = Replicates, Seed = 21 };

    private static IEnumerable<JsonElement> Rows(string file)
    {
        using JsonDocument document = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Oracles", "planning", file)));
        return [.. document.RootElement.GetProperty("rows").EnumerateArray().Select(r => r.Clone())];
    }

    private static PlanRow Odds(PlanRequest plan) => OutcomeOdds.Of(plan, cancel: TestContext.Current.CancellationToken).Table[0];

    private static void Close(JsonElement rate, double ours, double besides = 0)
    {
        double theirs = rate[0].GetDouble(), error = rate[1].GetDouble(), own = Math.Sqrt(Math.Max(ours * (1 - ours), 1e-4) / Replicates);
        Assert.Equal(theirs, ours, besides + 3.5 * Math.Sqrt(error * error + own * own));
    }

    private static double Of(PlanRow row, params string[] outcomes) => outcomes.Sum(o => row.Odds.GetValueOrDefault(o));

    [Fact]
    public void Lots_compared_within_furnace_loads()
    {
        foreach (JsonElement row in Rows("loads_rates.json"))
        {
            PlanRow ours = Odds(s_plan with { LoadSd = row.GetProperty("loadSd").GetDouble(), Loads = [row.GetProperty("loads").GetInt32()], Truths = [row.GetProperty("trueRatio").GetDouble()] });
            Close(row.GetProperty("anyEquivalent"), ours.Agreement);
            Close(row.GetProperty("excludes1"), Of(ours, "equivalent-detectable", "better", "worse", "different-open"));
            Close(row.GetProperty("better"), Of(ours, "better"));
        }
    }

    // The other program extends after "inconclusive" only, the rule of the verdict also after an open difference: "excludes 1" is then settled later, agreement can only gain.
    [Fact]
    public void One_planned_extension_with_the_error_rate_split()
    {
        foreach (JsonElement row in Rows("extension_rates.json"))
        {
            int first = row.GetProperty("first").GetInt32();
            bool extends = row.GetProperty("rule").GetString() == "split 0.025 + 0.025";
            PlanRow ours = Odds(s_plan with
            {
                WithinHeatSd = row.GetProperty("cv").GetDouble(),
                Coupons = [first],
                Truths = [row.GetProperty("trueRatio").GetDouble()],
                Extension = extends ? new() : null,
            });
            if (extends) Assert.InRange(ours.Agreement, row.GetProperty("anyEquivalent")[0].GetDouble() - 0.012, row.GetProperty("anyEquivalent")[0].GetDouble() + 0.035);
            else Close(row.GetProperty("anyEquivalent"), ours.Agreement);
        }
    }

    // The other program draws a history of 40 groups for every replicate and fits the law to it, so that what is lent varies; ours lends the median of that. The rates agree to 0.02 besides the Monte-Carlo error.
    [Fact]
    public void Lent_scatter()
    {
        foreach (JsonElement row in Rows("lent_rates.json"))
        {
            double factor = row.GetProperty("candidateScatterFactor").GetDouble();
            bool lends = row.GetProperty("method").GetString() == "lent";
            PlanRow ours = Odds(s_plan with
            {
                WithinHeatSd = 0.15,
                CandidateWithinHeatSd = 0.15 * factor,
                Coupons = [row.GetProperty("n").GetInt32()],
                Truths = [row.GetProperty("trueRatio").GetDouble()],
                Scatter = lends ? ScatterChoice.Lent : ScatterChoice.Own,
                Law = new(1, 0, 38, double.PositiveInfinity, row.GetProperty("medianLent").GetDouble(), true),
            });
            Close(row.GetProperty("anyEquivalent"), ours.Agreement, lends ? 0.02 : 0);
            Close(row.GetProperty("excludes1"), Of(ours, "equivalent-detectable", "better", "worse", "different-open"), lends ? 0.02 : 0);
        }
    }

    // The other program draws the slope for a fixed truth; a plan keeps the bench's slope and draws the truth. So the slope is drawn here and the rule of the plan judges.
    [Fact]
    public void A_margin_in_hardness_through_an_estimated_slope()
    {
        foreach (JsonElement row in Rows("margin_in_hardness_rates.json"))
        {
            double slope = row.GetProperty("trueSlope").GetDouble(), se = row.GetProperty("slopeSe").GetDouble(), df = row.GetProperty("slopeDf").GetDouble();
            RandomStream random = new(5, 0);
            double truth = Math.Log(row.GetProperty("trueRatio").GetDouble());
            int agrees = 0, refused = 0, all = 4000;
            for (int i = 0; i < all; i++)
            {
                PlanRequest plan = s_plan with
                {
                    MarginIn = PlanMargin.Hardness,
                    MarginHigh = 1,
                    Trend = new(slope + se * random.Normal(), se * Math.Sqrt(random.ChiSquared(df) / df), df, 0, 0.3, 100),
                };
                double c = 0.08 * 0.08 * random.ChiSquared(14) / 14 / 15, r = 0.08 * 0.08 * random.ChiSquared(14) / 14 / 15;
                SimulatedEstimate e = new(truth + 0.08 * Math.Sqrt(2.0 / 15) * random.Normal(), c + r, (c * c + r * r) / 14);
                bool resolved = plan.Trend.Slope + Statistics.Distributions.StudentT.Quantile(0.975, df) * plan.Trend.SlopeStandardError < 0;
                if (!resolved) refused++;
                else if (new SimulatedRule(plan, 0.05, 1).DecideInHardness(e, 1).Outcome is Outcome.Equivalent or Outcome.EquivalentDetectable) agrees++;
            }
            foreach ((string name, int count) in new[] { ("equivalentMarginUncertain", agrees), ("marginNotResolved", refused) })
            {
                double p = count / (double)all;
                Assert.Equal(row.GetProperty(name)[0].GetDouble(), p, 3.5 * Math.Sqrt(Math.Max(p * (1 - p), 1e-3) / all));
            }
        }
    }

    // At ratio 1 the wide interval excludes 1 as often as it misses the truth; the narrow one lies beyond neither.
    [Fact]
    public void One_heat_of_a_new_source_against_a_source_with_old_heats()
    {
        foreach (JsonElement row in Rows("newcomer_coverage.json"))
        {
            PlanRow ours = Odds(s_plan with
            {
                Estimand = Estimand.Sources,
                HeatSd = row.GetProperty("heatSd").GetDouble(),
                Coupons = [row.GetProperty("couponsPerHeat").GetInt32()],
                History = new(row.GetProperty("heatsOfOldSource").GetInt32() - 1, 0, [], row.GetProperty("couponsPerHeat").GetInt32()),
                Replicates = 20_000,
            });
            Assert.Equal("sources", ours.Estimand);
            Close(row.GetProperty("cover95"), Of(ours, "equivalent", "inconclusive"), 0.002);
        }
    }
}
