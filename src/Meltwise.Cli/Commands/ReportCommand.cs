using System.CommandLine;
using System.Globalization;
using Meltwise.Casework.Judging;
using Meltwise.Casework.Recording;
using Meltwise.Casework.Studying;
using Meltwise.Cli.Terminal;
using Meltwise.Domain;
using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Figures;
using Meltwise.Publishing.Report;
using Meltwise.Storage;

namespace Meltwise.Cli.Commands;

/// <summary><c>report</c>: the report of an enquiry as HTML, PDF and figures.</summary>
internal static class ReportCommand
{
    public static Command Create()
    {
        Option<string> enquiry = new("--enquiry") { Description = "Enquiry of the bench.", Required = true };
        Option<DirectoryInfo?> output = new("--out", "-o") { Description = "Folder to write into (default: report-NAME here)." };
        Option<bool> anonymous = new("--anonymous") { Description = "Hide the names of sources, heats and client." };
        Option<string?> study = StudyOptions.OfReport();
        Option<string?> place = SharedOptions.Bench();
        Option<bool> json = SharedOptions.Json();
        Command command = new("report", "Write the report of an enquiry: HTML, PDF, and its figures as SVG and PNG.") { enquiry, output, anonymous, study, place, json };
        command.SetAction((parsed, cancel) =>
        {
            using Bench bench = BenchAccess.Open(parsed.GetValue(place));
            string name = parsed.GetValue(enquiry)!;
            bool hide = parsed.GetValue(anonymous);
            try
            {
                if (parsed.GetValue(study) is { } asked) KeepStudy(bench, name, asked);
                ReportDocument document = ReportBuilder.Build(Gather(bench, name, cancel), hide);
                string folder = (parsed.GetValue(output) ?? new DirectoryInfo(hide ? "report-anonymous" : "report-" + FileName(name))).FullName;
                IReadOnlyList<string> files = Write(document, folder, hide ? "" : "-" + FileName(name));
                if (parsed.GetValue(json)) JsonOutput.Write(new { enquiry = name, anonymous = hide, files });
                else Describe(new Paper(), name, files);
                return Task.FromResult(ExitStatus.Done);
            }
            catch (Exception fault) when (fault is ReportFaultException or ComparisonFaultException or StudyFaultException)
            {
                throw Fault.Input(fault.Message);
            }
            catch (Exception full) when (full is IOException or UnauthorizedAccessException)
            {
                throw Fault.Input($"The report could not be written: {full.Message} The bench is as it was.");
            }
        });
        return command;
    }

    /// <summary>What the report is built from; judges first when no verdict is stored.</summary>
    public static ReportInput Gather(Bench bench, string name, CancellationToken cancel)
    {
        Verdict verdict = EnquiryJudgement.Stored(bench, EnquiryAccess.Find(bench, name).Name) ?? EnquiryAccess.Judge(bench, name, cancel);
        return ReportInput.FromBench(bench, EnquiryAccess.Find(bench, name), verdict, DateTime.UtcNow);
    }

    private static void KeepStudy(Bench bench, string name, string asked)
    {
        Enquiry enquiry = EnquiryAccess.Find(bench, name);
        BenchChange change = string.Equals(asked.Trim(), "none", StringComparison.OrdinalIgnoreCase)
            ? EnquiryStudy.Drop(enquiry, DateTime.UtcNow)
            : EnquiryStudy.Keep(enquiry, EnquiryStudy.Compute(bench, StudyOptions.Read(asked, enquiry.Rule?.Property ?? "impact energy"), DateTime.UtcNow));
        bench.Commit(Environment.UserName, null, [change]);
    }

    private static IReadOnlyList<string> Write(ReportDocument document, string folder, string stem)
    {
        Directory.CreateDirectory(folder);
        List<string> files = [];
        Keep("report" + stem + ".html", System.Text.Encoding.UTF8.GetBytes(ReportHtml.Write(document)));
        Keep("report" + stem + ".pdf", ReportPdf.Write(document));
        foreach ((int i, Figure figure) in document.Blocks.OfType<Block.Drawn>().Select(d => d.Figure).Index())
        {
            Keep(string.Create(CultureInfo.InvariantCulture, $"figure-{i + 1}.svg"), System.Text.Encoding.UTF8.GetBytes(FigureSvg.Write(figure, FigureSvgOptions.AsFile)));
            Keep(string.Create(CultureInfo.InvariantCulture, $"figure-{i + 1}.png"), FigurePng.Write(figure));
        }
        return files;

        void Keep(string file, byte[] content)
        {
            string path = Path.Combine(folder, file);
            File.WriteAllBytes(path, content);
            files.Add(path);
        }
    }

    private static string FileName(string name) => string.Concat(name.Select(c => char.IsLetterOrDigit(c) || c is '-' or '_' ? c : '-'));

    private static void Describe(Paper paper, string name, IReadOnlyList<string> files)
    {
        paper.Title($"Report of {name}");
        foreach (string file in files.Where(f => !IsFigure(f))) paper.Line(file);
        int figures = files.Count(f => IsFigure(f) && f.EndsWith(".svg", StringComparison.Ordinal));
        if (figures > 0) paper.Text(string.Create(CultureInfo.InvariantCulture, $"Beside them {figures} {(figures == 1 ? "figure" : "figures")}, each as SVG and PNG."));

        static bool IsFigure(string file) => Path.GetFileName(file).StartsWith("figure-", StringComparison.Ordinal);
    }
}
