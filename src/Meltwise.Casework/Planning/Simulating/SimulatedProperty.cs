using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Meltwise.Statistics.Distributions;
using Meltwise.Statistics.Resampling;

namespace Meltwise.Casework.Planning;

/// <summary>One property of one simulated enquiry after another, judged under any plan and truth of its request.</summary>
internal sealed class SimulatedProperty
{
    private readonly PlanRequest _plan;
    private readonly IReadOnlyList<PlanDesign> _designs;
    private readonly double[] _truths, _critical, _parallel = [];
    private readonly SimulatedRule _rule;
    private readonly SimulatedCoupons _coupons;
    private readonly SimulatedHeats? _old;
    private readonly double[] _z, _shifted, _mean, _squares;
    private readonly int[] _load;
    private readonly double _low, _high, _flawStep;
    private readonly bool _ofEachTruth, _drawsHardness;
    private Look _first, _second;

    /// <param name="plan">Its request.</param>
    /// <param name="designs">Plans.</param>
    /// <param name="truths">True ratios or differences.</param>
    /// <param name="hardness">The hardness readings that something is judged through, with whether this property is that hardness and whether it draws it; null where there are none.</param>
    /// <param name="family">Number of primary properties.</param>
    public SimulatedProperty(PlanRequest plan, IReadOnlyList<PlanDesign> designs, IReadOnlyList<double> truths, (SimulatedHardness Readings, bool IsItself, bool Draws)? hardness, int family)
    {
        (_plan, _designs) = (plan, designs);
        _truths = [.. truths.Select(Scale)];
        _rule = new(plan, plan.Extension is null ? plan.Alpha : plan.Alpha / 2, family);
        int heats = designs.Max(d => d.Groups), most = designs.Max(d => d.Coupons + d.Added);
        _coupons = new(heats, most, designs.Max(d => d.LoadsInAll), hardness?.Readings, hardness is { IsItself: true }, plan.Flaws);
        _drawsHardness = hardness is { Draws: true };
        _old = SimulatedHeats.For(plan);
        (_z, _shifted, _load) = (new double[2 * heats * most], new double[2 * heats * most], new int[heats * most]);
        (_mean, _squares) = (new double[2 * heats], new double[2 * heats]);
        if (plan.MarginIn == PlanMargin.Scale) (_low, _high) = (Scale(plan.MarginLow), Scale(plan.MarginHigh));
        _flawStep = plan.Flaws is { } flaws ? Math.Log(flaws.Share) : 0;
        _critical = plan is { Scatter: ScatterChoice.Lent, Law: { MayLend: true } law }
            ? [.. designs.SelectMany(d => new[] { d.Coupons - d.Loads, d.Coupons + d.Added - d.LoadsInAll }).Select(df => df >= 1 ? SimulatedLots.Critical(law, df) : 0)] : [];
        if (plan.Ladder is not null) _parallel = [.. designs.SelectMany(d => new[] { d.Coupons, d.Coupons + d.Added }.Select(n => 2 * d.Levels * n - 4)).Select(df => df >= 1 ? FisherF.Quantile(1 - SimulatedLadder.ParallelAlpha, 1, df) : 0)];
        _ofEachTruth = plan.MarginIn == PlanMargin.Unit || plan.Law is { } l && (l.Exponent != 1 || l.ExponentStandardError > 0);
    }

    /// <summary>What was true in the last replicate.</summary>
    internal SimulatedTruth Truth { get; private set; }

    /// <summary>Its random numbers.</summary>
    internal SimulatedCoupons Coupons => _coupons;

    /// <summary>True ratios or differences that it is judged at.</summary>
    public int Truths => _truths.Length;

    /// <summary>Readings of the last look on the analysis scale, as tested: candidate lot first, heat by heat.</summary>
    internal ReadOnlySpan<double> Readings => _z;

    /// <summary>Loads of the last look, of one side; the other side's are the same.</summary>
    internal ReadOnlySpan<int> Loads => _load;

    /// <summary>Hardness read on a coupon of the last replicate, HRC above the reference lot's true mean.</summary>
    internal double HardnessRead(int side, int heat, int i) =>
        Truth.HardnessSd * _coupons.Hardness(side, heat, i) + (side == 0 ? Truth.HardnessDifference + Truth.SessionError : 0);

    /// <summary>Draws the coupons and what is true of them.</summary>
    public void Draw(ref RandomStream random, ref RandomStream ofFlaws)
    {
        _coupons.Draw(ref random, ref ofFlaws, _drawsHardness);
        Truth = SimulatedTruth.Draw(_plan, ref random);
        _old?.Draw(ref random, Truth.ReferenceSd, Truth.HeatSd);
    }

    /// <summary>Takes what is true of the hardness from the property that drew it.</summary>
    /// <param name="drawn">Its truth.</param>
    /// <param name="isItself">True where this property is that hardness.</param>
    public void ShareHardness(in SimulatedTruth drawn, bool isItself) => Truth = isItself
        ? Truth with { CandidateSd = drawn.HardnessSd, ReferenceSd = drawn.HardnessSd, CandidateShift = drawn.SessionError }
        : Truth with { HardnessSd = drawn.HardnessSd, HardnessDifference = drawn.HardnessDifference, SessionError = drawn.SessionError };

    /// <summary>Forgets the looks at the plan before.</summary>
    public void Turn() => (_first, _second) = (default, default);

    /// <summary>What the verdict would find.</summary>
    /// <param name="d">The plan.</param>
    /// <param name="t">The truth.</param>
    /// <param name="extended">True for the look at all coupons of an extension.</param>
    public SimulatedFinding Find(int d, int t, bool extended)
    {
        if (_designs[d].Gate is { } gate) return SimulatedFinding.None(gate);
        ref Look look = ref extended ? ref _second : ref _first;
        if (!look.IsTaken || _ofEachTruth && look.At != t) look = LookAt(_designs[d], 2 * d + (extended ? 1 : 0), _truths[t], extended) with { At = t };
        if (look.Ladder is { } ladder)
        {
            if (ladder.Refused is { } reason) return SimulatedFinding.None(reason);
            if (_plan.MarginIn == PlanMargin.Hardness) return _rule.DecideInHardness(_ofEachTruth ? ladder : ladder with { Direct = ladder.Direct + _truths[t] }, _plan.MarginHigh);
        }
        SimulatedEstimate e = _ofEachTruth ? look.Estimate : look.Estimate with { Estimate = look.Estimate.Estimate + _truths[t] };
        return _plan.MarginIn == PlanMargin.Hardness ? _rule.DecideInHardness(e, _plan.MarginHigh) : _rule.Decide(e, look.Low, look.High);
    }

    /// <summary>An estimate, taken at a truth of 0 unless the request needs one for each truth; with the limits that a margin in the unit comes to.</summary>
    private readonly record struct Look(bool IsTaken, SimulatedEstimate Estimate, double Low, double High, int At = 0, SimulatedLadder? Ladder = null);

    private Look LookAt(PlanDesign design, int place, double ratio, bool extended)
    {
        int n = design.Coupons + (extended ? design.Added : 0), loads = extended ? design.LoadsInAll : design.Loads;
        if (_plan.Ladder is { } ladder) return OverLadder(ladder, design, n, _parallel[place], _ofEachTruth ? ratio : 0);
        Fill(design, Truth, _ofEachTruth ? ratio : 0, n);
        if (design.Estimand == Estimand.Sources || design.Heats > 1) return Limited(OfHeats(design, Truth, n), design.Heats * n);
        Span<double> c = _z.AsSpan(0, n), r = _z.AsSpan(n, n);
        if (design.Estimand == Estimand.AsTested && _plan.MarginIn == PlanMargin.Unit) return OfUnits(n, loads);
        SimulatedLots lots = SimulatedLots.Compare(c, r, _load.AsSpan(0, n), loads);
        bool lent = _critical.Length > 0 && !lots.IsCommon;
        SimulatedEstimate e = lent ? lots.Lent(_plan.Law!, _plan.WithinHeatSd * _plan.WithinHeatSd, _critical[place]) : lots.Own();
        return Limited(design.Estimand == Estimand.EqualHardness ? AtEqualHardness(e, Truth, n) : e, n);
    }

    /// <summary>Readings on the analysis scale: candidate lot first, heat by heat; the reference's expected mean is 0.</summary>
    internal void Fill(PlanDesign design, in SimulatedTruth truth, double ratio, int n)
    {
        bool heats = design.Estimand == Estimand.Sources || design.Heats > 1;
        double own = truth.CandidateSd * (truth.Exponent == 1 ? 1 : Math.Exp((truth.Exponent - 1) * ratio));
        for (int side = 0; side < 2; side++)
        {
            double sd = side == 0 ? own : truth.ReferenceSd, level = side == 0 ? ratio + truth.CandidateShift : 0;
            for (int h = 0; h < design.Heats; h++)
            {
                double heat = level + (heats ? truth.HeatSd * _coupons.Heat(side, h) : 0);
                for (int i = 0; i < n; i++)
                {
                    int load = design.LoadOf(h, i), at = (side * design.Heats + h) * n + i;
                    _load[h * n + i] = load;
                    _z[at] = heat + sd * _coupons.Coupon(side, h, i) + _plan.LoadSd * _coupons.Load(load) + (_coupons.IsFlawed(side, h, i) ? _flawStep : 0);
                }
            }
        }
    }

    /// <summary>Step 4 without history: the lots over their own temper ladder.</summary>
    private Look OverLadder(PlannedLadder ladder, PlanDesign design, int n, double critical, double ratio)
    {
        double centre = ladder.Centre, within = 0;
        for (int side = 0; side < 2; side++)
            for (int l = 0; l < ladder.Levels; l++)
            {
                int group = side * ladder.Levels + l;
                double hardness = (side == 0 ? ladder.Candidate : ladder.Reference)[l], sum = 0, raw = 0;
                double level = (side == 0 ? ratio : 0) + (ladder.Slope + (side == 0 ? ladder.SlopeDifference : 0)) * (hardness - centre);
                double sd = (side == 0 ? Truth.CandidateSd : Truth.ReferenceSd) * (Truth.Exponent == 1 ? 1 : Math.Exp((Truth.Exponent - 1) * level));
                for (int i = 0; i < n; i++)
                {
                    double x = Truth.HardnessSd * _coupons.Hardness(side, l, i);
                    (sum, raw) = (sum + x, raw + x * x);
                    int load = design.LoadOf(l, i);
                    _load[l * n + i] = load;
                    _z[group * n + i] = level + sd * _coupons.Coupon(side, l, i) + _plan.LoadSd * _coupons.Load(load) + (_coupons.IsFlawed(side, l, i) ? _flawStep : 0);
                }
                _mean[group] = hardness + sum / n;
                within += raw - sum * sum / n;
            }
        int groups = 2 * ladder.Levels;
        SimulatedLadder lots = SimulatedLadder.Fit(_z.AsSpan(0, groups * n), _mean.AsSpan(0, groups), within, n, critical);
        return Limited(lots.Estimate, ladder.Levels * n) with { Ladder = lots };
    }

    /// <summary>Step 3 with a margin in the unit of the property: arithmetic means, own variances.</summary>
    private Look OfUnits(int n, int loads)
    {
        for (int i = 0; i < 2 * n; i++) _shifted[i] = _plan.ReferenceMean!.Value * Math.Exp(_z[i]);
        SimulatedEstimate e = SimulatedLots.Compare(_shifted.AsSpan(0, n), _shifted.AsSpan(n, n), _load.AsSpan(0, n), loads).Own();
        return new(true, e, -_plan.MarginHigh, _plan.MarginHigh);
    }

    /// <summary>With a margin in the unit, the limits of a ratio are 1 ± margin over the reference's arithmetic mean.</summary>
    private Look Limited(in SimulatedEstimate e, int perSide)
    {
        if (_plan.MarginIn != PlanMargin.Unit) return new(true, e, _low, _high);
        double sum = 0;
        for (int i = 0; i < perSide; i++) sum += Math.Exp(_z[perSide + i]);
        double share = _plan.MarginHigh / (_plan.ReferenceMean!.Value * sum / perSide);
        return new(true, e, Math.Log(Math.Max(1 - share, double.Epsilon)), Math.Log(1 + share));
    }

    /// <summary>Step 4: less the bench's slope times the hardness read; the lots as tested differ by the true slope times the true difference.</summary>
    private SimulatedEstimate AtEqualHardness(in SimulatedEstimate asTested, in SimulatedTruth truth, int n)
    {
        PlannedTrend trend = _plan.Trend!;
        Span<double> mean = stackalloc double[2];
        double squares = 0;
        for (int side = 0; side < 2; side++)
        {
            double sum = 0, raw = 0;
            for (int i = 0; i < n; i++)
            {
                double x = truth.HardnessSd * _coupons.Hardness(side, 0, i);
                sum += x;
                raw += x * x;
            }
            mean[side] = sum / n;
            squares += raw - sum * sum / n;
        }
        double df = trend.HardnessSdDf + 2 * (n - 1), variance = (trend.HardnessSdDf * trend.HardnessSd * trend.HardnessSd + squares) / df;
        double read = truth.HardnessDifference + truth.SessionError + mean[0] - mean[1];
        double reading = trend.Slope * trend.Slope * variance * 2 / n, session = 2 * trend.Slope * trend.Slope * trend.SessionSd * trend.SessionSd;
        return new(asTested.Estimate + truth.Slope * truth.HardnessDifference - trend.Slope * read,
            asTested.Variance + reading + session, asTested.Spread + reading * reading / df, read);
    }

    /// <summary>Step 5: heats as the random unit, at equal hardness where the bench has a trend; or these heats as tested, each weighing the same.</summary>
    private SimulatedEstimate OfHeats(PlanDesign design, in SimulatedTruth truth, int n)
    {
        double read = 0;
        for (int side = 0; side < 2; side++)
            for (int h = 0; h < design.Heats; h++)
            {
                int at = side * design.Heats + h;
                ReadOnlySpan<double> z = _z.AsSpan(at * n, n);
                (double sum, double squares) = (0, 0);
                foreach (double v in z) sum += v;
                double mean = sum / n;
                foreach (double v in z) squares += (v - mean) * (v - mean);
                if (_plan.Trend is { } trend)
                {
                    double error = 0;
                    for (int i = 0; i < n; i++) error += truth.HardnessSd * _coupons.Hardness(side, h, i) / n;
                    double hardness = error + (side == 0 ? truth.HardnessDifference + truth.SessionError : 0);
                    mean += (side == 0 ? truth.Slope * truth.HardnessDifference : 0) - trend.Slope * hardness;
                    read += (side == 0 ? hardness : -hardness) / design.Heats;
                }
                (_mean[at], _squares[at]) = (mean, squares);
            }
        SimulatedHeatMeans means = new(design.Heats, n, _mean, _squares);
        if (design.Estimand == Estimand.AsTested) return means.OfTheseHeats();
        return (_old is null ? means.WithoutHistory() : _old.Estimate(means)) with { HardnessDifference = read };
    }

    private double Scale(double value) => _plan.Logarithmic ? Math.Log(value) : value;
}
