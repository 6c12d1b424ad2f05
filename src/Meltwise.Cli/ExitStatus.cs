namespace Meltwise.Cli;

/// <summary>Exit statuses of the command contract.</summary>
internal static class ExitStatus
{
    /// <summary>Done.</summary>
    public const int Done = 0;

    /// <summary>The input was read but something in it is wrong; each fault was listed and nothing is half-stored.</summary>
    public const int InputFault = 1;

    /// <summary>The command line is wrong.</summary>
    public const int UsageFault = 2;

    /// <summary>Refused on scientific grounds.</summary>
    public const int Refused = 3;

    /// <summary>An internal fault; the bench is intact.</summary>
    public const int InternalFault = 4;
}
