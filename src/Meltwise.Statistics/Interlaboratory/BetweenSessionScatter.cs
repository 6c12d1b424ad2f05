using System.Globalization;
using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.Interlaboratory;

/// <summary>What one session read on one reference: a hardness block, a reference lot.</summary>
/// <param name="Reference">The reference, 0 to count − 1.</param>
/// <param name="Session">The session; a session that read several references has the same number in each.</param>
/// <param name="Readings">Its single readings.</param>
public readonly record struct SessionReadings(int Reference, int Session, IReadOnlyList<double> Readings);

/// <summary>Scatter of an instrument from session to session, from repeat readings on references that keep their value.</summary>
/// <remarks>
/// <para><b>Model.</b> y = μ_reference + u_session + e, u ~ N(0, s_u²) a session on a reference, e ~ N(0, s_r²) a reading: one-way random effects within each reference, whose own level is taken off; k sessions of a reference, n readings of a session.</para>
/// <para><b>Formula.</b> s_r² = Σ(y − ȳ_session)²/ν_r with ν_r = Σ(n − 1); S² = Σ(ȳ_session − mean of the reference's session means)²/Σ(k − 1); c = Σ(1/n)(1 − 1/k)/Σ(k − 1);
/// <b>s_u² = S² − c·s_r²</b>, not below 0. With equal n this is the analysis of variance (c = 1/n); otherwise its unweighted-means form.
/// Interval of s_u²: ν(S² − c·s_r²·F_p(ν, ν_r))/χ²_p(ν) with p = 1 − α/2 for the lower limit and α/2 for the upper one, not below 0. Degrees of freedom of s_u²: s_u⁴/(S⁴/ν + c²s_r⁴/ν_r) (Satterthwaite).</para>
/// <para><b>Limits.</b> Two sessions more than references, and one session with a repeat. Where a session read several references its sessions count once: ν = distinct sessions − references, at most Σ(k − 1), which errs to the wide side.
/// The interval holds its level closely for equal n and nearly so for unequal n. Drift is counted as scatter, which is right for what was read over the same time; sessions that follow a drift are not independent, and the interval is then somewhat narrow.</para>
/// <para><b>Source.</b> [SearleCasellaMcCulloch1992], sections 3.5 and 3.6; interval [Williams1962], for unequal n [ThomasHultquist1978]; the same component is s_L² of [ISO5725-2] with sessions for laboratories.</para>
/// </remarks>
public sealed record BetweenSessionScatter
{
    /// <summary>s_u, in the unit of the readings; 0 when the session means scatter no more than their readings make them.</summary>
    public required double Sd { get; init; }

    /// <summary>Lower limit of s_u.</summary>
    public required double Lower { get; init; }

    /// <summary>Upper limit of s_u.</summary>
    public required double Upper { get; init; }

    /// <summary>Degrees of freedom of s_u²; 0 when it is 0.</summary>
    public required double DegreesOfFreedom { get; init; }

    /// <summary>ν, degrees of freedom of the session means.</summary>
    public required int SessionDegreesOfFreedom { get; init; }

    /// <summary>s_r, standard deviation of readings of one session.</summary>
    public required double RepeatabilitySd { get; init; }

    /// <summary>S, standard deviation of session means, their readings' share not taken off.</summary>
    public required double SdOfMeans { get; init; }

    /// <summary>Distinct sessions.</summary>
    public required int Sessions { get; init; }

    /// <summary>References.</summary>
    public required int References { get; init; }

    /// <summary>Readings.</summary>
    public required int Readings { get; init; }

    /// <summary>What a reader must know before using the numbers.</summary>
    public required IReadOnlyList<string> Notes { get; init; }

    /// <summary>Estimates it.</summary>
    /// <param name="sessions">Readings of each session on each reference; a reference read in one session only tells the repeatability and nothing of the sessions.</param>
    /// <param name="level">Level of the interval.</param>
    /// <exception cref="InsufficientDataException">Too few sessions, or no session with a repeat.</exception>
    public static BetweenSessionScatter Of(IReadOnlyList<SessionReadings> sessions, double level = 0.95)
    {
        ArgumentNullException.ThrowIfNull(sessions);
        if (sessions.Any(s => s.Readings.Count == 0)) throw new InsufficientDataException("A session without a reading was given. Leave it out.");
        SessionReadings[][] references = [.. sessions.GroupBy(s => s.Reference).Select(g => g.ToArray())];
        int degreesOfReadings = sessions.Sum(s => s.Readings.Count - 1);
        if (degreesOfReadings == 0) throw new InsufficientDataException("No session has a repeat reading, so the share of the readings cannot be taken off the scatter of the sessions.");

        SessionReadings[][] repeated = [.. references.Where(r => r.Length > 1)];
        int ofMeans = repeated.Sum(r => r.Length - 1), distinct = repeated.SelectMany(r => r).Select(s => s.Session).Distinct().Count();
        int degrees = Math.Min(ofMeans, distinct - repeated.Length);
        if (degrees < 1) throw new InsufficientDataException(string.Create(CultureInfo.InvariantCulture, $"{distinct} sessions on {repeated.Length} references read more than once: at least two sessions of one reference are needed."));

        double within = sessions.Sum(s => Squares(s.Readings)) / degreesOfReadings;
        double means = repeated.Sum(r => Squares([.. r.Select(s => s.Readings.Average())])) / ofMeans;
        double share = repeated.Sum(r => r.Sum(s => 1.0 / s.Readings.Count) * (1 - 1.0 / r.Length)) / ofMeans;
        double between = Math.Max(0, means - share * within);
        double Limit(double p) => Math.Sqrt(Math.Max(0, degrees * (means - share * within * FisherF.Quantile(p, degrees, degreesOfReadings)) / ChiSquared.Quantile(p, degrees)));
        return new()
        {
            Sd = Math.Sqrt(between),
            Lower = Limit(0.5 + level / 2),
            Upper = Limit(0.5 - level / 2),
            DegreesOfFreedom = between > 0 ? between * between / (means * means / degrees + share * share * within * within / degreesOfReadings) : 0,
            SessionDegreesOfFreedom = degrees,
            RepeatabilitySd = Math.Sqrt(within),
            SdOfMeans = Math.Sqrt(means),
            Sessions = sessions.Select(s => s.Session).Distinct().Count(),
            References = references.Length,
            Readings = sessions.Sum(s => s.Readings.Count),
            Notes = [.. Say(references, sessions, means <= share * within, degrees < ofMeans)],
        };
    }

    private static double Squares(IReadOnlyList<double> values)
    {
        double mean = values.Average();
        return values.Sum(v => (v - mean) * (v - mean));
    }

    private static IEnumerable<string> Say(SessionReadings[][] references, IReadOnlyList<SessionReadings> sessions, bool none, bool shared)
    {
        if (none) yield return "The session means scatter no more than their readings make them: the estimate is 0, and the upper limit says what may hide below.";
        if (sessions.Select(s => s.Readings.Count).Distinct().Count() > 1) yield return "Sessions have unequal numbers of readings: their means count equally, and the interval is approximate.";
        if (shared) yield return "Some sessions read several references; each counts once in the degrees of freedom.";
        if (references.Count(r => r.Length == 1) is > 0 and var single) yield return string.Create(CultureInfo.InvariantCulture, $"{single} of {references.Length} references were read in one session only and tell nothing of the sessions.");
    }
}
