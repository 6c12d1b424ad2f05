using System.Text.RegularExpressions;
using Meltwise.Evidence;
using Xunit;

namespace Meltwise.Architecture.Tests;

/// <summary>Measured pictures must agree to the bit on every machine. A sum taken at vector width adds in another order on a processor with wider vectors: one such sum once moved the area fraction of a 12-megapixel picture in the eighth digit.</summary>
public sealed partial class VectorSumTests
{
    [Fact]
    public void Pictures_are_never_summed_at_vector_width()
    {
        string[] files = [.. Directory.EnumerateFiles(Path.Combine(Repository.Root, "src", "Meltwise.Imaging"), "*.cs", SearchOption.AllDirectories)];
        Assert.True(files.Length > 40);
        Assert.Empty(files.Where(f => VectorSum().IsMatch(File.ReadAllText(f))).Select(Path.GetFileName));
    }

    [GeneratedRegex(@"TensorPrimitives\.(Sum|Dot|Norm|Average|Distance|CosineSimilarity|Product|StdDev)|Vector\d*\.(Sum|Dot)\b", RegexOptions.ExplicitCapture, 5000)]
    private static partial Regex VectorSum();
}
