using QRCoder;

namespace Meltwise.Publishing.Labels;

/// <summary>A QR code (ISO/IEC 18004) as dark and light modules, with error correction M (restores about 15 %).</summary>
public static class QrSquare
{
    /// <summary>The modules without the quiet zone; true is dark.</summary>
    /// <param name="payload">Text to hold, at most 500 characters.</param>
    /// <exception cref="ArgumentException">Empty or too long.</exception>
    public static bool[,] Of(string payload)
    {
        if (payload.Length is 0 or > 500)
            throw new ArgumentException($"A label holds 1 to 500 characters, not {payload.Length}.", nameof(payload));
        using QRCodeData code = QRCodeGenerator.GenerateQrCode(payload, QRCodeGenerator.ECCLevel.M);
        // The generator surrounds the code with its quiet zone of four modules.
        const int Quiet = 4;
        int size = code.ModuleMatrix.Count - (2 * Quiet);
        bool[,] modules = new bool[size, size];
        for (int row = 0; row < size; row++)
        {
            for (int column = 0; column < size; column++)
                modules[row, column] = code.ModuleMatrix[row + Quiet][column + Quiet];
        }
        return modules;
    }
}
