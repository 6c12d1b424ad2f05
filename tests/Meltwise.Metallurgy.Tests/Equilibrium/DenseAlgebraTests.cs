using MathNet.Numerics.LinearAlgebra;
using Meltwise.Metallurgy.Equilibrium;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Equilibrium;

// Oracle: Math.NET Numerics, a general-purpose library. Well-conditioned matrices of order 12; 1e-12 is some hundred roundings.
public sealed class DenseAlgebraTests
{
    private const int Order = 12;

    private static Matrix<double> Random(int seed) => Matrix<double>.Build.Random(Order, Order, seed) + 3 * Matrix<double>.Build.DenseIdentity(Order);

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    public void Gaussian_elimination_agrees_with_a_library(int seed)
    {
        Matrix<double> a = Random(seed);
        // Zero on the diagonal: only pivoting gets through.
        a[0, 0] = 0;
        a[5, 5] = 0;
        Vector<double> b = Vector<double>.Build.Random(Order, seed + 10);
        double[] factors = a.ToRowMajorArray(), x = b.ToArray(), scale = new double[Order];
        int[] pivots = new int[Order];

        Assert.True(DenseAlgebra.Factor(factors, Order, pivots, scale));
        DenseAlgebra.Solve(factors, Order, pivots, scale, x);

        Vector<double> expected = a.Solve(b);
        for (int i = 0; i < Order; i++) Assert.Equal(expected[i], x[i], 1e-12 * expected.L2Norm());
    }

    [Fact]
    public void A_singular_matrix_is_reported()
    {
        Matrix<double> a = Random(3);
        a.SetRow(4, a.Row(2) * 2);
        Assert.False(DenseAlgebra.Factor(a.ToRowMajorArray(), Order, new int[Order], new double[Order]));
    }

    [Fact]
    public void Cholesky_agrees_with_a_library_and_reports_an_indefinite_matrix()
    {
        Matrix<double> a = Random(4), positive = a * a.Transpose();
        double[] factor = positive.ToRowMajorArray(), x = Vector<double>.Build.Random(Order, 5).ToArray();
        Vector<double> expected = positive.Cholesky().Solve(Vector<double>.Build.DenseOfArray(x));

        Assert.True(DenseAlgebra.Cholesky(factor, Order, 1e-7));
        DenseAlgebra.ForwardSolve(factor, Order, x);
        DenseAlgebra.BackwardSolve(factor, Order, x);
        for (int i = 0; i < Order; i++) Assert.Equal(expected[i], x[i], 1e-11 * expected.L2Norm());

        positive[3, 3] = -1;
        Assert.False(DenseAlgebra.Cholesky(positive.ToRowMajorArray(), Order, 1e-7));
    }
}
