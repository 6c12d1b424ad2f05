using System.Security.Cryptography;
using System.Text;
using Meltwise.Statistics.Resampling;

namespace Meltwise.Casework.Planning;

/// <summary>Short codes for coupons that say nothing and are hard to misread.</summary>
/// <remarks>Four characters without look-alikes (none of 0 O D Q, 1 I L, 2 Z, 5 S, 6 G, 8 B, U V); any two codes differ in at least two places, so one
/// misread character is not another coupon. Common practice, no source.</remarks>
public static class BlindCodes
{
    private const string Alphabet = "ACEFHJKMNPRTWXY3479";
    private const int Length = 4, Least = 2;

    /// <summary>Different codes in random order.</summary>
    /// <param name="count">How many, at most 500.</param>
    /// <param name="seed">Seed.</param>
    public static IReadOnlyList<string> Draw(int count, long seed)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(count);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(count, 500);
        RandomStream random = new(seed, 2);
        List<string> codes = [];
        Span<char> code = stackalloc char[Length];
        while (codes.Count < count)
        {
            for (int i = 0; i < Length; i++) code[i] = Alphabet[random.Index(Alphabet.Length)];
            string candidate = new(code);
            if (codes.TrueForAll(c => Differences(c, candidate) >= Least)) codes.Add(candidate);
        }
        return codes;
    }

    /// <summary>SHA-256 of the key, lowercase hexadecimal: one line <c>code heat blank</c> a coupon, sorted by code.</summary>
    internal static string KeyDigest(IEnumerable<AllocatedCoupon> coupons)
    {
        string text = string.Join('\n', coupons.OrderBy(c => c.Code, StringComparer.Ordinal).Select(c => $"{c.Code}\t{c.Heat}\t{c.Blank}"));
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)));
    }

    private static int Differences(string a, string b)
    {
        int different = 0;
        for (int i = 0; i < a.Length; i++)
            if (a[i] != b[i]) different++;
        return different;
    }
}
