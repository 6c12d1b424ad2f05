using Meltwise.Casework.Judging;
using Meltwise.Domain;

namespace Meltwise.Casework.Picturing;

/// <summary>A quantity of the pictures as it is shown.</summary>
/// <param name="Judged">Values of the fields, ratio, intervals, outcome.</param>
/// <param name="Unit">Unit it is shown in.</param>
/// <param name="Factor">What the values are multiplied with for that unit.</param>
/// <param name="ReferenceScatter">Scatter of the reference between its mounts and between fields.</param>
/// <param name="CandidateScatter">The same of the candidate.</param>
public sealed record StructureQuantity(JudgedQuantity Judged, string Unit, double Factor, MountScatter? ReferenceScatter, MountScatter? CandidateScatter);

/// <summary>Judges the measured pictures of an enquiry against its margin, by the same table as the verdict.</summary>
public static class StructureJudgement
{
    /// <summary>The quantities, in the order in which they are shown.</summary>
    /// <param name="document">What was measured.</param>
    /// <param name="question">The margin.</param>
    public static IReadOnlyList<StructureQuantity> Judge(StructureDocument document, StructureQuestion question)
    {
        bool known = document.MicrometresPerPixel is not null;
        string length = known ? "µm" : "px";
        (string Name, Func<StructureField, double> Value, string Unit, double Factor, bool Largest)[] quantities =
        [
            ("area fraction", f => f.AreaFraction, "%", 100, false),
            ("particles per area", f => f.PerArea, known ? "1/mm²" : "1/px", 1, false),
            ("mean diameter", f => f.MeanDiameter, length, 1, false),
            ("diameter that 95 of 100 stay below", f => f.P95Diameter, length, 1, false),
            ("largest particle of a field", f => f.Largest, length, 1, true),
        ];
        return [.. quantities.Select(q =>
        {
            LotFields reference = Fields(document, false, q.Value, q.Largest), candidate = Fields(document, true, q.Value, q.Largest);
            return new StructureQuantity(PictureJudgement.Judge(q.Name, reference, candidate, question.Lower, question.Upper), q.Unit, q.Factor, MountScatter.Of(reference), MountScatter.Of(candidate));
        })];
    }

    private static LotFields Fields(StructureDocument document, bool candidate, Func<StructureField, double> value, bool largest)
    {
        StructureField[] fields = [.. document.Of(candidate).Where(f => !largest || f.CountsForLargest).OrderBy(f => f.Number)];
        return new([.. fields.Select(value)], [.. fields.Select(f => f.Mount is { } mount ? $"{f.Heat}/{mount}" : null)]);
    }
}
