using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Meltwise.Domain;

namespace Meltwise.Casework.Asking;

/// <summary>The canonical text of a decision rule, and its digest. The same rule gives the same text in any culture and any later version.</summary>
/// <remarks>One line a term, name and value parted by a colon, in a fixed order; a term that is not set has no line, so that a term added later leaves old digests as they are.
/// Numbers are in the shortest form that reads back to them.</remarks>
public static class RuleText
{
    /// <summary>The text.</summary>
    public static string Write(DecisionRule rule)
    {
        StringBuilder text = new();
        Line("property", rule.Property);
        Line("margin", Write(rule.Margin));
        Line("question", rule.Question.ToString());
        Line("estimand", rule.Estimand.ToString());
        Line("scatter", rule.Scatter.ToString());
        Line("alpha", Number(rule.Alpha));
        Line("look", rule.Look?.ToString(CultureInfo.InvariantCulture));
        Line("scale", rule.Scale?.ToString());
        Line("better", rule.Better?.ToString());
        Line("session sd HRC", rule.SessionSdHrc is { } s ? Number(s) : null);
        Line("session sd from", rule.SessionSdFrom);
        Line("separate sessions", rule.SeparateSessions ? "yes" : null);
        Line("ladder slope", rule.LadderSlope ? "yes" : null);
        Line("trend family", rule.TrendFamily);
        Line("planned coupons per lot", rule.PlannedCouponsPerLot?.ToString(CultureInfo.InvariantCulture));
        Line("history digest", rule.HistoryDigest);
        foreach ((PropertyRole role, OtherProperty other) in rule.OtherProperties())
            Line(role == PropertyRole.Primary ? "further primary" : "secondary", $"{other.Property}; {Write(other.Margin)}{(other.Scale is { } scale ? $"; scale {scale}" : "")}{(other.Better is { } better ? $"; better {better}" : "")}");
        return text.ToString();

        void Line(string name, string? value)
        {
            if (value is not null) text.Append(name).Append(": ").Append(value).Append('\n');
        }
    }

    /// <summary>SHA-256 of the text in UTF-8, hexadecimal.</summary>
    public static string Digest(DecisionRule rule) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(Write(rule))));

    private static string Write(Margin margin) => margin switch
    {
        Margin.Ratio r => $"ratio {Number(r.Low)} to {Number(r.High)}",
        Margin.Absolute a => $"difference {Number(a.PlusMinus)} {a.Unit}",
        Margin.InHardness h => $"hardness {Number(h.Hrc)} HRC",
        _ => throw new System.Diagnostics.UnreachableException(),
    };

    private static string Number(double value) => value.ToString("R", CultureInfo.InvariantCulture);
}
