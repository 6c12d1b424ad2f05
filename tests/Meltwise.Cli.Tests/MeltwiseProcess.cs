using System.Diagnostics;
using System.Text.Json;
using Xunit;

namespace Meltwise.Cli.Tests;

/// <summary>Runs the program as a person or a script would: a process with its own data folder.</summary>
internal sealed class MeltwiseProcess : IDisposable
{
    public string Folder { get; } = Directory.CreateTempSubdirectory("meltwise-cli-").FullName;

    /// <summary>Writes a file into the folder and returns its path.</summary>
    public string File(string name, string content)
    {
        string path = Path.Combine(Folder, name);
        System.IO.File.WriteAllText(path, content);
        return path;
    }

    public Ending Run(params string[] arguments)
    {
        ProcessStartInfo start = new("dotnet") { UseShellExecute = false, RedirectStandardOutput = true, RedirectStandardError = true, WorkingDirectory = Folder };
        start.Environment["MELTWISE_HOME"] = Folder;
        start.Environment["TMPDIR"] = Folder;
        start.ArgumentList.Add(Path.Combine(AppContext.BaseDirectory, "meltwise.dll"));
        foreach (string argument in arguments) start.ArgumentList.Add(argument);
        using Process process = Process.Start(start)!;
        Task<string> output = process.StandardOutput.ReadToEndAsync(), messages = process.StandardError.ReadToEndAsync();
        if (!process.WaitForExit(TimeSpan.FromMinutes(4)))
        {
            process.Kill(entireProcessTree: true);
            Assert.Fail($"meltwise {string.Join(' ', arguments)} did not end within four minutes.");
        }
        return new(process.ExitCode, output.GetAwaiter().GetResult(), messages.GetAwaiter().GetResult());
    }

    public void Dispose() => Directory.Delete(Folder, recursive: true);
}

/// <summary>How a run ended.</summary>
internal sealed record Ending(int Status, string Output, string Messages)
{
    /// <summary>Standard output as the one JSON object it must be.</summary>
    public JsonElement Json()
    {
        using JsonDocument document = JsonDocument.Parse(Output);
        return document.RootElement.Clone();
    }

    public Ending Expect(int status)
    {
        Assert.True(Status == status, $"Expected exit status {status}, found {Status}.\n{Output}\n{Messages}");
        return this;
    }
}
