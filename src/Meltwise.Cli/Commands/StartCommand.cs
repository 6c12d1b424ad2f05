using System.CommandLine;
using Meltwise.Storage;
using Meltwise.Web;

namespace Meltwise.Cli.Commands;

/// <summary><c>start</c>: serves the workbench on loopback and opens the browser.</summary>
internal static class StartCommand
{
    public static Command Create()
    {
        Option<bool> demonstration = new("--demo") { Description = "Make the demonstration bench if it is not there, and open it beside your own." };
        Option<int> port = new("--port") { Description = "Port on the loopback address; a free one when not given." };
        Option<bool> quiet = new("--no-browser") { Description = "Only print the address." };
        Option<string?> bench = SharedOptions.Bench();
        Command command = new("start", "Serve the workbench on this machine's loopback address and open the browser.") { demonstration, port, quiet, bench };
        command.SetAction(async (parsed, stop) =>
        {
            if (parsed.GetValue(port) is < 0 or > 65535) throw Fault.Usage($"--port {parsed.GetValue(port)} is no port; give a number from 1 to 65535, or leave it out.");
            if (parsed.GetValue(demonstration)) DemoCommand.MakeOnce(Console.Error);
            WorkbenchOptions options = new()
            {
                BenchPath = parsed.GetValue(bench) ?? BenchFile.OwnPath,
                DemoPath = File.Exists(BenchFile.DemonstrationPath) ? BenchFile.DemonstrationPath : null,
                Port = parsed.GetValue(port),
                OpenBrowser = !parsed.GetValue(quiet),
                MachineFolder = Path.GetDirectoryName(BenchFile.OwnPath),
                Announce = address => Console.Out.WriteLine($"Meltwise answers at {address} on this machine only. Stop it with Ctrl+C."),
            };
            try
            {
                await Workbench.Run(options, stop);
            }
            catch (IOException)
            {
                throw Fault.Input($"Port {options.Port} is taken, perhaps by a workbench that runs already. Name another with --port, or leave it out for a free one.");
            }
            return ExitStatus.Done;
        });
        return command;
    }
}
