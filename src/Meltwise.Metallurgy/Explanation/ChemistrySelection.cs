using System.Globalization;
using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Equilibrium;
using Meltwise.Metallurgy.Sources;

namespace Meltwise.Metallurgy.Explanation;

/// <summary>From all results of a heat to one content for each element: the preferred method by a stated rule, disagreement flagged, limits kept as limits.</summary>
/// <remarks>
/// <para><b>Rule.</b> Carbon and sulphur: combustion first. Oxygen and nitrogen: inert-gas fusion first. Others: solution spectrometry, X-ray fluorescence, spark
/// emission, in this order. A certificate comes after any own analysis; a method not stated comes last. A value goes before a limit of the same
/// rank; among equals the mean is taken, repeatability falling with the root of their number.</para>
/// <para><b>Disagreement.</b> Two methods that differ by more than two combined standard uncertainties are flagged; the preferred one is still used.</para>
/// <para><b>Limits.</b> A content below the limit stays censored: any value from 0 to the limit, equally likely.</para>
/// <para><b>Source.</b> Common practice: spark carbon depends on the carbide state of the sample; no spark standard covers tool steel.</para>
/// </remarks>
public static class ChemistrySelection
{
    /// <summary>Source of the rule.</summary>
    public static Source Source { get; } = new("Combustion for C and S, inert-gas fusion for O and N (ASTM E1019 scope); order of the others", SourceStatus.CommonPractice);

    /// <summary>Rank of a method for an element; lower is preferred.</summary>
    public static int Rank(string element, AnalyticalMethod method) => (element, method) switch
    {
        ("C" or "S", AnalyticalMethod.Combustion) => 0,
        ("O" or "N", AnalyticalMethod.InertGasFusion) => 0,
        (_, AnalyticalMethod.SolutionSpectrometry) => 1,
        (_, AnalyticalMethod.XRayFluorescence) => 2,
        (_, AnalyticalMethod.SparkEmission) => 3,
        (_, AnalyticalMethod.Certificate) => 5,
        (_, AnalyticalMethod.NotStated) => 6,
        _ => 4,
    };

    /// <summary>Contents of a heat from its measured results.</summary>
    /// <param name="name">The heat.</param>
    /// <param name="results">All results of the heat.</param>
    /// <exception cref="ArgumentException">A negative value or an uncertainty that is not above zero.</exception>
    public static HeatChemistry Of(string name, IReadOnlyList<ChemistryResult> results)
    {
        ArgumentNullException.ThrowIfNull(results);
        foreach (ChemistryResult r in results) Require(name, r);
        return new(name, [.. results.GroupBy(r => r.Element).Select(g => Choose([.. g]))], IsWhole: false);
    }

    /// <summary>Contents of a composition typed in: what is not listed is absent.</summary>
    /// <remarks>A typed uncertainty is taken as repeatability, of which nothing cancels; a default one has its two parts.</remarks>
    /// <param name="name">The steel.</param>
    /// <param name="contents">Symbol, mass percent, and standard uncertainty or null for the default.</param>
    /// <param name="laboratory">A name shared by two compositions makes their default method bias cancel; null keeps it.</param>
    /// <exception cref="SteelCompositionException">An unknown element, one given twice, a negative content, or a sum above 100.</exception>
    public static HeatChemistry Typed(string name, IReadOnlyList<(string Element, double MassPercent, double? StandardUncertainty)> contents, string? laboratory = null)
    {
        ArgumentNullException.ThrowIfNull(contents);
        _ = SteelComposition.FromMassPercent(contents.Select(c => new KeyValuePair<string, double>(c.Element, c.MassPercent)));
        List<ChemistryResult> results = [.. contents.Select(c =>
            new ChemistryResult(c.Element, c.MassPercent, false, c.Element == "C" ? AnalyticalMethod.Combustion : AnalyticalMethod.NotStated, laboratory, c.StandardUncertainty))];
        HeatChemistry heat = Of(name, results);
        return heat with
        {
            IsWhole = true,
            Contents = [.. heat.Contents.Zip(contents, (content, typed) => typed.StandardUncertainty is { } u ? content with { Uncertainty = new(u, 0) } : content)],
        };
    }

    private static ElementContent Choose(IReadOnlyList<ChemistryResult> results)
    {
        string element = results[0].Element;
        List<ChemistryResult>[] methods = [.. results.GroupBy(r => (Rank: Rank(element, r.Method), r.Method, r.Laboratory, r.IsBelow))
            .OrderBy(g => g.Key.Rank).ThenBy(g => g.Key.IsBelow).ThenBy(g => g.Key.Laboratory, StringComparer.Ordinal).Select(g => g.ToList())];
        ElementContent chosen = Combine(element, methods[0]);
        List<string> notes = [];
        List<AnalyticalMethod> agree = [];
        foreach (List<ChemistryResult> other in methods.Skip(1))
        {
            ElementContent left = Combine(element, other);
            if (Disagreement(chosen, left) is { } note) notes.Add(note);
            else agree.Add(left.Method);
        }
        if (chosen.LimitMassPercent is { } limit)
            notes.Add(string.Create(CultureInfo.InvariantCulture, $"{element} below {limit:0.####} wt%: kept as any content from 0 to the limit."));
        return chosen with { Notes = notes, AgreesWith = agree };
    }

    private static ElementContent Combine(string element, List<ChemistryResult> same)
    {
        ChemistryResult first = same[0];
        if (first.IsBelow)
        {
            double limit = same.Min(r => r.MassPercent);
            return new(element, limit / 2, new(limit / Math.Sqrt(12), 0), limit, first.Method, first.Laboratory, false, []);
        }
        double mean = same.Average(r => r.MassPercent);
        bool isDefault = same.Any(r => r.StandardUncertainty is null);
        UncertaintyParts one = isDefault
            ? AnalyticalUncertainty.Default(element, first.Method, mean)
            : AnalyticalUncertainty.Split(element, first.Method, mean, Math.Sqrt(same.Average(r => r.StandardUncertainty!.Value * r.StandardUncertainty.Value)));
        return new(element, mean, one with { Repeatability = one.Repeatability / Math.Sqrt(same.Count) }, null, first.Method, first.Laboratory, isDefault, []);
    }

    private static string? Disagreement(ElementContent chosen, ElementContent other)
    {
        string left = string.Create(CultureInfo.InvariantCulture, $"{chosen.Element}: {Words(chosen.Method)} {chosen.MassPercent:0.####} preferred to {Words(other.Method)} {other.MassPercent:0.####} wt%");
        if (chosen.LimitMassPercent is not null || other.LimitMassPercent is not null) return left + ".";
        double combined = Math.Sqrt(chosen.Uncertainty.Total * chosen.Uncertainty.Total + other.Uncertainty.Total * other.Uncertainty.Total);
        double apart = Math.Abs(chosen.MassPercent - other.MassPercent) / combined;
        return apart > 2 ? left + string.Create(CultureInfo.InvariantCulture, $"; they disagree by {apart:0.0} combined standard uncertainties.") : null;
    }

    /// <summary>What must be said of the choice of methods of a heat: all agreements in one sentence, then each disagreement and limit.</summary>
    public static IEnumerable<string> NotesOf(HeatChemistry heat)
    {
        ArgumentNullException.ThrowIfNull(heat);
        string[] preferred = [.. heat.Contents.Where(c => c.AgreesWith.Count > 0).GroupBy(c => (c.Method, Over: string.Join(" and ", c.AgreesWith.Distinct().Select(Words))))
            .Select(g => $"{Words(g.Key.Method)} to {g.Key.Over} for {string.Join(", ", g.Select(c => c.Element))}")];
        if (preferred.Length > 0) yield return $"preferred {string.Join("; ", preferred)}. They agree.";
        foreach (string note in heat.Contents.SelectMany(c => c.Notes)) yield return note;
    }

    /// <summary>A method in words.</summary>
    public static string Words(AnalyticalMethod method) => method switch
    {
        AnalyticalMethod.Combustion => "combustion",
        AnalyticalMethod.InertGasFusion => "inert-gas fusion",
        AnalyticalMethod.SparkEmission => "spark emission",
        AnalyticalMethod.XRayFluorescence => "X-ray fluorescence",
        AnalyticalMethod.SolutionSpectrometry => "solution spectrometry",
        AnalyticalMethod.Certificate => "certificate",
        _ => "method not stated",
    };

    private static void Require(string name, ChemistryResult r)
    {
        if (!(r.MassPercent is >= 0 and <= 100))
            throw new ArgumentException(string.Create(CultureInfo.InvariantCulture, $"{name}: {r.Element} is {r.MassPercent} wt%; a content lies between 0 and 100."), nameof(r));
        if (r.StandardUncertainty is { } u && !(u > 0))
            throw new ArgumentException(string.Create(CultureInfo.InvariantCulture, $"{name}: the standard uncertainty of {r.Element} is {u} wt%; it must be above 0."), nameof(r));
    }
}

/// <summary>The chemistry of a heat, one content for each element.</summary>
/// <param name="Name">The heat.</param>
/// <param name="Contents">Contents chosen.</param>
/// <param name="IsWhole">Whether an element not listed is absent (a composition typed in) or only not measured.</param>
public sealed record HeatChemistry(string Name, IReadOnlyList<ElementContent> Contents, bool IsWhole)
{
    /// <summary>The content of an element, or null.</summary>
    public ElementContent? this[string element] => Contents.FirstOrDefault(c => c.Element == element);

    /// <summary>The contents the chain knows, at their measured values.</summary>
    public AlloyContent Alloy
    {
        get
        {
            AlloyContent alloy = default;
            foreach (AlloyElement e in AlloyContent.Elements) alloy[e] = this[e.ToString()]?.MassPercent ?? 0;
            return alloy;
        }
    }

    /// <summary>Elements measured that the chain has no parameters for.</summary>
    public IReadOnlyList<string> LeftOut => [.. Contents.Select(c => c.Element).Where(e => !Enum.TryParse<AlloyElement>(e, out _) && e != "Fe")];
}
