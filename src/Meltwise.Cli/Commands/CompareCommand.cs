using System.CommandLine;
using Meltwise.Casework.Intake;
using Meltwise.Casework.Judging;
using Meltwise.Cli.Terminal;
using Meltwise.Domain;
using Meltwise.Storage;

namespace Meltwise.Cli.Commands;

/// <summary><c>compare</c>: the verdict, from a table alone or from an enquiry of a bench.</summary>
internal static class CompareCommand
{
    public static Command Create()
    {
        Argument<FileInfo?> file = new("FILE") { Description = "Table with one row a coupon (CSV, TSV, XLSX).", Arity = ArgumentArity.ZeroOrOne };
        Option<string?> enquiry = new("--enquiry") { Description = "Judge an enquiry of a bench instead of a table." };
        Option<string?> place = SharedOptions.Bench();
        Option<bool> json = SharedOptions.Json();
        Option<string[]> map = ColumnOptions.Map();
        RuleOptions rule = new();
        Command command = new("compare", "Judge two lots: the same within the margin, better, worse, or not settled.") { file, enquiry, place, map, json };
        foreach (Option option in rule.All) command.Options.Add(option);
        command.SetAction((parsed, cancel) =>
        {
            try
            {
                Verdict verdict = (parsed.GetValue(file), parsed.GetValue(enquiry)) switch
                {
                    ({ } table, null) => OfTable(table, rule.Read(parsed), ColumnOptions.Read(parsed.GetValue(map)), parsed.GetValue(json), cancel),
                    (null, { } name) => OfEnquiry(name, parsed.GetValue(place), cancel),
                    (null, null) => throw Fault.Usage("compare needs a table, or --enquiry with the name of an enquiry."),
                    _ => throw Fault.Usage("give either a table or --enquiry, not both."),
                };
                if (parsed.GetValue(json)) Console.Out.WriteLine(VerdictJson.Write(verdict));
                else new VerdictPage(verdict, new Paper()).Print();
                return Task.FromResult(verdict.Finding.Outcome == Outcome.NoVerdict ? ExitStatus.Refused : ExitStatus.Done);
            }
            catch (ComparisonFaultException fault)
            {
                throw Fault.Input(fault.Message);
            }
        });
        return command;
    }

    private static Verdict OfTable(FileInfo file, TypedRule typed, IReadOnlyList<ColumnMap> maps, bool json, CancellationToken cancel)
    {
        CouponTable lots = TableFile.Read(file, maps, json);
        CouponTable? history = typed.History is { } path ? TableFile.Read(path, maps, json) : null;
        return Comparison.Judge(new ComparisonInput { Lots = lots, History = history, Rule = typed.Rule, ReferenceHeats = typed.Reference, CandidateHeats = typed.Candidate }, cancel);
    }

    private static Verdict OfEnquiry(string name, string? place, CancellationToken cancel)
    {
        using Bench bench = BenchAccess.Open(place);
        return EnquiryAccess.Judge(bench, name, cancel);
    }
}
