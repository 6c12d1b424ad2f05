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
        ["slopeof"] = "heats",
        ["slopediff"] = "0",
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

    /// <summary>Most primary properties that the page takes.</summary>
    public const int MostProperties = 4;

    private static readonly string[] s_names =
    [
        "enquiry", "property", "margin", "question", "estimand", "scatter", "extension", "cv", "cvcandidate", "heatcv", "loadsd", "hardness", "mean", "coupons", "heats", "loads", "room", "apart", "spares", "seed",
        "reference", "candidate", "costcoupon", "costheat", "costload", "chance", "at", "replicates", "slopeof", "ladder", "laddercandidate", "slope", "slopediff", "hardnesssd", "flaws", "flawsreference", "flawscandidate", "share",
        .. Enumerable.Range(2, MostProperties - 1).SelectMany(n => new[] { "property", "margin", "cv", "heatcv", "true", "cost" }.Select(line => line + n).Concat(Enumerable.Range(1, n - 1).Select(other => $"corr{n}{other}"))),
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

        CloseGaps();
    }

    /// <summary>A further property taken away leaves no gap: those after it move up with all that was typed for them; correlations across the move are typed anew.</summary>
    private void CloseGaps()
    {
        int next = 2;
        for (int n = 2; n <= MostProperties; n++)
        {
            bool used = _typed.ContainsKey($"property{n}");
            foreach (string line in s_names.Where(name => name[^1] - '0' == n && !name.StartsWith("corr", StringComparison.Ordinal) || name.StartsWith($"corr{n}", StringComparison.Ordinal)))
            {
                if (used && next == n || !_typed.Remove(line, out string? text) || !used || line.StartsWith("corr", StringComparison.Ordinal))
                {
                    continue;
                }

                _typed[line[..^1] + next] = text;
            }

            if (used)
            {
                next++;
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

    /// <summary>Writes over a line.</summary>
    public void Set(string name, string text) => _typed[name] = text;

    /// <summary>Numbers of the lines that name a further property, from 2, without gap.</summary>
    public IEnumerable<int> FurtherLines() => Enumerable.Range(2, MostProperties - 1).TakeWhile(n => Typed($"property{n}") is not null);

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
