using Meltwise.Casework.Asking;
using Meltwise.Domain;

namespace Meltwise.Web.Enquiries;

/// <summary>One further property on the lines of a rule. A line without a role is not used, so taking the role away takes the property out.</summary>
public sealed class OtherPropertyLine
{
    private const int EmptyLines = 2;

    /// <summary><c>primary</c>, <c>secondary</c>, or empty for a line that is not used.</summary>
    public string? Role { get; set; }

    public string? Property { get; set; }

    public string? Margin { get; set; }

    /// <summary>The lines of a rule with empty ones to add to them.</summary>
    public static List<OtherPropertyLine> Of(DecisionRule? rule) =>
    [
        .. (rule?.OtherProperties() ?? []).Select(o => new OtherPropertyLine { Role = o.Role == PropertyRole.Primary ? "primary" : "secondary", Property = o.Property.Property, Margin = MarginText.Write(o.Property.Margin) }),
        .. Enumerable.Range(0, EmptyLines).Select(_ => new OtherPropertyLine()),
    ];

    /// <summary>The properties on the lines, or what is wrong with one.</summary>
    public static (IReadOnlyList<OtherProperty>? Primaries, IReadOnlyList<OtherProperty>? Secondaries, string? Fault) Read(IEnumerable<OtherPropertyLine> lines, DecisionRule? before)
    {
        List<OtherProperty> primaries = [], secondaries = [];
        foreach (OtherPropertyLine line in lines)
        {
            if (line.Role is not ("primary" or "secondary"))
            {
                if (!string.IsNullOrWhiteSpace(line.Margin) && string.IsNullOrEmpty(line.Role) && !WasThere(line, before))
                {
                    return (null, null, $"“{line.Property}” has a margin and no role. Say whether it is primary or secondary, or empty its margin.");
                }

                continue;
            }

            if (PropertyTable.Find(line.Property ?? "") is not { } property)
            {
                return (null, null, $"“{line.Property}” is not a property of the shipped table.");
            }

            if (!MarginText.TryRead(line.Margin ?? "", property, out Margin? margin, out string fault))
            {
                return (null, null, $"{property.Name}: {fault}");
            }

            (line.Role == "primary" ? primaries : secondaries).Add(Kept(before, property.Name, margin!));
        }

        return (primaries.Count > 0 ? primaries : null, secondaries.Count > 0 ? secondaries : null, null);
    }

    private static bool WasThere(OtherPropertyLine line, DecisionRule? before) => before?.OtherProperties().Any(o => o.Property.Property == line.Property) == true;

    // What the line does not show, such as another scale, is kept.
    private static OtherProperty Kept(DecisionRule? before, string name, Margin margin) =>
        before?.OtherProperties().Select(o => o.Property).FirstOrDefault(o => o.Property == name) is { } there ? there with { Margin = margin } : new(name, margin);
}
