using System.Text;
using Meltwise.Casework.Intake;
using Xunit;

namespace Meltwise.Casework.Tests.Intake;

/// <summary>Files of furnace recorders in the forms they come in. Figures are invented; conversions are definitions.</summary>
public sealed class FurnaceTraceFileTests
{
    private static (FurnaceReadings? Readings, IReadOnlyList<IntakeFault> Faults) Read(string text, string? channel = null) => FurnaceTraceFile.Read("trace.csv", Encoding.UTF8.GetBytes(text), channel);

    private static FurnaceReadings Good(string text, string? channel = null)
    {
        (FurnaceReadings? readings, IReadOnlyList<IntakeFault> faults) = Read(text, channel);
        Assert.Empty(faults);
        return readings!;
    }

    [Theory]
    [InlineData("time [min],load [°C]\n0,20\n0.5,25.5\n1,31\n")]
    [InlineData("time [s];load [°F]\n0;68\n30;77,9\n60;87,8\n")]
    [InlineData("Time (h)\tLoad (K)\n0\t293.15\n0.00833333333\t298.65\n0.0166666667\t304.15\n")]
    [InlineData("time [hh:mm:ss],load °C\n00:00:00,20\n00:00:30,25.5\n00:01:00,31\n")]
    [InlineData("Recorder 7, channel list\n\nDate time,Load [°C],Remark\n2026-03-31 07:59:30,20,\n2026-03-31 08:00:00,25.5,door\n2026-03-31 08:00:30,31,\n")]
    [InlineData("date;time;load [°C]\n31.03.2026;23:59:30;20\n01.04.2026;00:00:00;25,5\n01.04.2026;00:00:30;31\n")]
    [InlineData("time,load [°C]\n23:59:30,20\n00:00:00,25.5\n00:00:30,31\n")]
    [InlineData("time,load [°C]\n1899-12-30T23:59:30,20\n1899-12-30,25.5\n1899-12-30T00:00:30,31\n")]
    [InlineData("date,time,load [°C]\n2026-03-31,1899-12-30T23:59:30,20\n2026-04-01,1899-12-30,25.5\n2026-04-01,1899-12-30T00:00:30,31\n")]
    [InlineData("date time,load [°C]\n2026-03-31T23:59:30,20\n2026-04-01,25.5\n2026-04-01T00:00:30,31\n")]
    [InlineData("minutes,furnace [°C],load 1 [°C]\n0,900,20\n0.5,900,25.5\n1,900,31\n")]
    public void Every_form_of_time_and_unit_gives_the_same_trace(string text)
    {
        FurnaceReadings readings = Good(text);
        Assert.Equal([0, 0.5, 1], readings.Minutes.Select(m => Math.Round(m, 4)));
        Assert.Equal([20, 25.5, 31], readings.TemperatureC.Select(c => Math.Round(c, 3)));
    }

    [Fact]
    public void The_start_is_kept_where_the_file_tells_the_day()
    {
        Assert.Equal(new DateTime(2026, 3, 31, 7, 59, 30), Good("Date time,Load [°C]\n2026-03-31T07:59:30,20\n2026-03-31T08:00:00,25\n").StartedAt);
        Assert.Null(Good("time,load [°C]\n07:59:30,20\n08:00:00,25\n").StartedAt);
    }

    [Fact]
    public void One_of_several_thermocouples_is_named_or_asked_for()
    {
        const string two = "time [min],TC 1 [°C],TC 2 [°C]\n0,20,30\n1,21,31\n";
        Assert.Equal([30, 31], Good(two, "TC 2 [°C]").TemperatureC);
        Assert.Equal([30, 31], Good(two, "tc 2").TemperatureC);
        IntakeFault fault = Assert.Single(Read(two).Faults);
        Assert.Equal("2 columns of temperature: TC 1 [°C], TC 2 [°C]", fault.Found);
        Assert.Contains("no column of temperature headed TC 3", Assert.Single(Read(two, "TC 3").Faults).Found, StringComparison.Ordinal);
    }

    [Fact]
    public void Empty_and_repeated_rows_are_passed_over_and_told()
    {
        FurnaceReadings readings = Good("time [min],load [°C]\n0,20\n1,\n2,22\n2,23\n3,24\n");
        Assert.Equal([20, 22, 24], readings.TemperatureC);
        Assert.Equal(["1 row without a temperature passed over.", "1 row at the time of the row before passed over."], readings.Notes);
    }

    [Theory]
    [InlineData("time [min],load [°C]\n0,20\n1,hot\n2,22\n", 3, "load [°C]", "hot", "a temperature in °C")]
    [InlineData("time [min],load [°C]\n0,20\n2,21\n1,22\n", 4, "time [min]", "1", "a time after")]
    [InlineData("time [min],load [°C]\n0,20\nsoon,21\n2,22\n", 3, "time [min]", "soon", "a time in min")]
    [InlineData("time,load [°C]\n7:00,20\n7.5,21\n7:02,22\n", 3, "time", "7.5", "the unit in the heading")]
    [InlineData("time [min],load [°C]\n0,20\n1,2500\n2,22\n", 3, "load [°C]", "2500", "a temperature above absolute zero")]
    [InlineData("time [min],load [°C]\n0,20\n", null, "load [°C]", "1 reading", "two readings")]
    [InlineData("time [min],load\n0,20\n1,21\n", null, null, "no row that heads a time and a temperature", "°C, °F or K")]
    [InlineData("a;b\n1;2\n", null, null, "no row that heads", "a column headed time")]
    public void A_fault_is_told_with_its_place(string text, int? row, string? column, string found, string expected)
    {
        (FurnaceReadings? readings, IReadOnlyList<IntakeFault> faults) = Read(text);
        Assert.Null(readings);
        IntakeFault fault = Assert.Single(faults);
        Assert.Equal(("trace.csv", row, column), (fault.File, fault.Row, fault.Column));
        Assert.Contains(found, fault.Found, StringComparison.Ordinal);
        Assert.Contains(expected, fault.Expected, StringComparison.Ordinal);
    }
}
