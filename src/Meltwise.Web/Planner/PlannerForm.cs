using System.Globalization;
using Microsoft.AspNetCore.Http;

namespace Meltwise.Web.Planner;

/// <summary>What is typed into the planner, as it stands in the address of the page; an address of a plan can be kept, sent and opened again.</summary>
public sealed class PlannerForm
{
    private static readonly Dictionary<string, string> s_usual = new(StringComparer.Ordinal)
    {
        ["property"] = "impact energy",
        ["question"] = "equivalent",
        ["estimand"] = "as-tested",
        ["scatter"] = "own",
        ["extension"] = "none",
        ["hardness"] = "0",
        ["loadsd"] = "0",
        ["coupons"] = "9",
        ["heats"] = "1",
        ["loads"] = "1",
        ["apart"] = "no",
        ["spares"] = "1",
        ["seed"] = "1",
        ["costcoupon"] = "1",
        ["costheat"] = "0",
        ["costload"] = "0",
        ["chance"] = "0.8",
        ["replicates"] = "4000",
        ["flaws"] = "none",
        ["share"] = "0.5",
    };

    private static readonly string[] s_names =
    [
        "enquiry", "property", "margin", "question", "estimand", "scatter", "extension", "cv", "cvcandidate", "heatcv", "loadsd", "hardness", "mean", "coupons", "heats", "loads", "room", "apart", "spares", "seed",
        "reference", "candidate", "costcoupon", "costheat", "costload", "chance", "at", "replicates", "flaws", "flawsreference", "flawscandidate", "share",
    ];

    private readonly Dictionary<string, string> _typed = new(StringComparer.Ordinal);

    public PlannerForm(IQueryCollection asked)
    {
        foreach (string name in s_names)
        {
            if (asked[name].ToString() is { Length: > 0 and <= 200 } text)
            {
                _typed[name] = text.Trim();
            }
        }
    }

    /// <summary>What is typed on a line, or what is usual there.</summary>
    public string this[string name] => _typed.GetValueOrDefault(name) ?? s_usual.GetValueOrDefault(name, "");

    /// <summary>Fills a line that nothing was typed on.</summary>
    public void Offer(string name, string? text)
    {
        if (text is not null)
        {
            _typed.TryAdd(name, text);
        }
    }

    /// <summary>What was typed on a line, or null.</summary>
    public string? Typed(string name) => _typed.GetValueOrDefault(name);

    /// <summary>The query of the address with all that is typed.</summary>
    public string Query() => string.Join('&', s_names.Where(_typed.ContainsKey).Select(n => $"{n}={Uri.EscapeDataString(_typed[n])}"));

    /// <summary>A number between two bounds.</summary>
    /// <exception cref="PlannerFaultException">It is none.</exception>
    public double Number(string name, string what, double low, double high) =>
        double.TryParse(this[name].Replace(',', '.').Replace('−', '-'), NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && value >= low && value <= high
            ? value
            : throw new PlannerFaultException(string.Create(CultureInfo.InvariantCulture, $"{what} “{this[name]}” is not a number from {low:0.####} to {high:0.####}."));

    /// <summary>The same where the line may be empty.</summary>
    public double? Maybe(string name, string what, double low, double high) => Typed(name) is null ? null : Number(name, what, low, high);

    /// <summary>A whole number between two bounds.</summary>
    public int Whole(string name, string what, int low, int high) =>
        int.TryParse(this[name], NumberStyles.None, CultureInfo.InvariantCulture, out int value) && value >= low && value <= high
            ? value
            : throw new PlannerFaultException(string.Create(CultureInfo.InvariantCulture, $"{what} “{this[name]}” is not a whole number from {low} to {high}."));
}

/// <summary>A line of the planner cannot be read; the message names it.</summary>
public sealed class PlannerFaultException(string message) : Exception(message);
