namespace Meltwise.Imaging.Reading;

/// <summary>A picture file was refused. The message names the file, what was found and what was expected.</summary>
/// <param name="file">Path of the file as given.</param>
/// <param name="found">What was found.</param>
/// <param name="expected">What was expected.</param>
public sealed class UnreadablePictureException(string file, string found, string expected)
    : Exception($"{Path.GetFileName(file)}: {found}; expected {expected}.")
{
    /// <summary>Path of the file as given.</summary>
    public string File { get; } = file;

    /// <summary>What was found.</summary>
    public string Found { get; } = found;

    /// <summary>What was expected.</summary>
    public string Expected { get; } = expected;
}
