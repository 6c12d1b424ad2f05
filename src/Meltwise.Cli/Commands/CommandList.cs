using System.CommandLine;

namespace Meltwise.Cli.Commands;

/// <summary>All commands, in the order of the job.</summary>
internal static class CommandList
{
    public static IEnumerable<Command> All() =>
    [
        DemoCommand.Create(), StartCommand.Create(), IntakeCommand.Create(), TraceCommand.Create(), CompareCommand.Create(), PlanCommand.Create(), StudyCommand.Create(), ExplainCommand.Create(), EquilibriumCommand.Create(),
        MeasureCommand.Create(), ReportCommand.Create(), PackCommand.Create(), UnpackCommand.Create(), CheckCommand.Create(), BackupCommand.Create(),
    ];
}
