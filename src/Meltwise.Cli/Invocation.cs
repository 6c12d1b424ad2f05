using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;
using System.Text;
using Meltwise.Casework.Recording;
using Meltwise.Cli.Commands;

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
        if (parsed.Errors.Count > 0)
        {
            foreach (ParseError error in parsed.Errors) Console.Error.WriteLine("meltwise: " + error.Message);
            Console.Error.WriteLine($"Try: meltwise {string.Join(' ', args.Take(1).Where(a => root.Subcommands.Any(c => c.Name == a)).Append("--help"))}");
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
        RootCommand root = new("Bench-book for judging whether two heats of the same grade are the same steel. Every command takes --help.");
        foreach (Command command in CommandList.All()) root.Subcommands.Add(command);
        return root;
    }
}
