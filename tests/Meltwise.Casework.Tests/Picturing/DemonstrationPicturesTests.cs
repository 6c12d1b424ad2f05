using Meltwise.Casework.Demonstration;
using Meltwise.Casework.Judging;
using Meltwise.Casework.Picturing;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Storage;
using Xunit;

namespace Meltwise.Casework.Tests.Picturing;

/// <summary>The drawn pictures of the demonstration bench against the values they were drawn from.</summary>
public sealed class DemonstrationPicturesTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("meltwise-pictures-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void The_measured_pictures_agree_with_what_was_drawn()
    {
        using Bench bench = BenchFile.Create(Path.Combine(_folder, "demo.meltwise"), isDemonstration: true);
        bench.Commit(DemonstrationBench.Author, DemonstrationBench.Reason, DemonstrationBench.Changes());
        DemonstrationPictures.AddTo(bench);
        Enquiry enquiry = bench.FindEnquiry("Q-07")!;
        StructureDocument document = StructureComparison.Stored(bench, enquiry)!;
        IReadOnlyList<StructureQuantity> judged = StructureJudgement.Judge(document, enquiry.Structure!);
        string said = string.Join("; ", judged.Select(q => $"{q.Judged.Name} {q.Judged.Ratio:0.000} {q.Judged.Wide} {q.Judged.Outcome}")) + string.Join(";", document.Fields.Select(f => $"{f.AreaFraction:0.000}/{f.MeanDiameter:0.00}"));
        // Nine fields a heat: their scatter leaves the mean of ln(share) within about 0.04 of the truth.
        Assert.True(Math.Abs(Math.Log(document.Of(false).Average(f => f.AreaFraction) / DemonstrationPictures.Share)) < 0.06, said);
        Assert.True(Math.Abs(Math.Log(document.Of(true).Average(f => f.AreaFraction) / DemonstrationPictures.Share)) < 0.06, said);
        Assert.True(judged[0].Judged.Outcome is Outcome.Equivalent or Outcome.EquivalentDetectable, said);
        Assert.InRange(judged[2].Judged.Ratio!.Value, 1.06, 1.20);
        Assert.True(judged[2].Judged.Outcome is Outcome.EquivalentDetectable, said);
        Assert.Equal(18, bench.Pictures().Count);
        Assert.NotNull(enquiry.Structure!.OpenedAtUtc);
        Assert.Empty(bench.Check().Faults);
        Assert.DoesNotContain(document.Notes, n => n.StartsWith("The sets differ", StringComparison.Ordinal));
        // The order of measuring mixes the heats.
        Assert.NotEqual(document.Fields.Select(f => f.IsCandidate).Order(), document.Fields.Select(f => f.IsCandidate));
    }
}
