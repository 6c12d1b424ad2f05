using System.Globalization;
using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Meltwise.Statistics.Resampling;

namespace Meltwise.Calibrations;

/// <summary>An invented bench: old heats of several sources, coupons and hardness, and two lots, drawn anew each time and judged by the verdict's own steps.</summary>
/// <remarks>z = source + b·(H − 60) + c·(H − 60)² + heat + e; hardness is read with an error of the coupon and of the session. All numbers are invented.</remarks>
internal sealed record SimulatedBench
{
    /// <summary>Old heats of the candidate's source, of the reference's, and of others.</summary>
    public IReadOnlyList<int> HeatsOfSource { get; init; } = [];

    /// <summary>Coupons of the old heats, in turn.</summary>
    public IReadOnlyList<int> CouponsOfHeat { get; init; } = [5];

    /// <summary>Slope of ln(energy) per HRC unless told.</summary>
    public const double TrueSlope = -0.09;

    public double Slope { get; init; } = TrueSlope;

    public double Curvature { get; init; }

    public double Within { get; init; } = 0.12;

    public double HeatSd { get; init; } = 0.06;

    /// <summary>Spread of the sources other than the two compared.</summary>
    public double SourceSd { get; init; }

    /// <summary>Spread of the heats' true hardness, HRC; 0 leaves hardness out of the tables.</summary>
    public double HardnessSd { get; init; } = 0.7;

    public double CouponHardnessSd { get; init; } = 0.3;

    /// <summary>True spread of hardness between sessions, HRC; each old heat is a session, and the lots are one.</summary>
    public double SessionSd { get; init; }

    /// <summary>Coupons a lot.</summary>
    public int Coupons { get; init; } = 6;

    /// <summary>Heats a role.</summary>
    public int HeatsOfRole { get; init; } = 1;

    /// <summary>True hardness of the candidate less that of the reference, HRC.</summary>
    public double HardnessDifference { get; init; }

    /// <summary>Where the lots lie, HRC from the middle of the old heats.</summary>
    public double HardnessOfLots { get; init; }

    /// <summary>Candidate's scatter over the reference's.</summary>
    public double CandidateScatter { get; init; } = 1;

    /// <summary>True ln(C/R) of the rule's question, at equal hardness.</summary>
    public double Truth { get; init; }

    public DecisionRule Rule { get; init; } = new() { Property = "impact energy", Margin = new Margin.Ratio(0.8, 1.25) };

    /// <summary>Draws the bench once and judges it.</summary>
    public Assessment Judge(ref RandomStream random)
    {
        ComparisonInput input = Draw(ref random);
        ResolvedRule rule = ResolvedRule.From(Rule, "J", Coupons);
        LotReading reading = new LotReader(input, rule).Read();
        LotData lots = new(reading.Entering, rule);
        return new(lots, StratumCheck.Of(input.Lots, lots.Coupons, rule), HistoryMatch.Of(input, lots.Coupons, rule), [], CancellationToken.None);
    }

    private ComparisonInput Draw(ref RandomStream random)
    {
        HashSet<string> columns = ["source"];
        List<CouponRow> lots = [], history = [];
        string[] candidates = new string[HeatsOfRole], references = new string[HeatsOfRole];
        bool ofSources = Rule.Estimand == Estimand.Sources;
        for (int h = 0; h < HeatsOfRole; h++)
        {
            // The sources' heats scatter; two given lots are themselves the question, and their truth is exact.
            (candidates[h], references[h]) = ($"M{h}", $"K{h}");
            double c = 0.5 * Truth + (ofSources ? HeatSd * random.Normal() : 0), r = -0.5 * Truth + (ofSources ? HeatSd * random.Normal() : 0);
            Coupon(ref random, lots, candidates[h], Name(0), Coupons, HardnessOfLots + 0.5 * HardnessDifference, 0, c, Within * CandidateScatter);
            Coupon(ref random, lots, references[h], Name(1), Coupons, HardnessOfLots - 0.5 * HardnessDifference, 0, r, Within);
        }
        int heat = 0;
        for (int s = 0; s < HeatsOfSource.Count; s++)
        {
            double source = s switch { 0 => 0.5 * Truth, 1 => -0.5 * Truth, _ => SourceSd * random.Normal() };
            for (int h = 0; h < HeatsOfSource[s]; h++, heat++)
                Coupon(ref random, history, $"H{heat}", Name(s), CouponsOfHeat[heat % CouponsOfHeat.Count], HardnessSd * random.Normal(), SessionSd * random.Normal(), source + HeatSd * random.Normal(), Within);
        }
        return new()
        {
            Lots = new(lots, columns, "lots"),
            History = history.Count == 0 ? null : new(history, columns, "bench"),
            Rule = Rule,
            CandidateHeats = candidates,
            ReferenceHeats = references,
        };
    }

    private void Coupon(ref RandomStream random, List<CouponRow> rows, string heat, string source, int count, double hardness, double session, double level, double within)
    {
        double mean = level + Slope * hardness + Curvature * hardness * hardness;
        for (int i = 0; i < count; i++)
        {
            double energy = 30 * Math.Exp(mean + within * random.Normal()), read = 60 + hardness + session + CouponHardnessSd * random.Normal();
            rows.Add(new()
            {
                Heat = heat,
                Coupon = i.ToString(CultureInfo.InvariantCulture),
                Source = source,
                Hardness = HardnessSd > 0 ? [new CensoredValue(read, "HRC", Censoring.None, "")] : [],
                Readings = new Dictionary<string, IReadOnlyList<CensoredValue>> { ["impact energy"] = [new CensoredValue(energy, "J", Censoring.None, "")] },
            });
        }
    }

    private static string Name(int source) => source switch { 0 => "M", 1 => "K", _ => $"S{source}" };
}
