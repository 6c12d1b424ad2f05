using Meltwise.Casework.Recording;
using Meltwise.Storage;
using Meltwise.Web.Tests.Readings;
using UglyToad.PdfPig;
using Xunit;

namespace Meltwise.Web.Tests;

/// <summary>Files that a person takes from the workbench: papers for the bench, and a copy of the bench itself.</summary>
public sealed class TakenFilesTests
{
    [Fact]
    public async Task Bench_sheet_and_labels_name_every_coupon()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: SmallBench.Changes());
        string sheet = Text(await Take(workbench, "/own/enquiries/E-1/bench-sheet.pdf")), labels = Text(await Take(workbench, "/own/enquiries/E-1/labels.pdf"));
        foreach (string coupon in (string[])["N1/1", "S1/2", "N1/3", "S1/4", "N1/5", "S1/6"])
        {
            Assert.Contains(coupon, sheet, StringComparison.Ordinal);
            Assert.Contains(coupon, labels, StringComparison.Ordinal);
        }

        Assert.Contains("Pendulum", sheet, StringComparison.Ordinal);
        Assert.Contains("N1/5", Text(await Take(workbench, "/own/enquiries/E-1/cutting-sketch.pdf")), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_bench_sheet_of_a_treated_enquiry_holds_the_steps_of_its_loads_and_the_hardness_order()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        string sheet = Text(await Take(workbench, "/demo/enquiries/Q-09/bench-sheet.pdf")).Replace("\u00A0", " ", StringComparison.Ordinal);
        foreach (string said in (string[])["Load Q-09/1 and Q-09/2: punch", "Austenitize 1130 °C", "Order of hardness", "Furnace and hot load"])
            Assert.Contains(said.Replace(" ", "", StringComparison.Ordinal), sheet.Replace(" ", "", StringComparison.Ordinal), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_copy_of_the_bench_opens_whole()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: SmallBench.Changes());
        string copy = Path.Combine(workbench.Folder, "taken.meltwise");
        await File.WriteAllBytesAsync(copy, await Take(workbench, "/own/settings/copy.meltwise"), TestContext.Current.CancellationToken);
        using Storage.Bench bench = BenchFile.Open(copy);
        Assert.Equal(workbench.Own(b => b.Card.Coupons), bench.Card.Coupons);
        Assert.True(bench.Check().IsSound);
    }

    [Fact]
    public async Task A_copy_of_a_bench_with_pictures_holds_both_and_opens_whole()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(pictures: true);
        string zip = Path.Combine(workbench.Folder, "taken.zip"), folder = Path.Combine(workbench.Folder, "taken");
        await File.WriteAllBytesAsync(zip, await Take(workbench, "/demo/settings/copy.meltwise"), TestContext.Current.CancellationToken);
        await System.IO.Compression.ZipFile.ExtractToDirectoryAsync(zip, folder, TestContext.Current.CancellationToken);
        using Storage.Bench bench = BenchFile.Open(Directory.EnumerateFiles(folder, "*.meltwise").Single());
        Assert.Empty(bench.Check().Faults);
        Assert.Equal(18, bench.Pictures().Count);
    }

    private static async Task<byte[]> Take(RunningWorkbench workbench, string address)
    {
        using var client = new HttpClient { BaseAddress = workbench.Address };
        return await client.GetByteArrayAsync(new Uri(address, UriKind.Relative), TestContext.Current.CancellationToken);
    }

    private static string Text(byte[] pdf)
    {
        using PdfDocument document = PdfDocument.Open(pdf);
        return string.Join('\n', document.GetPages().Select(p => string.Join(' ', p.GetWords().Select(w => w.Text))));
    }
}
