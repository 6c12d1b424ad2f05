using System.Security.Cryptography;
using System.Text;
using Meltwise.Casework.Judging;

namespace Meltwise.Publishing.Packs;

/// <summary>Names a data package by what is in it: the same data, history, rule, seed and program give the same name, anything else another. Report, pack and citation carry it.</summary>
public static class PackId
{
    private const int Shown = 16;

    /// <summary>The first sixteen hexadecimal digits of SHA-256 over the digests of the verdict, parted by line ends.</summary>
    public static string Of(Verdict verdict)
    {
        Reproduction r = verdict.Reproduction;
        string text = string.Join('\n', r.Version, r.DataDigest, r.HistoryDigest, r.RuleDigest, r.Seed?.ToString(System.Globalization.CultureInfo.InvariantCulture), verdict.Finding.Outcome.ToString());
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)))[..Shown];
    }
}
