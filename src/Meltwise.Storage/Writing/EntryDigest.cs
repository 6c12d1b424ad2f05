using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace Meltwise.Storage.Writing;

/// <summary>SHA-256 over the entries of one table in one transaction: number of the entry, then its cells as UTF-8 text, parted by separators that no cell may hold.</summary>
/// <remarks>Reals are written in the shortest form that reads back to them, so the digest is the same on both engines.</remarks>
internal sealed class EntryDigest : IDisposable
{
    private const byte CellMark = 0x1F;
    private const byte EntryMark = 0x1E;
    private const byte EmptyMark = 0x00;

    private readonly IncrementalHash _hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
    private byte[] _buffer = new byte[1024];
    private int _length;

    /// <summary>Number of entries taken in.</summary>
    public int Count { get; private set; }

    /// <summary>Takes in one entry.</summary>
    public void Append(int entry, ReadOnlySpan<object?> cells)
    {
        _length = 0;
        Number(entry);
        foreach (object? cell in cells)
        {
            Mark(CellMark);
            switch (cell)
            {
                case null: Mark(EmptyMark); break;
                case string text: Text(text); break;
                case int number: Number(number); break;
                case double real: Number(real); break;
                default: throw new InvalidOperationException($"A cell of type {cell.GetType().Name} has no stored form.");
            }
        }
        Mark(EntryMark);
        _hash.AppendData(_buffer, 0, _length);
        Count++;
    }

    /// <summary>The digest so far, hexadecimal; begins anew.</summary>
    public string Close()
    {
        Count = 0;
        return Convert.ToHexStringLower(_hash.GetHashAndReset());
    }

    /// <inheritdoc/>
    public void Dispose() => _hash.Dispose();

    private void Mark(byte mark)
    {
        Room(1);
        _buffer[_length++] = mark;
    }

    private void Text(string text)
    {
        Room(Encoding.UTF8.GetMaxByteCount(text.Length));
        _length += Encoding.UTF8.GetBytes(text, _buffer.AsSpan(_length));
    }

    private void Number<T>(T value)
        where T : IUtf8SpanFormattable
    {
        Room(32);
        value.TryFormat(_buffer.AsSpan(_length), out int written, default, CultureInfo.InvariantCulture);
        _length += written;
    }

    private void Room(int bytes)
    {
        if (_length + bytes > _buffer.Length) Array.Resize(ref _buffer, Math.Max(_buffer.Length * 2, _length + bytes));
    }
}
