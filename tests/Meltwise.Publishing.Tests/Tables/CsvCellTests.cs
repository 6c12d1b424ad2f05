using CsCheck;
using Meltwise.Publishing.Tables;
using Xunit;

namespace Meltwise.Publishing.Tests.Tables;

public sealed class CsvCellTests
{
    [Theory]
    [InlineData("=1+1", "'=1+1")]
    [InlineData("+cmd", "'+cmd")]
    [InlineData("@SUM(A1)", "'@SUM(A1)")]
    [InlineData("-1.5", "-1.5")]
    [InlineData("-x", "'-x")]
    [InlineData("a,b", "\"a,b\"")]
    [InlineData("say \"so\"", "\"say \"\"so\"\"\"")]
    public void A_cell_never_starts_a_formula(string text, string expected) => Assert.Equal(expected, CsvCell.Write(text));

    [Fact]
    public void What_is_written_is_read_back()
    {
        Gen.String[Gen.Char["=+-@'\",\r\n 1aé"], 0, 12].Sample(text =>
        {
            string written = CsvCell.Write(text);
            string cell = written.StartsWith('"') ? written[1..^1].Replace("\"\"", "\"", StringComparison.Ordinal) : written;
            Assert.Equal(text, CsvCell.Read(cell));
        });
    }
}
