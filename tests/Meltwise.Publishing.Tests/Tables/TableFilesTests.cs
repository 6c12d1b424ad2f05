using CsCheck;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Spreadsheet;
using DocumentFormat.OpenXml.Validation;
using Meltwise.Publishing.Tables;
using Parquet;
using Xunit;

namespace Meltwise.Publishing.Tests.Tables;

public sealed class TableFilesTests
{
    private static readonly DataTable s_table = new("coupons",
        [new("coupon", CellKind.Text, "name"), new("impact energy [J]", CellKind.Reading, "energy", "J"), new("order", CellKind.Number, "order")],
        [["=HYPERLINK(\"http://x\")", ">120", "1"], ["+1", "61.0", null], ["µ, \"quoted\"\nline", null, "3"], [null, "<0.5", "4"]]);

    [Fact]
    public void Csv_is_read_back_cell_by_cell()
    {
        IReadOnlyList<IReadOnlyList<string?>> rows = CsvTable.Read(CsvTable.Write(s_table));
        Assert.Equal(s_table.Columns.Select(c => c.Name), rows[0]);
        for (int i = 0; i < s_table.Rows.Count; i++)
            Assert.Equal(s_table.Rows[i], rows[i + 1]);
    }

    [Fact]
    public void Any_text_survives_csv()
    {
        Gen<string?> cell = Gen.String[Gen.Char["=+-@'\",\r\n 1a;µ\t"], 0, 10].Select(s => s.Length == 0 ? null : s);
        cell.Array[3].List[0, 8].Sample(rows =>
        {
            DataTable table = new("t", [new("a", CellKind.Text, "a"), new("b", CellKind.Text, "b"), new("c", CellKind.Text, "c")], rows);
            IReadOnlyList<IReadOnlyList<string?>> read = CsvTable.Read(CsvTable.Write(table));
            Assert.Equal(rows.Count + 1, read.Count);
            for (int i = 0; i < rows.Count; i++)
                Assert.Equal(rows[i], read[i + 1]);
        });
    }

    [Fact]
    public async Task A_workbook_is_valid_and_holds_no_formula()
    {
        using MemoryStream file = new(await XlsxTable.WriteAsync([s_table], TestContext.Current.CancellationToken));
        using SpreadsheetDocument book = SpreadsheetDocument.Open(file, false);
        Assert.Empty(new OpenXmlValidator().Validate(book, TestContext.Current.CancellationToken));
        Worksheet sheet = book.WorkbookPart!.WorksheetParts.Single().Worksheet!;
        Assert.Empty(sheet.Descendants<CellFormula>());
        Assert.Contains("=HYPERLINK", sheet.InnerText, StringComparison.Ordinal);
        Cell number = sheet.Descendants<Row>().ElementAt(2).Elements<Cell>().ElementAt(1);
        Assert.Equal("61", number.InnerText);
    }

    [Fact]
    public async Task Parquet_holds_figures_as_numbers_and_bounds_beside_them()
    {
        using MemoryStream file = new(await ParquetTable.WriteAsync(s_table, TestContext.Current.CancellationToken));
        await using ParquetReader reader = await ParquetReader.CreateAsync(file, cancellationToken: TestContext.Current.CancellationToken);
        Parquet.Schema.DataField[] fields = reader.Schema.GetDataFields();
        Assert.Equal(["coupon", "impact energy [J]", "impact energy [J] bound", "order"], fields.Select(f => f.Name));
        using ParquetRowGroupReader group = reader.OpenRowGroupReader(0);
        double?[] energy = new double?[4];
        string?[] bound = new string?[4];
        await group.ReadAsync<double>(fields[1], energy.AsMemory(), null, TestContext.Current.CancellationToken);
        await group.ReadAsync(fields[2], bound.AsMemory(), null, TestContext.Current.CancellationToken);
        Assert.Equal([120, 61, null, 0.5], energy);
        Assert.Equal(["above", null, null, "below"], bound);
    }
}
