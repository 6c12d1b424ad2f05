namespace Meltwise.Cli;

/// <summary>A fault a person can mend, with the exit status it ends the program with. The message says what was found, what was expected and what was kept.</summary>
internal sealed class Fault(int exitStatus, string message) : Exception(message)
{
    public int ExitStatus { get; } = exitStatus;

    /// <summary>The command line asks for something that cannot be.</summary>
    public static Fault Usage(string message) => new(Cli.ExitStatus.UsageFault, message);

    /// <summary>The input is wrong.</summary>
    public static Fault Input(string message) => new(Cli.ExitStatus.InputFault, message);

    /// <summary>Refused on scientific grounds.</summary>
    public static Fault Refused(string message) => new(Cli.ExitStatus.Refused, message);
}
