using Spectre.Console;

namespace Meltwise.Cli.Terminal;

/// <summary>Progress of long work on standard error, with time left, only where a terminal is attached.</summary>
internal static class ProgressLine
{
    public static T Run<T>(string what, Func<Action<double>, T> work)
    {
        if (Console.IsErrorRedirected) return work(_ => { });
        IAnsiConsole console = AnsiConsole.Create(new AnsiConsoleSettings { Out = new AnsiConsoleOutput(Console.Error) });
        T result = default!;
        console.Progress().AutoClear(true).Columns(new TaskDescriptionColumn(), new ProgressBarColumn(), new PercentageColumn(), new RemainingTimeColumn()).Start(context =>
        {
            ProgressTask task = context.AddTask(what, maxValue: 1);
            result = work(share => task.Value = share);
        });
        return result;
    }
}
