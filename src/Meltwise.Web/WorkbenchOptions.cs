namespace Meltwise.Web;

/// <summary>What the workbench serves and where.</summary>
public sealed record WorkbenchOptions
{
    /// <summary>Path of the person's own bench file. It need not exist: the workbench then offers to start it.</summary>
    public required string BenchPath { get; init; }

    /// <summary>Path of the demonstration bench, or null when there is none.</summary>
    public string? DemoPath { get; init; }

    /// <summary>Port on the loopback address; 0 takes a free one.</summary>
    public int Port { get; init; }

    /// <summary>Opens the person's browser once the workbench answers.</summary>
    public bool OpenBrowser { get; init; }

    /// <summary>Called once with the address when the workbench answers.</summary>
    public Action<Uri>? Announce { get; init; }

    /// <summary>Folder for what belongs to this machine and not to a bench (settings of the page, keys of its forms); null means the user's data folder.</summary>
    public string? MachineFolder { get; init; }
}
