using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.Interlaboratory;
using Xunit;

namespace Meltwise.Statistics.Tests.Interlaboratory;

/// <summary>Oracles/statistics/interlab.json; ASTM E691 worked example, glucose in serum (from memory): materials A, D and E as printed, B and C carry typing errors in the copy and are only computed on.</summary>
public sealed class PrecisionStudyTests
{
    private static readonly JsonElement s_oracle = Oracle.Read("interlab.json");

    private static double[][] Level(string material)
    {
        Table t = Table.Published("e691_glucose.csv");
        return [.. t.Text("Laboratory").Zip(t.Numbers("Glucose")).Where((_, i) => t.Text("Material")[i] == material).GroupBy(p => p.First).Select(g => g.Select(p => p.Second).ToArray())];
    }

    [Theory]
    [InlineData("A")]
    [InlineData("B")]
    [InlineData("C")]
    [InlineData("D")]
    [InlineData("E")]
    public void Precision_and_consistency_agree(string material)
    {
        JsonElement e = s_oracle.GetProperty("levels").GetProperty(material);
        PrecisionResult r = PrecisionStudy.Of(Level(material));
        Digits.Agree(e.Number("mean"), r.Mean, new(12), "mean");
        Digits.Agree(e.Number("s_cell_averages"), r.SdOfMeans, new(11), "of means");
        Digits.Agree(e.Number("s_repeatability"), r.Repeatability, new(11), "repeatability");
        Digits.Agree(e.Number("s_between_lab"), r.BetweenLaboratories, new(10), "between");
        Digits.Agree(e.Number("s_reproducibility"), r.Reproducibility, new(11), "reproducibility");
        Digits.Agree(e.Number("cochran_C"), r.CochranC, new(11), "Cochran");
        int i = 0;
        foreach (JsonProperty h in e.GetProperty("h").EnumerateObject()) Digits.Agree(h.Value.Number(), r.H[i++], new(9), "h of " + h.Name);
        i = 0;
        foreach (JsonProperty k in e.GetProperty("k").EnumerateObject()) Digits.Agree(k.Value.Number(), r.K[i++], new(9), "k of " + k.Name);
    }

    [Fact]
    public void Material_A_as_printed()
    {
        PrecisionResult r = PrecisionStudy.Of(Level("A"));
        new Published("41.518").Agrees(r.Mean, "mean");
        new Published("1.0632").Agrees(r.Repeatability, "repeatability");
        new Published("1.0632").Agrees(r.Reproducibility, "reproducibility");
    }

    [Fact]
    public void Critical_values_agree()
    {
        JsonElement e = s_oracle.GetProperty("critical_values_alpha_0.005");
        (double h, double k) = PrecisionStudy.Critical(8, 3, 0.005);
        Digits.Agree(e.Number("h"), h, new(10), "h");
        Digits.Agree(e.Number("k"), k, new(10), "k");
    }
}
