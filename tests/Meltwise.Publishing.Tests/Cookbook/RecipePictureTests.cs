using System.Globalization;
using Meltwise.Evidence;
using Meltwise.Publishing.Drawing;
using Meltwise.Publishing.Figures;
using Xunit;

namespace Meltwise.Publishing.Tests.Cookbook;

/// <summary>Each recipe's table under cookbook/ has its picture beside it; a stale picture fails.</summary>
public sealed class RecipePictureTests
{
    private const string Write = "MELTWISE_WRITE_RECIPES";
    private static readonly LineRole[] s_lines = [LineRole.Heavy, LineRole.Dashed, LineRole.Dotted, LineRole.Trend];

    [Fact]
    public void Carbon_in_solution() => Verify("carbon-in-solution", table => new()
    {
        Title = "Carbon in solution rises with hardening temperature until the carbides are gone",
        Description = "Carbon in the austenite at equilibrium against temperature for D2, A2, M2 and 440C.",
        CaptionLead = "Calculated at equilibrium,",
        Caption = "four standard grades at the middle of their ranges; ±0.05 wt% on each line, differences firmer.",
        Panels = [Panel(table, "carbon in the austenite, wt%", AxisScale.Linear, 0, 1.1, "°C", SecondUnit.Fahrenheit)],
        Data = new(table.Heading, table.Cells),
    });

    [Fact]
    public void Coarsening_of_two_carbides() => Verify("coarsening-of-two-carbides", table => new()
    {
        Title = "MC stays finer than M7C3 in one steel at 1150 °C",
        Description = "Diameter of M7C3 and MC against time at 1150 °C, both from 0.1 micrometre.",
        CaptionLead = "Calculated,",
        Caption = "powder steel 2.4C-13.5Cr-9V-1Mo, law of Lifshitz, Slyozov and Wagner with a multiplier of 3; sizes carry a factor, the ratio does not.",
        Panels = [Panel(table.Without("ratio"), "diameter, µm", AxisScale.Logarithmic, 0.1, 2, "h", null)],
        Data = new(table.Heading, table.Cells),
    });

    [Fact]
    public void How_many_coupons_and_heats() => Verify("how-many-coupons-and-heats", table => new()
    {
        Title = "More heats beat more coupons when the sources are asked about",
        Description = "Chance of showing agreement against coupons a heat, for one, two, three and five heats a side.",
        CaptionLead = "Simulated with the rule itself,",
        Caption = "margin 0.80 to 1.25, no true difference, scatter 12 % within a heat and 6 % among heats. One heat answers for these lots, several for the sources.",
        Panels = [Panel(table, "chance of agreement", AxisScale.Linear, 0, 1.02, "coupons", null)],
        Data = new(table.Heading, table.Cells),
    });

    private static Panel Panel(RecipeTable table, string title, AxisScale scale, double low, double high, string unit, SecondUnit? second)
    {
        List<PanelItem> items = [];
        double[] x = table.Column(0);
        for (int c = 1; c < table.Heading.Count; c++)
        {
            double[] y = table.Column(c);
            string name = table.Heading[c].Split(' ')[0];
            items.Add(new PanelItem.Line([.. x.Zip(y, (a, b) => new Place(a, b))], s_lines[c - 1], name));
            int at = x.Length / 3;
            items.Add(new PanelItem.NamedPlace(x[at], y[at], [new(name, TextRole.Strong)]));
        }
        return new()
        {
            Height = 320,
            X = new() { Min = x[0], Max = x[^1], Scale = unit == "h" ? AxisScale.Logarithmic : AxisScale.Linear, Grid = false, Unit = unit, Second = second },
            Y = new() { Min = low, Max = high, Scale = scale, Title = title },
            Items = items,
        };
    }

    private static void Verify(string name, Func<RecipeTable, Figure> figure)
    {
        string folder = Path.Combine(Repository.Root, "cookbook"), file = Path.Combine(folder, name + ".svg");
        string picture = FigureSvg.Write(figure(RecipeTable.Read(Path.Combine(folder, name + ".csv"))), FigureSvgOptions.AsFile).ReplaceLineEndings("\n");
        if (Environment.GetEnvironmentVariable(Write) == "1")
        {
            File.WriteAllText(file, picture);
            Assert.Fail($"The picture {name} was drawn. Look at it, then run without {Write}.");
        }
        Assert.True(File.Exists(file) && File.ReadAllText(file).ReplaceLineEndings("\n") == picture,
            $"cookbook/{name}.svg is not what its table gives now. If the change is meant, run this test with {Write}=1 and look at it.");
    }

    private sealed record RecipeTable(IReadOnlyList<string> Heading, IReadOnlyList<IReadOnlyList<string>> Cells)
    {
        public static RecipeTable Read(string file)
        {
            string[][] rows = [.. File.ReadAllLines(file).Select(l => l.Split(','))];
            return new(rows[0], rows[1..]);
        }

        public double[] Column(int c) => [.. Cells.Select(r => double.Parse(r[c], CultureInfo.InvariantCulture))];

        public RecipeTable Without(string column)
        {
            int skip = Heading.ToList().IndexOf(column);
            return new([.. Heading.Where((_, i) => i != skip)], [.. Cells.Select(r => (IReadOnlyList<string>)[.. r.Where((_, i) => i != skip)])]);
        }
    }
}
