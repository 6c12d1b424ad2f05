using System.Text;

namespace Meltwise.Casework.Intake;

/// <summary>Finds out in which encoding a text file was written.</summary>
/// <remarks>In this order: a byte order mark (UTF-8, UTF-16); zero bytes on every second place (UTF-16 without a mark); valid UTF-8 (RFC 3629);
/// otherwise Windows-1252, which holds Latin-1 (ISO 8859-1) and is what spreadsheets write in western countries. Other zero bytes mean a binary file.</remarks>
internal static class TextDecoding
{
    // So much of the file tells whether it is text.
    private const int Sample = 64 * 1024;

    static TextDecoding() => Encoding.RegisterProvider(CodePagesEncodingProvider.Instance);

    /// <summary>The text with the name of its encoding, or null for a binary file.</summary>
    public static (string Text, string Encoding)? Decode(ReadOnlySpan<byte> bytes)
    {
        if (bytes.StartsWith(new byte[] { 0xEF, 0xBB, 0xBF })) return Strict(bytes[3..]) ?? Western(bytes[3..]);
        if (bytes.StartsWith(new byte[] { 0xFF, 0xFE })) return (Encoding.Unicode.GetString(bytes[2..]), "UTF-16");
        if (bytes.StartsWith(new byte[] { 0xFE, 0xFF })) return (Encoding.BigEndianUnicode.GetString(bytes[2..]), "UTF-16");
        return WithoutMark(bytes);
    }

    private static (string, string)? WithoutMark(ReadOnlySpan<byte> bytes)
    {
        ReadOnlySpan<byte> sample = bytes[..Math.Min(Sample, bytes.Length)];
        int even = 0;
        int odd = 0;
        int control = 0;
        for (int i = 0; i < sample.Length; i++)
        {
            if (sample[i] == 0 && i % 2 == 0) even++;
            else if (sample[i] == 0) odd++;
            else if (sample[i] < 0x20 && sample[i] is not ((byte)'\t' or (byte)'\n' or (byte)'\r' or 0x0C)) control++;
        }
        if (control > sample.Length / 50) return null;
        if (odd > sample.Length / 4 && even == 0) return (Encoding.Unicode.GetString(bytes), "UTF-16");
        if (even > sample.Length / 4 && odd == 0) return (Encoding.BigEndianUnicode.GetString(bytes), "UTF-16");
        return even + odd > 0 ? null : Strict(bytes) ?? Western(bytes);
    }

    private static (string, string)? Strict(ReadOnlySpan<byte> bytes) =>
        System.Text.Unicode.Utf8.IsValid(bytes) ? (Encoding.UTF8.GetString(bytes), "UTF-8") : null;

    private static (string, string) Western(ReadOnlySpan<byte> bytes) => (Encoding.GetEncoding(1252).GetString(bytes), "Latin-1 (Windows-1252)");
}
