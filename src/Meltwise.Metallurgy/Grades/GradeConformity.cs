using System.Globalization;
using MathNet.Numerics.Distributions;
using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Sources;

namespace Meltwise.Metallurgy.Grades;

/// <summary>What a measured content says about a limit.</summary>
public enum Conformity
{
    /// <summary>Inside the limits by more than the guard band: conforms with the stated risk.</summary>
    Conforms,
    /// <summary>Within the guard band of a limit: the measurement cannot say.</summary>
    CannotBeDecided,
    /// <summary>Outside the limits by more than the guard band.</summary>
    DoesNotConform,
    /// <summary>The element has a limit but was not measured.</summary>
    NotMeasured,
}

/// <summary>A measured content with its standard uncertainty, mass percent.</summary>
/// <param name="Element">Element.</param>
/// <param name="MassPercent">Measured value.</param>
/// <param name="StandardUncertainty">Standard uncertainty, above 0.</param>
public readonly record struct MeasuredContent(AlloyElement Element, double MassPercent, double StandardUncertainty);

/// <summary>Whether a heat lies inside the limits of a grade, with a guard band for the uncertainty of the analysis.</summary>
/// <remarks>
/// <para><b>Rule.</b> A value is accepted only inside limits drawn in by a guard band w = z u, z the normal quantile of the allowed risk (1.645 at
/// 5 %); it is refused only outside limits drawn out by the same band; between, the analysis cannot decide.</para>
/// <para><b>Also.</b> The probability that the true content lies inside, for a normal error: Φ((upper - y)/u) - Φ((lower - y)/u), with no prior.</para>
/// <para><b>Assumptions.</b> Normal error, each element alone; limits of heat analysis, without the product-analysis tolerances of the standards. A
/// limit of 0 is no limit below.</para>
/// <para><b>Source.</b> JCGM 106:2012, sections 7 and 8.</para>
/// </remarks>
public static class GradeConformity
{
    /// <summary>Highest content, mass percent, of an element that a grade has no limit for, if a heat is to be a candidate (residuals; common practice).</summary>
    public const double UnlistedHighest = 0.5;

    /// <summary>The rule's source.</summary>
    public static Source Source { get; } = new("JCGM 106:2012, guarded acceptance", SourceStatus.FromMemory);

    /// <summary>Judges every limit of a grade.</summary>
    /// <param name="grade">Grade.</param>
    /// <param name="contents">Measured contents; elements without a limit are left out of the answer.</param>
    /// <param name="risk">Allowed risk for one limit, such as 0.05.</param>
    /// <exception cref="OutsideModelRangeException">Risk outside 0.0001 to 0.5, or an uncertainty not above 0.</exception>
    public static GradeJudgement Of(Grade grade, IReadOnlyList<MeasuredContent> contents, double risk = 0.05)
    {
        ArgumentNullException.ThrowIfNull(grade);
        ArgumentNullException.ThrowIfNull(contents);
        if (!(risk is >= 1e-4 and <= 0.5)) throw new OutsideModelRangeException("Guarded acceptance", "risk", risk, 1e-4, 0.5, "");
        double z = -Normal.InvCDF(0, 1, risk);
        List<ElementConformity> elements = [];
        foreach (ElementLimits limits in grade.Limits)
        {
            int i = IndexOf(contents, limits.Element);
            elements.Add(i < 0
                ? new(limits, null, Conformity.NotMeasured, limits.Lowest, limits.Highest, null)
                : Judge(limits, contents[i], z));
        }
        Conformity overall = elements.Any(e => e.Conformity == Conformity.DoesNotConform) ? Conformity.DoesNotConform
            : elements.Any(e => e.Conformity == Conformity.CannotBeDecided) ? Conformity.CannotBeDecided
            : elements.Any(e => e.Conformity == Conformity.NotMeasured) ? Conformity.NotMeasured
            : Conformity.Conforms;
        return new(grade, overall, elements, risk, Source, Notes(grade, risk));
    }

    /// <summary>Grades that a heat may belong to: all that no limit refuses, those with the most limits kept first.</summary>
    /// <param name="contents">Measured contents; carbon and at least two more elements are needed to say anything.</param>
    /// <param name="risk">Allowed risk for one limit.</param>
    public static IReadOnlyList<GradeJudgement> Candidates(IReadOnlyList<MeasuredContent> contents, double risk = 0.05) =>
    [
        .. GradeCatalogue.All.Select(g => Of(g, contents, risk)).Where(j => j.Overall != Conformity.DoesNotConform)
            .Where(j => contents.Where(c => j.Elements.All(e => e.Limits.Element != c.Element)).All(c => c.MassPercent <= UnlistedHighest))
            .OrderByDescending(j => j.Elements.Count(e => e.Conformity == Conformity.Conforms))
            .ThenBy(j => j.Elements.Count(e => e.Conformity == Conformity.NotMeasured)),
    ];

    private static ElementConformity Judge(ElementLimits limits, MeasuredContent content, double z)
    {
        (double y, double u) = (content.MassPercent, content.StandardUncertainty);
        if (!(u > 0)) throw new OutsideModelRangeException("Guarded acceptance", $"standard uncertainty of {limits.Element}", u, 0, 100, "wt%");
        bool hasLower = limits.Lowest > 0;
        double band = z * u;
        double lower = hasLower ? limits.Lowest + band : 0, upper = limits.Highest - band;
        double inside = Normal.CDF(0, 1, (limits.Highest - y) / u) - (hasLower ? Normal.CDF(0, 1, (limits.Lowest - y) / u) : 0);
        Conformity conformity = y >= lower && y <= upper ? Conformity.Conforms
            : y > limits.Highest + band || (hasLower && y < limits.Lowest - band) ? Conformity.DoesNotConform
            : Conformity.CannotBeDecided;
        return new(limits, content, conformity, lower, upper, inside);
    }

    private static int IndexOf(IReadOnlyList<MeasuredContent> contents, AlloyElement element)
    {
        for (int i = 0; i < contents.Count; i++)
            if (contents[i].Element == element) return i;
        return -1;
    }

    private static List<string> Notes(Grade grade, double risk)
    {
        List<string> notes =
        [
            string.Create(CultureInfo.InvariantCulture, $"Guard band for a risk of {risk:P0} at each limit (JCGM 106)."),
            $"Limits of heat analysis, {grade.Source}; product-analysis tolerances, P and S are not held.",
        ];
        if (grade.Note is { } note) notes.Add(note);
        return notes;
    }
}

/// <summary>One element against its limits, mass percent.</summary>
/// <param name="Limits">Limits of the grade.</param>
/// <param name="Content">Measured content, or null.</param>
/// <param name="Conformity">What can be said.</param>
/// <param name="AcceptedFrom">Lower end of the accepted values.</param>
/// <param name="AcceptedTo">Upper end of the accepted values; below <paramref name="AcceptedFrom"/> no value can be accepted at this uncertainty.</param>
/// <param name="ProbabilityInside">Probability that the true content lies inside the limits, or null.</param>
public sealed record ElementConformity(
    ElementLimits Limits, MeasuredContent? Content, Conformity Conformity, double AcceptedFrom, double AcceptedTo, double? ProbabilityInside);

/// <summary>A heat against a grade.</summary>
/// <param name="Grade">The grade.</param>
/// <param name="Overall">The worst of the elements.</param>
/// <param name="Elements">By element.</param>
/// <param name="Risk">Allowed risk at each limit.</param>
/// <param name="Source">The rule's source.</param>
/// <param name="Notes">What a reader must know; never empty.</param>
public sealed record GradeJudgement(
    Grade Grade, Conformity Overall, IReadOnlyList<ElementConformity> Elements, double Risk, Source Source, IReadOnlyList<string> Notes);
