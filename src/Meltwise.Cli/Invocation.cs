using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;
using System.Text;
using Meltwise.Casework.Recording;
using Meltwise.Cli.Commands;
using Meltwise.Cli.Terminal;

namespace Meltwise.Cli;

/// <summary>Parses the command line, runs one command, and turns every ending into an exit status of the contract.</summary>
internal static class Invocation
{
    public static int Run(string[] args)
    {
        CultureInfo.DefaultThreadCurrentCulture = CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
        Console.OutputEncoding = new UTF8Encoding(encoderShouldEmitUTF8Identifier: false);
        RootCommand root = Root();
        ParseResult parsed = root.Parse(args, new ParserConfiguration { ResponseFileTokenReplacer = null });
        if (args.Length == 0)
        {
            // Nobody who types the bare name made a mistake: show what there is.
            parsed = root.Parse(["--help"]);
        }
        if (parsed.Errors.Count > 0)
        {
            foreach (string error in Faults(root, parsed, args)) Console.Error.WriteLine("meltwise: " + error);
            Console.Error.WriteLine($"Try: {Spoken} {string.Join(' ', args.Take(1).Where(a => root.Subcommands.Any(c => c.Name == a)).Append("--help"))}");
            return ExitStatus.UsageFault;
        }
        try
        {
            return parsed.Invoke(new InvocationConfiguration { EnableDefaultExceptionHandler = false });
        }
        catch (Fault fault)
        {
            Console.Error.WriteLine("meltwise: " + fault.Message);
            return fault.ExitStatus;
        }
        catch (BenchException fault)
        {
            Console.Error.WriteLine("meltwise: " + fault.Message);
            return ExitStatus.InputFault;
        }
        catch (OperationCanceledException)
        {
            Console.Error.WriteLine("meltwise: stopped; nothing was half-stored.");
            return ExitStatus.InputFault;
        }
        catch (Exception bug)
        {
            return ReportBug(bug, args);
        }
    }

    /// <summary>How the person called the program, for commands that they may copy: <c>./meltwise</c> from a clone.</summary>
    public static string Spoken { get; } = Environment.GetEnvironmentVariable("MELTWISE_CALLED") is { Length: > 0 } called ? called : "meltwise";

    // A command that does not exist is one fault, whatever follows from it.
    private static IEnumerable<string> Faults(RootCommand root, ParseResult parsed, string[] args)
    {
        if (args[0].StartsWith('-') || root.Subcommands.Any(c => c.Name == args[0])) return parsed.Errors.Select(e => e.Message);
        string? near = root.Subcommands.Select(c => c.Name).Where(name => string.Concat(name.Order()) == string.Concat(args[0].Order()) || name.StartsWith(args[0], StringComparison.Ordinal) || args[0].StartsWith(name, StringComparison.Ordinal)).FirstOrDefault();
        return [$"There is no command \"{args[0]}\"{(near is null ? "" : $"; did you mean {near}?")}{(near is null ? $". There are {string.Join(", ", root.Subcommands.Select(c => c.Name))}." : "")}"];
    }

    /// <summary>Says plainly that the program is at fault and keeps the details in a file for whoever mends it.</summary>
    private static int ReportBug(Exception bug, string[] args)
    {
        string file = Path.Combine(Path.GetTempPath(), string.Create(CultureInfo.InvariantCulture, $"meltwise-fault-{DateTime.UtcNow:yyyyMMdd-HHmmss}.txt"));
        string where;
        try
        {
            File.WriteAllText(file, $"meltwise {string.Join(' ', args)}\n{bug}\n");
            where = $"The details are in {file}; they hold no readings beyond what the command line named.";
        }
        catch (Exception denied) when (denied is IOException or UnauthorizedAccessException)
        {
            where = "The details could not be written to the temporary folder.";
        }
        Console.Error.WriteLine("meltwise: a fault in the program stopped this command. The bench is intact: a change is stored whole or not at all. " + where);
        return ExitStatus.InternalFault;
    }

    private static RootCommand Root()
    {
        RootCommand root = new("Bench-book for judging whether two heats of the same grade are the same steel. Try `compare` on a table, or `start --demo` for the workbench with a demonstration.");
        foreach (Command command in CommandList.All()) root.Subcommands.Add(command);
        HelpWithExample.On(root);
        return root;
    }
}
