using Meltwise.Casework.Intake;
using Meltwise.Web.Hosting;
using Meltwise.Web.LongWork;

namespace Meltwise.Web.Intake;

/// <summary>What was chosen when a table was stored, and what became of it.</summary>
/// <param name="Choice">The choice.</param>
/// <param name="Outcome">The outcome.</param>
internal sealed record StoredIntake(IntakeChoice Choice, IntakeOutcome Outcome);

/// <summary>A brought-in table is read and stored beside the page: a large one takes a while.</summary>
internal static class IntakeWork
{
    // Reading the file is about as long as setting its rows against the bench.
    private const double Read = 0.4;
    private static readonly TimeSpan s_fresh = TimeSpan.FromMinutes(2);

    /// <summary>The address of a table with what a person said of its columns.</summary>
    public static string AddressOf(string token, IReadOnlyList<ColumnMap> maps) =>
        $"intake/{token}" + (maps.Count == 0 ? "" : "?" + string.Join('&', maps.Select(m => $"map={Uri.EscapeDataString($"{m.Heading}={m.Meaning}")}")));

    /// <summary>Reads the table and sets it against the bench. The bench may change, so that what was looked at is kept for a short while only.</summary>
    public static WorkInHand Look(Workroom room, BenchKind bench, TrayFile file, IReadOnlyList<ColumnMap> maps)
    {
        string address = AddressOf(file.Token, maps);
        if (room.Find(bench, address) is { } known && known.SinceEnded < s_fresh)
        {
            return known;
        }

        return room.Start(bench, address, $"reading of {file.Name}", address, ReadOf);

        IntakePreview ReadOf(WorkTools tools)
        {
            IntakePreview preview = IntakePreview.OfContent(file.Name, file.Content, maps);
            return IntakeRun.Against(tools.Bench, preview, new ShareOfWork(tools.Progress, Read, 1), tools.Cancel);
        }
    }

    /// <summary>The storing of a table, running or ended; null when it was not begun.</summary>
    public static WorkInHand? FindStoring(Workroom room, BenchKind bench, string token) => room.Find(bench, $"storing {token}");

    /// <summary>Stores the table by a choice, all of it in one step or nothing.</summary>
    public static WorkInHand Store(Workroom room, BenchKind bench, TrayFile file, IReadOnlyList<ColumnMap> maps, IntakeChoice choice, string person) =>
        room.Start(bench, $"storing {file.Token}", $"storing of {file.Name}", AddressOf(file.Token, maps), tools =>
        {
            IntakePreview preview = IntakeRun.Against(tools.Bench, IntakePreview.OfContent(file.Name, file.Content, maps), new ShareOfWork(tools.Progress, 0.1, Read), tools.Cancel);
            return new StoredIntake(choice, IntakeRun.Store(tools.Bench, preview, person, choice, new ShareOfWork(tools.Progress, Read, 1), tools.Cancel));
        });
}
