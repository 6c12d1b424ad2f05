using System.Diagnostics;

namespace Meltwise.Storage.Tests.Surviving;

/// <summary>The child program of these tests, run as a process of its own.</summary>
internal sealed class OtherProcess : IDisposable
{
    private readonly Process _process;

    public OtherProcess(params string[] arguments) => _process = Process.Start(new ProcessStartInfo("dotnet", [Path.Combine(AppContext.BaseDirectory, "Meltwise.Storage.Child.dll"), .. arguments])
    {
        RedirectStandardOutput = true,
        RedirectStandardError = true,
        RedirectStandardInput = true,
        UseShellExecute = false,
    })!;

    public string? ReadLine() => _process.StandardOutput.ReadLine();

    public void WriteLine() => _process.StandardInput.WriteLine();

    /// <summary>Waits for the end and gives all it still says.</summary>
    public (int ExitCode, string Said) Finish()
    {
        string said = _process.StandardOutput.ReadToEnd() + _process.StandardError.ReadToEnd();
        _process.WaitForExit();
        return (_process.ExitCode, said);
    }

    /// <summary>Kills it at once, as a power cut of the program would.</summary>
    public void Kill()
    {
        _process.Kill();
        _process.WaitForExit();
    }

    public void Dispose()
    {
        if (!_process.HasExited) Kill();
        _process.Dispose();
    }
}
