using CsCheck;
using Meltwise.Publishing.Figures;
using Xunit;

namespace Meltwise.Publishing.Tests.Figures;

public sealed class SwarmTests
{
    [Fact]
    public void No_mark_covers_another()
    {
        Gen.Double[0, 300].List[0, 40].Sample(values =>
        {
            IReadOnlyList<double> offsets = Swarm.Offsets(values, 10);
            for (int i = 0; i < values.Count; i++)
            {
                for (int j = 0; j < i; j++)
                    Assert.True(Math.Sqrt(Math.Pow(values[i] - values[j], 2) + Math.Pow(offsets[i] - offsets[j], 2)) > 9.89);
            }
        }, iter: 500);
    }
}
