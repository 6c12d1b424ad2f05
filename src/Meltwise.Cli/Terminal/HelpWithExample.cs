using System.CommandLine;
using System.CommandLine.Help;
using System.CommandLine.Invocation;

namespace Meltwise.Cli.Terminal;

/// <summary>The usual help of a command, and under it a line that can be copied and run.</summary>
internal sealed class HelpWithExample(HelpAction usual) : SynchronousCommandLineAction
{
    private static readonly Dictionary<string, string> s_examples = new(StringComparer.Ordinal)
    {
        ["demo"] = "demo",
        ["start"] = "start --demo",
        ["intake"] = "intake docs/guide/coupons.csv --dry-run",
        ["trace"] = "trace run7.csv --load 26-07/a --set 1130 --step austenitize",
        ["compare"] = "compare docs/guide/coupons.csv --reference K17 --candidate M03 --margin 15%",
        ["plan"] = "plan --margin 0.80..1.25 --cv 0.12 --coupons 3..12",
        ["study"] = "study --by treatment --control punch --where route=powder",
        ["explain"] = "explain --reference-steel \"C 1.50, Cr 12.0, Mo 0.8, V 0.9\" --candidate-steel \"C 1.55, Cr 11.7, Mo 0.8, V 0.9\" --at 1020C",
        ["equilibrium"] = "equilibrium --steel \"C 1.5, Cr 12, Mo 0.8, V 0.9\" --at 1020C",
        ["measure"] = "measure field1.png field2.png --scale 0.045",
        ["report"] = "report --enquiry Q-09 --out report-Q-09",
        ["pack"] = "pack --enquiry Q-09 --anonymous",
        ["unpack"] = "unpack pack-Q-09.zip",
        ["check"] = "check",
        ["backup"] = "backup copy.meltwise",
    };

    /// <summary>Help is given whatever else the line lacks.</summary>
    public override bool ClearsParseErrors => true;

    /// <summary>Puts it in the place of the usual help of a command and of those under it.</summary>
    public static void On(RootCommand root)
    {
        foreach (HelpOption help in root.Options.OfType<HelpOption>())
            if (help.Action is HelpAction usual) help.Action = new HelpWithExample(usual);
    }

    /// <inheritdoc/>
    public override int Invoke(ParseResult parseResult)
    {
        int status = usual.Invoke(parseResult);
        if (s_examples.TryGetValue(parseResult.CommandResult.Command.Name, out string? example))
        {
            parseResult.InvocationConfiguration.Output.WriteLine("Example:");
            parseResult.InvocationConfiguration.Output.WriteLine($"  {Invocation.Spoken} {example}");
            parseResult.InvocationConfiguration.Output.WriteLine();
        }
        return status;
    }
}
