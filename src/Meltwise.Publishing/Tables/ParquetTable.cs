using System.Globalization;
using Parquet;
using Parquet.Schema;

namespace Meltwise.Publishing.Tables;

/// <summary>Data tables as Parquet: numbers as doubles, text as text. A reading becomes two columns, the figure and its bound (<c>above</c>, <c>below</c> or empty).</summary>
public static class ParquetTable
{
    /// <summary>The file.</summary>
    public static async Task<byte[]> WriteAsync(DataTable table, CancellationToken cancel = default)
    {
        List<(DataField Field, int Column, bool Bound)> fields = [];
        for (int i = 0; i < table.Columns.Count; i++)
        {
            DataColumn column = table.Columns[i];
            fields.Add((column.Kind == CellKind.Text ? new DataField<string>(column.Name, nullable: true) : new DataField<double?>(column.Name), i, false));
            if (column.Kind == CellKind.Reading)
                fields.Add((new DataField<string>(column.Name + " bound", nullable: true), i, true));
        }
        using MemoryStream file = new();
        ParquetSchema schema = new(fields.Select(f => f.Field));
        await using (ParquetWriter writer = await ParquetWriter.CreateAsync(schema, file, cancellationToken: cancel).ConfigureAwait(false))
        {
            using ParquetRowGroupWriter group = writer.CreateRowGroup();
            foreach ((DataField field, int at, bool bound) in fields)
            {
                if (bound || table.Columns[at].Kind == CellKind.Text)
                {
                    string?[] texts = [.. table.Rows.Select(r => bound ? Bound(r[at]) : r[at])];
                    await group.WriteAsync(field, (IReadOnlyCollection<string?>)texts).ConfigureAwait(false);
                    continue;
                }
                double?[] numbers = [.. table.Rows.Select(r => Number(r[at]))];
                await group.WriteAsync<double>(field, numbers.AsMemory(), cancellationToken: cancel).ConfigureAwait(false);
            }
        }
        return file.ToArray();
    }

    private static string? Bound(string? cell) => cell?[0] switch { '>' => "above", '<' => "below", _ => null };

    private static double? Number(string? cell) =>
        cell is not null && double.TryParse(cell.TrimStart('<', '>', ' ').Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out double value) ? value : null;
}
