namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>A polynomial in site fractions whose coefficients are sums of parameters: value, gradient and Hessian.</summary>
/// <remarks>
/// <para><b>Form.</b> P(y) = sum over m of c_m y_i y_j ..., c_m = sum of weight times parameter. End members, Redlich-Kister, ternary and
/// reciprocal terms are expanded into monomials once, so that terms of different parameters with the same monomial are added before any
/// evaluation. Expanding is exact: derivatives are those with every site fraction treated as independent.</para>
/// <para><b>Source.</b> Compound energy formalism: [Hillert2001]; composition dependence of binary terms: [RedlichKister1948].</para>
/// </remarks>
internal sealed class SiteFractionPolynomial
{
    private readonly int[] _start;
    private readonly int[] _variables;
    private readonly int[] _weightStart;
    private readonly (int Parameter, double Weight)[] _weights;
    private readonly int _size;

    private SiteFractionPolynomial(int size, List<(int[] Variables, List<(int Parameter, double Weight)> Weights)> monomials)
    {
        _size = size;
        Count = monomials.Count;
        _start = new int[Count + 1];
        _weightStart = new int[Count + 1];
        for (int m = 0; m < Count; m++)
        {
            _start[m + 1] = _start[m] + monomials[m].Variables.Length;
            _weightStart[m + 1] = _weightStart[m] + monomials[m].Weights.Count;
        }
        _variables = [.. monomials.SelectMany(m => m.Variables)];
        _weights = [.. monomials.SelectMany(m => m.Weights)];
    }

    /// <summary>Number of monomials, the length of a coefficient array.</summary>
    internal int Count { get; }

    /// <summary>Collects the terms of a phase.</summary>
    /// <param name="size">Number of site fractions.</param>
    /// <param name="terms">Each parameter's number with the linear factors its value is multiplied by.</param>
    internal static SiteFractionPolynomial From(int size, IEnumerable<(int Parameter, List<LinearFactor> Factors)> terms)
    {
        Dictionary<string, (int[] Variables, List<(int Parameter, double Weight)> Weights)> monomials = new(StringComparer.Ordinal);
        foreach ((int parameter, List<LinearFactor> factors) in terms)
            foreach ((int[] variables, double weight) in Expand(factors))
            {
                string key = string.Join(' ', variables);
                if (!monomials.TryGetValue(key, out (int[] Variables, List<(int Parameter, double Weight)> Weights) m))
                    monomials.Add(key, m = (variables, []));
                m.Weights.Add((parameter, weight));
            }
        return new SiteFractionPolynomial(size, [.. monomials.Values.OrderBy(m => m.Variables.Length)]);
    }

    private static IEnumerable<(int[] Variables, double Weight)> Expand(List<LinearFactor> factors)
    {
        List<(int[] Variables, double Weight)> products = [([], 1.0)];
        foreach (LinearFactor factor in factors)
            products = [.. products.SelectMany(p => factor.Parts.Select(part =>
                (part.Variable < 0 ? p.Variables : [.. p.Variables, part.Variable], p.Weight * part.Coefficient)))];
        return products
            .Select(p => (Variables: p.Variables.Order().ToArray(), p.Weight))
            .GroupBy(p => string.Join(' ', p.Variables), StringComparer.Ordinal)
            .Select(g => (g.First().Variables, g.Sum(p => p.Weight)))
            .Where(p => p.Item2 != 0);
    }

    /// <summary>Fills the coefficients from parameter values.</summary>
    internal void Coefficients(ReadOnlySpan<double> parameters, Span<double> coefficients)
    {
        for (int m = 0; m < Count; m++)
        {
            double c = 0;
            for (int k = _weightStart[m]; k < _weightStart[m + 1]; k++) c += _weights[k].Weight * parameters[_weights[k].Parameter];
            coefficients[m] = c;
        }
    }

    /// <summary>Value at <paramref name="y"/>.</summary>
    internal double Value(ReadOnlySpan<double> y, ReadOnlySpan<double> coefficients)
    {
        double value = 0;
        for (int m = 0; m < Count; m++)
        {
            double product = coefficients[m];
            for (int k = _start[m]; k < _start[m + 1]; k++) product *= y[_variables[k]];
            value += product;
        }
        return value;
    }

    /// <summary>Value at <paramref name="y"/>; adds the gradient to <paramref name="gradient"/>.</summary>
    internal double AddGradient(ReadOnlySpan<double> y, ReadOnlySpan<double> coefficients, Span<double> gradient)
    {
        double value = 0;
        for (int m = 0; m < Count; m++)
        {
            double c = coefficients[m];
            ReadOnlySpan<int> v = _variables.AsSpan(_start[m], _start[m + 1] - _start[m]);
            double before = c;
            for (int k = 0; k < v.Length; k++)
            {
                double slope = before;
                for (int l = k + 1; l < v.Length; l++) slope *= y[v[l]];
                gradient[v[k]] += slope;
                before *= y[v[k]];
            }
            value += before;
        }
        return value;
    }

    /// <summary>Value at <paramref name="y"/>; adds the gradient, and one triangle U of the Hessian, which is U + U^T.</summary>
    /// <param name="y">Site fractions.</param>
    /// <param name="coefficients">From <see cref="Coefficients"/>.</param>
    /// <param name="gradient">Added to; length of y.</param>
    /// <param name="triangle">Added to; row-major square of the length of y.</param>
    internal double AddHessian(ReadOnlySpan<double> y, ReadOnlySpan<double> coefficients, Span<double> gradient, Span<double> triangle)
    {
        double value = 0;
        for (int m = 0; m < Count; m++)
        {
            ReadOnlySpan<int> v = _variables.AsSpan(_start[m], _start[m + 1] - _start[m]);
            double c = coefficients[m];
            value += v.Length switch
            {
                2 => AddPair(c, v[0], v[1], y, gradient, triangle),
                3 => AddTriple(c, v[0], v[1], v[2], y, gradient, triangle),
                _ => AddProduct(c, v, y, gradient, triangle),
            };
        }
        return value;
    }

    private double AddPair(double c, int i, int j, ReadOnlySpan<double> y, Span<double> gradient, Span<double> triangle)
    {
        gradient[i] += c * y[j];
        gradient[j] += c * y[i];
        triangle[i * _size + j] += c;
        return c * y[i] * y[j];
    }

    private double AddTriple(double c, int i, int j, int k, ReadOnlySpan<double> y, Span<double> gradient, Span<double> triangle)
    {
        double ci = c * y[i], cj = c * y[j], ck = c * y[k];
        gradient[i] += cj * y[k];
        gradient[j] += ci * y[k];
        gradient[k] += ci * y[j];
        triangle[i * _size + j] += ck;
        triangle[i * _size + k] += cj;
        triangle[j * _size + k] += ci;
        return ci * y[j] * y[k];
    }

    private double AddProduct(double c, ReadOnlySpan<int> v, ReadOnlySpan<double> y, Span<double> gradient, Span<double> triangle)
    {
        double before = c;
        for (int k = 0; k < v.Length; k++)
        {
            double between = before;
            for (int l = k + 1; l < v.Length; l++)
            {
                double pair = between;
                for (int r = l + 1; r < v.Length; r++) pair *= y[v[r]];
                triangle[v[k] * _size + v[l]] += pair;
                between *= y[v[l]];
            }
            gradient[v[k]] += between;
            before *= y[v[k]];
        }
        return before;
    }
}

/// <summary>A linear form in site fractions: sum of coefficient times site fraction; variable -1 is the constant 1.</summary>
internal readonly record struct LinearFactor((int Variable, double Coefficient)[] Parts)
{
    /// <summary>A site fraction by itself.</summary>
    internal static LinearFactor Of(int variable) => new([(variable, 1)]);

    /// <summary>The difference of two site fractions.</summary>
    internal static LinearFactor Difference(int first, int second) => new([(first, 1), (second, -1)]);

    /// <summary>y_own + (1 - y_a - y_b - y_c)/3: the ternary weight, which keeps its value when a fourth constituent is added, [Hillert1980].</summary>
    internal static LinearFactor Ternary(int own, IEnumerable<int> all) => new([(own, 1), (-1, 1.0 / 3), .. all.Select(v => (v, -1.0 / 3))]);
}
