using System.CommandLine;
using Meltwise.Casework.Explaining;
using Meltwise.Cli.Terminal;
using Meltwise.Domain;
using Meltwise.Metallurgy.Equilibrium;
using Meltwise.Metallurgy.Explanation;
using Meltwise.Metallurgy.Sources;
using Meltwise.Storage;

namespace Meltwise.Cli.Commands;

/// <summary><c>explain</c>: how much chemistry explains of the hardness difference of two heats.</summary>
internal static class ExplainCommand
{
    public static Command Create()
    {
        ExplainOptions options = new();
        Command command = new("explain", "How much chemistry explains of the hardness difference of two heats; and of each, its oxides, the flaws they make, and the growth of its carbides.");
        foreach (Option option in options.All) command.Options.Add(option);
        command.SetAction((parsed, cancel) =>
        {
            try
            {
                ExplanationDocument document = options.EnquiryName(parsed) is { } name ? OfEnquiry(name, options, parsed, cancel) : OfSteels(options, parsed, cancel);
                if (options.IsJson(parsed)) Console.Out.WriteLine(ExplanationJson.Write(document));
                else ExplanationPage.Write(new Paper(), document);
                return Task.FromResult(ExitStatus.Done);
            }
            catch (OutsideModelRangeException outside)
            {
                throw Fault.Refused(outside.Words);
            }
            catch (Exception refused) when (refused is ExplanationRefusedException or EquilibriumRefusedException or ChainRefusedException)
            {
                throw Fault.Refused(refused.Message);
            }
        });
        return command;
    }

    private static ExplanationDocument OfEnquiry(string name, ExplainOptions options, ParseResult parsed, CancellationToken cancel)
    {
        ExplanationOptions run = options.Run(parsed);
        using Bench bench = BenchAccess.Open(options.Place(parsed));
        Enquiry enquiry = bench.FindEnquiry(name) ?? throw Fault.Input($"There is no enquiry {name} on {bench.Card.Place}. It holds {string.Join(", ", bench.Enquiries().Select(e => e.Name).DefaultIfEmpty("none"))}.");
        ExplanationDocument document = ProgressLine.Run("drawing both heats", report =>
            EnquiryExplanation.Explain(bench, enquiry, run.Draws, run.Seed, run.Soak, new Progress<double>(report), cancel));
        bench.Commit(Environment.UserName, null, [EnquiryExplanation.Store(enquiry, document, DateTime.UtcNow)]);
        return document;
    }

    private static ExplanationDocument OfSteels(ExplainOptions options, ParseResult parsed, CancellationToken cancel)
    {
        (HeatChemistry reference, HeatBackground ofReference) = options.Reference(parsed);
        (HeatChemistry candidate, HeatBackground ofCandidate) = options.Candidate(parsed);
        HardeningTreatment treatment = options.Treatment(parsed);
        ExplanationOptions run = options.Run(parsed);
        ExplanationDocument document = ExplanationDocument.Of(ProgressLine.Run("drawing both steels", report =>
            Explainer.Explain(reference, candidate, treatment, options.Observed(parsed), run, new Progress<double>(report), cancel)));
        return document with { Outlooks = [HeatOutlookDocument.Of(reference, ofReference), HeatOutlookDocument.Of(candidate, ofCandidate)] };
    }
}
