using System.Globalization;
using SpreadCheetah;

namespace Meltwise.Publishing.Tables;

/// <summary>Data tables as a workbook, one sheet a table. Text is written as text and never as a formula; a figure that stands for itself is a number.</summary>
public static class XlsxTable
{
    /// <summary>The file.</summary>
    public static async Task<byte[]> WriteAsync(IReadOnlyList<DataTable> tables, CancellationToken cancel = default)
    {
        using MemoryStream file = new();
        await using (Spreadsheet sheet = await Spreadsheet.CreateNewAsync(file, cancellationToken: cancel).ConfigureAwait(false))
        {
            foreach (DataTable table in tables)
            {
                await sheet.StartWorksheetAsync(table.Name, token: cancel).ConfigureAwait(false);
                await sheet.AddRowAsync([.. table.Columns.Select(c => new Cell(c.Name))], cancel).ConfigureAwait(false);
                foreach (IReadOnlyList<string?> row in table.Rows)
                    await sheet.AddRowAsync([.. row.Select((c, i) => Of(c, table.Columns[i].Kind))], cancel).ConfigureAwait(false);
            }
            await sheet.FinishAsync(cancel).ConfigureAwait(false);
        }
        return file.ToArray();
    }

    private static Cell Of(string? cell, CellKind kind) =>
        kind != CellKind.Text && double.TryParse(cell, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) && double.IsFinite(number) ? new Cell(number) : new Cell(cell);
}
