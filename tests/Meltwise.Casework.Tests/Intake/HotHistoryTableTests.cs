using System.Text;
using Meltwise.Casework.Intake;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Evidence;
using Xunit;

namespace Meltwise.Casework.Tests.Intake;

/// <summary>Tables of hot histories: one row a stretch. Conversions are held against the text form that people type, whose figures are definitions (°F, K, minutes).</summary>
public sealed class HotHistoryTableTests
{
    private const string Heading = "heat,order,step,from [°C],to [°C],time [h],powder sieve [µm],atmosphere,cooling,said by\n";

    private static IntakePreview Read(string text, params ColumnMap[] maps) => IntakePreview.OfContent("hot.csv", Encoding.UTF8.GetBytes(text), maps);

    private static HotHistory Only(string text, params ColumnMap[] maps)
    {
        IntakePreview preview = Read(text, maps);
        Assert.True(preview.IsClean, string.Join("\n", preview.Faults));
        return Assert.Single(preview.HotHistories).History;
    }

    [Fact]
    public void The_table_of_the_guide_reads_clean()
    {
        IntakePreview preview = IntakePreview.OfFile(Path.Combine(Repository.Root, "docs", "guide", "hot-history.csv"));
        Assert.True(preview.IsClean, string.Join("\n", preview.Faults));
        Assert.Equal((5, 5, 0), (preview.DataRows, preview.GoodRows, preview.FaultyRows));
        HotHistory first = preview.HotHistories[0].History;
        Assert.Equal(("K17", 500, "nitrogen", "slow", "the maker (invented)"), (first.Heat, first.LargestPowderUm, first.Atmosphere, first.Cooling, first.Told));
        Assert.Equal([new("consolidation", 1150, 1150, 4), new("reheat", 1140, 950, 3), new("forging", 1100, 900, 0.5)], first.Steps);
        Assert.Null(preview.HotHistories[1].History.Cooling);
    }

    [Theory]
    [InlineData("heat;step;from [°F];to [°F];time [min]\nK17;consolidation;2100;;180\nK17;reheat;2084;1742;40\n", "consolidation 2100 °F 180 min; reheat 2084 to 1742 °F 40 min")]
    [InlineData("Cast\tOperation\tTemperature [K]\tDuration [hours]\nK17\tsoak\t1423.15\t1.5\n", "soak 1423.15 K 1.5 h")]
    [InlineData("heat;from [°C];time [h]\nK17;1150,5;40 min\nK17;2000 °F;2,5\n", "1150.5 °C 40 min; 2000 °F 2.5 h")]
    public void Units_of_heading_and_cell_give_what_the_typed_form_gives(string table, string typed)
    {
        (IReadOnlyList<HotStep> expected, string? fault) = HotHistoryText.Read(typed);
        Assert.Null(fault);
        HotHistory read = Only(table);
        Assert.Equal(expected.Select(s => s.Kind), read.Steps.Select(s => s.Kind));
        foreach ((HotStep e, HotStep s) in expected.Zip(read.Steps))
        {
            Assert.Equal(e.FromC, s.FromC, 1e-5);
            Assert.Equal(e.ToC, s.ToC, 1e-5);
            Assert.Equal(e.Hours, s.Hours, 1e-5);
        }
    }

    [Fact]
    public void An_order_sorts_the_stretches_and_a_row_without_a_stretch_tells_of_the_heat()
    {
        HotHistory read = Only(Heading + "K17,2,reheat,1100,900,1,,,,\nK17,1,consolidation,1150,,3,,,,\nK17,,,,,,250,argon,air,\n");
        Assert.Equal(["consolidation", "reheat"], read.Steps.Select(s => s.Kind));
        Assert.Equal((250, "argon", "air"), (read.LargestPowderUm, read.Atmosphere, read.Cooling));
        Assert.Empty(Only(Heading + "K17,,,,,,250,argon,,\n").Steps);
    }

    [Fact]
    public void A_column_is_named_by_hand()
    {
        HotHistory read = Only("Schmelze;Vorgang;Temperatur;Dauer\nK17;Glühen;860;4\n", new("Schmelze", "heat"), new("Vorgang", "step"), new("Temperatur", "from [°C]"), new("Dauer", "time [h]"));
        Assert.Equal([new("Glühen", 860, 860, 4)], read.Steps);
    }

    [Theory]
    [InlineData("K17,1,forging,1500,,1,,,,", "from [°C]", "1500, that is 1500 °C", "300 to 1400 °C")]
    [InlineData("K17,1,forging,2100,,1,,,,", "from [°C]", "2100", "perhaps the unit in the heading is another")]
    [InlineData("K17,1,forging,hot,,1,,,,", "from [°C]", "hot", "a temperature in °C")]
    [InlineData("K17,1,forging,1100,20,1,,,,", "to [°C]", "20", "300 to 1400 °C")]
    [InlineData("K17,1,forging,1100,,,,,,", "time [h]", "an empty cell", "how long")]
    [InlineData("K17,1,forging,,900,1,,,,", "from [°C]", "an empty cell", "start of the stretch")]
    [InlineData("K17,1,forging,1100,,0,,,,", "time [h]", "0", "more than 0")]
    [InlineData("K17,1,forging,1100,,5 days,,,,", "time [h]", "5 days", "h or min")]
    [InlineData("K17,1,forging,1100,,>3,,,,", "time [h]", ">3", "a time in h")]
    [InlineData("K17,first,forging,1100,,1,,,,", "order", "first", "a whole number")]
    [InlineData("K17,1,forging,1100,,1,5000,,,", "powder sieve [µm]", "5000", "10 to 1000 µm")]
    [InlineData("K17,1,forging,1100,,1,,,oil,", "cooling", "oil", "slow, air or fast")]
    [InlineData(",1,forging,1100,,1,,,,", "heat", "an empty cell", "the name of the heat")]
    public void A_fault_is_told_with_row_column_found_and_expected(string row, string column, string found, string expected)
    {
        IntakePreview preview = Read(Heading + row + "\n");
        IntakeFault fault = Assert.Single(preview.Faults);
        Assert.Equal(("hot.csv", 2, column), (fault.File, fault.Row, fault.Column));
        Assert.Contains(found, fault.Found, StringComparison.Ordinal);
        Assert.Contains(expected, fault.Expected, StringComparison.Ordinal);
        Assert.Empty(preview.HotHistories);
    }

    [Theory]
    [InlineData("heat,step,from [°C],time\nK17,soak,1100,3\n", "time", "no unit in the heading", "h or min")]
    [InlineData("heat,step,from [°C],time [days]\nK17,soak,1100,3\n", "time [days]", "the unit days", "h or min")]
    [InlineData("heat,step,from [°R],time [h]\nK17,soak,1100,3\n", "from [°R]", "the unit °R", "°C, °F or K")]
    [InlineData("heat,step,from [°C],temperature [°C],time [h]\nK17,soak,1100,1100,3\n", "temperature [°C]", "a second column taken for from", "one such column")]
    public void A_heading_without_its_unit_is_a_fault(string table, string column, string found, string expected)
    {
        IntakeFault fault = Assert.Single(Read(table).Faults);
        Assert.Equal((1, column, found), (fault.Row, fault.Column, fault.Found));
        Assert.Contains(expected, fault.Expected, StringComparison.Ordinal);
    }

    [Fact]
    public void A_heat_with_a_faulty_row_is_left_out_whole_and_the_others_stand()
    {
        IntakePreview preview = Read(Heading + "K17,1,consolidation,1150,,3,250,nitrogen,,\nK17,2,forging,11000,,1,,,,\nM03,1,soak,1100,,2,,,,\nK17,3,reheat,1000,,1,500,,,\n");
        Assert.Equal(["M03"], preview.HotHistories.Select(h => h.History.Heat));
        Assert.Equal((4, 1, 3), (preview.DataRows, preview.GoodRows, preview.FaultyRows));
        Assert.Equal([(3, "from [°C]"), (5, "powder sieve [µm]")], preview.Faults.Select(f => (f.Row!.Value, f.Column!)));
        Assert.Contains(preview.Notes, n => n.Text.Contains("heat K17 has a fault: all its rows", StringComparison.Ordinal));
    }

    [Fact]
    public void A_temperature_without_unit_is_taken_as_Celsius_and_said() =>
        Assert.Contains(Read("heat,step,temperature,time [h]\nK17,soak,1100,3\n").Notes, n => n.Text == "temperature is taken as °C.");

    [Fact]
    public void A_coupon_table_with_temperature_and_time_stays_a_coupon_table() =>
        Assert.Single(Read("heat,coupon,temperature,time,impact energy [J]\nK17,1,23,5,41.2\n").Coupons);
}
