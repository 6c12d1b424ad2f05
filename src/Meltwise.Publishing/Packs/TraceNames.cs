using System.Globalization;
using Meltwise.Domain;

namespace Meltwise.Publishing.Packs;

/// <summary>Fits the names of a pack's furnace traces to a bench, which numbers its own by itself.</summary>
internal static class TraceNames
{
    /// <summary>The records with names that are free on the bench; a trace that is there already is left out.</summary>
    public static PackRecords Fit(PackRecords records, IReadOnlyList<FurnaceTrace> there)
    {
        HashSet<string> taken = [.. there.Select(t => t.Name)];
        int next = 1 + there.Concat(records.FurnaceTraces).Select(NumberOf).DefaultIfEmpty(0).Max();
        return records with
        {
            FurnaceTraces =
            [
                .. records.FurnaceTraces.Where(t => !there.Any(o => o.SetAside is null && o.Sha256 == t.Sha256 && o.Load == t.Load && o.Step == t.Step && o.Channel == t.Channel))
                    .Select(t => taken.Contains(t.Name) ? t with { Name = string.Create(CultureInfo.InvariantCulture, $"T-{next++}") } : t),
            ],
        };
    }

    private static int NumberOf(FurnaceTrace trace) => trace.Name.StartsWith("T-", StringComparison.Ordinal) && int.TryParse(trace.Name.AsSpan(2), NumberStyles.None, CultureInfo.InvariantCulture, out int n) ? n : 0;
}
