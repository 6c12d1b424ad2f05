namespace Meltwise.Evidence;

/// <summary>The checkout that the running tests were built from.</summary>
public static class Repository
{
    /// <summary>Root folder: the nearest folder above the test program that holds the solution file.</summary>
    public static string Root { get; } = Find(AppContext.BaseDirectory);

    private static string Find(string start)
    {
        for (DirectoryInfo? folder = new(start); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "Meltwise.slnx"))) return folder.FullName;
        throw new DirectoryNotFoundException($"No Meltwise.slnx above {start}. Run the tests from a checkout.");
    }
}
