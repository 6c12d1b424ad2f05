using Meltwise.Statistics.Resampling;

namespace Meltwise.Casework.Planning;

/// <summary>What is true in one simulated enquiry: the bench's estimates with their sampling errors drawn anew.</summary>
/// <remarks>The bench's numbers are fixed, since the verdict will use them as they are; the truth is drawn about them: a variance as s²ν/χ²(ν), a slope or an exponent as its
/// estimate plus standard error times Student's t. Without degrees of freedom the number is taken as known.</remarks>
/// <param name="CandidateSd">True scatter of the candidate lot where its mean equals the reference's.</param>
/// <param name="ReferenceSd">True scatter of the reference lot.</param>
/// <param name="HeatSd">True scatter among heats.</param>
/// <param name="Exponent">True exponent of the scatter law.</param>
/// <param name="Slope">True slope with hardness.</param>
/// <param name="HardnessSd">True scatter of a coupon's hardness, HRC.</param>
/// <param name="HardnessDifference">True difference of hardness, HRC, with the error of separate sessions on top of what is read.</param>
/// <param name="SessionError">Error of the hardness difference between two sessions, HRC.</param>
/// <param name="CandidateShift">That error where the property is hardness itself: what the candidate's readings are off.</param>
internal readonly record struct SimulatedTruth(
    double CandidateSd, double ReferenceSd, double HeatSd, double Exponent, double Slope, double HardnessSd, double HardnessDifference, double SessionError, double CandidateShift = 0)
{
    public static SimulatedTruth Draw(PlanRequest r, ref RandomStream random)
    {
        double within = Scatter(ref random, r.WithinHeatSd, r.WithinHeatSdDf);
        double ofCandidate = r.CandidateWithinHeatSd is { } own ? own * within / r.WithinHeatSd : within, ofReference = within, exponent = 1;
        if (r.Law is { } law)
        {
            if (double.IsFinite(law.SpreadDf)) (ofCandidate, ofReference) = (AboutLaw(ref random, ofCandidate, law.SpreadDf), AboutLaw(ref random, ofReference, law.SpreadDf));
            exponent = law.ExponentStandardError > 0 ? law.Exponent + law.ExponentStandardError * Student(ref random, law.ExponentDf) : law.Exponent;
        }
        double heat = Scatter(ref random, r.HeatSd, r.HeatSdDf);
        if (r.Trend is not { } t) return new(ofCandidate, ofReference, heat, exponent, r.Ladder?.Slope ?? 0, r.Ladder?.HardnessSd ?? 0, 0, 0);
        double slope = t.Slope + t.SlopeStandardError * Student(ref random, t.SlopeDf);
        double session = t.SessionSd > 0 ? t.SessionSd * Math.Sqrt(2) * random.Normal() : 0;
        return new(ofCandidate, ofReference, heat, exponent, slope, Scatter(ref random, t.HardnessSd, t.HardnessSdDf), t.HardnessDifference, session);
    }

    private static double Scatter(ref RandomStream random, double sd, double? df) => df is { } nu ? sd * Math.Sqrt(nu / random.ChiSquared(nu)) : sd;

    /// <summary>Variances of lots scatter about the law's like an inverse chi-squared of the law's mean.</summary>
    private static double AboutLaw(ref RandomStream random, double sd, double df) => sd * Math.Sqrt((df - 2) / random.ChiSquared(df));

    private static double Student(ref RandomStream random, double df) => random.Normal() * Math.Sqrt(df / random.ChiSquared(df));
}
