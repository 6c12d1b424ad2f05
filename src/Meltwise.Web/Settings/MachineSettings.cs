using System.Text.Json;

namespace Meltwise.Web.Settings;

/// <summary>What belongs to the person at this machine and not to a bench.</summary>
public sealed record MachineSettings
{
    /// <summary>Whose name is written into the trail.</summary>
    public string Person { get; init; } = Environment.UserName;

    /// <summary>Laboratory, as a report prints it.</summary>
    public string Laboratory { get; init; } = "";

    /// <summary>Address line of the laboratory.</summary>
    public string Address { get; init; } = "";

    /// <summary>True for a decimal comma on the page; either is read when typed.</summary>
    public bool DecimalComma { get; init; }

    /// <summary>True when foot-pound force and °F are the first unit shown.</summary>
    public bool FootPoundFirst { get; init; }
}

/// <summary>Keeps the settings in one small file of the machine folder.</summary>
internal sealed class SettingsFile(string path)
{
    private static readonly JsonSerializerOptions s_json = new() { WriteIndented = true };
    private readonly Lock _lock = new();
    private MachineSettings? _settings;

    /// <summary>The settings as they stand; the defaults when nothing readable was kept.</summary>
    public MachineSettings Current
    {
        get
        {
            lock (_lock)
            {
                return _settings ??= Read();
            }
        }
    }

    /// <summary>Keeps them: written beside the old file first, so that a power cut leaves one or the other.</summary>
    public void Keep(MachineSettings settings)
    {
        lock (_lock)
        {
            string draft = path + ".new";
            File.WriteAllText(draft, JsonSerializer.Serialize(settings, s_json));
            File.Move(draft, path, overwrite: true);
            _settings = settings;
        }
    }

    private MachineSettings Read()
    {
        try
        {
            return File.Exists(path) ? JsonSerializer.Deserialize<MachineSettings>(File.ReadAllText(path)) ?? new() : new();
        }
        catch (JsonException)
        {
            return new();
        }
    }
}
