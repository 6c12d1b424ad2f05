using Meltwise.Publishing.Documents;

namespace Meltwise.Publishing.Report.Parts;

/// <summary>A part of a report.</summary>
/// <param name="Title">Title.</param>
/// <param name="Blocks">Content; empty when there are no data.</param>
/// <param name="State">State, right of the title.</param>
/// <param name="Locked">Whether the state is a lock.</param>
/// <param name="NewPage">Begins a page in print.</param>
/// <param name="WhenEmpty">What it says when there are no data; null leaves the part out.</param>
internal sealed record ReportPart(string Title, IReadOnlyList<Block> Blocks, string? State = null, bool Locked = false, bool NewPage = false, string? WhenEmpty = null);
