namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>Gibbs energy of one phase at one temperature: value, gradient, Hessian and temperature slope of the gradient.</summary>
/// <remarks>
/// <para><b>Formula.</b> G(y) = P(y) + R T sum_s a_s sum_i y_i ln y_i + G_mag(T, Tc(y), beta(y)), per mole of formula units;
/// derivatives treat every site fraction as independent.</para>
/// <para><b>Source.</b> [Hillert2001]; magnetic term see <see cref="MagneticOrdering"/>.</para>
/// <para><b>Use.</b> Belongs to one thread. Moving to another temperature evaluates every parameter; evaluating allocates nothing.</para>
/// </remarks>
internal sealed class PhaseEnergy
{
    private readonly double _gasConstant;
    private readonly MagneticOrdering? _magnetic;
    private readonly double[] _parameters, _slopes;
    private readonly double[] _gibbs, _gibbsSlope, _curie, _moment;
    private readonly double[] _curieGradient, _momentGradient, _triangle, _curieTriangle, _momentTriangle;
    private double _temperatureK;

    internal PhaseEnergy(PhaseModel model, double gasConstant)
    {
        Model = model;
        _gasConstant = gasConstant;
        _magnetic = model.Magnetic is { } m && model.Curie.Count > 0 ? new MagneticOrdering(m, gasConstant) : null;
        _parameters = new double[model.Parameters.Count];
        _slopes = new double[model.Parameters.Count];
        _gibbs = new double[model.Gibbs.Count];
        _gibbsSlope = new double[model.Gibbs.Count];
        _curie = new double[model.Curie.Count];
        _moment = new double[model.Moment.Count];
        _curieGradient = new double[model.Size];
        _momentGradient = new double[model.Size];
        _triangle = new double[model.Size * model.Size];
        _curieTriangle = new double[model.Size * model.Size];
        _momentTriangle = new double[model.Size * model.Size];
    }

    /// <summary>The compiled phase.</summary>
    internal PhaseModel Model { get; }

    /// <summary>Evaluates the parameters at the temperature of <paramref name="basis"/>.</summary>
    internal void MoveTo(TemperatureBasis basis, ReadOnlySpan<double> functions, ReadOnlySpan<double> functionSlopes)
    {
        _temperatureK = basis.TemperatureK;
        for (int p = 0; p < _parameters.Length; p++)
            (_parameters[p], _slopes[p]) = Model.Parameters[p].Function.At(basis, functions, functionSlopes);
        Model.Gibbs.Coefficients(_parameters, _gibbs);
        Model.Gibbs.Coefficients(_slopes, _gibbsSlope);
        Model.Curie.Coefficients(_parameters, _curie);
        Model.Moment.Coefficients(_parameters, _moment);
    }

    /// <summary>Gibbs energy, J per mole of formula units.</summary>
    internal double Value(ReadOnlySpan<double> y)
    {
        double rt = _gasConstant * _temperatureK, value = Model.Gibbs.Value(y, _gibbs);
        for (int i = 0; i < y.Length; i++)
            if (y[i] > 0) value += rt * Model.SiteOf[i] * y[i] * Math.Log(y[i]);
        return _magnetic is null ? value : value + _magnetic.At(_temperatureK, Model.Curie.Value(y, _curie), Model.Moment.Value(y, _moment)).Value;
    }

    /// <summary>Gibbs energy and gradient, J per mole of formula units. Site fractions must be above zero, or the gradient is not finite.</summary>
    internal double Gradient(ReadOnlySpan<double> y, Span<double> gradient)
    {
        gradient.Clear();
        double value = Model.Gibbs.AddGradient(y, _gibbs, gradient) + AddMixing(y, gradient, _gasConstant * _temperatureK);
        if (_magnetic is null) return value;
        Span<double> curieGradient = _curieGradient, momentGradient = _momentGradient;
        curieGradient.Clear();
        momentGradient.Clear();
        double curie = Model.Curie.AddGradient(y, _curie, curieGradient), moment = Model.Moment.AddGradient(y, _moment, momentGradient);
        MagneticEnergy magnetic = _magnetic.At(_temperatureK, curie, moment);
        for (int i = 0; i < y.Length; i++) gradient[i] += magnetic.ByCurie * curieGradient[i] + magnetic.ByMoment * momentGradient[i];
        return value + magnetic.Value;
    }

    /// <summary>Gibbs energy, gradient and full Hessian (row-major), J per mole of formula units. Site fractions must be above zero.</summary>
    internal double Hessian(ReadOnlySpan<double> y, Span<double> gradient, Span<double> hessian)
    {
        int n = y.Length;
        gradient.Clear();
        Span<double> triangle = _triangle;
        triangle.Clear();
        double value = Model.Gibbs.AddHessian(y, _gibbs, gradient, triangle) + AddMixing(y, gradient, _gasConstant * _temperatureK);
        for (int i = 0; i < n; i++)
            for (int j = 0; j < n; j++)
                hessian[i * n + j] = triangle[i * n + j] + triangle[j * n + i];
        double rt = _gasConstant * _temperatureK;
        for (int i = 0; i < n; i++) hessian[i * n + i] += rt * Model.SiteOf[i] / y[i];
        return _magnetic is null ? value : value + AddMagnetism(_magnetic, y, gradient, hessian);
    }

    /// <summary>Slope of the Gibbs energy (returned) and of its gradient to temperature at fixed site fractions, J/(mol K).</summary>
    internal double TemperatureSlope(ReadOnlySpan<double> y, Span<double> gradientSlope)
    {
        gradientSlope.Clear();
        double slope = Model.Gibbs.AddGradient(y, _gibbsSlope, gradientSlope) + AddMixing(y, gradientSlope, _gasConstant);
        if (_magnetic is null) return slope;
        Span<double> curieGradient = _curieGradient, momentGradient = _momentGradient;
        curieGradient.Clear();
        momentGradient.Clear();
        double curie = Model.Curie.AddGradient(y, _curie, curieGradient), moment = Model.Moment.AddGradient(y, _moment, momentGradient);
        MagneticEnergy magnetic = _magnetic.At(_temperatureK, curie, moment);
        for (int i = 0; i < y.Length; i++)
            gradientSlope[i] += magnetic.ByCurieTemperature * curieGradient[i] + magnetic.ByMomentTemperature * momentGradient[i];
        return slope + magnetic.ByTemperature;
    }

    /// <summary>Adds the ideal mixing term; <paramref name="factor"/> is R T for the energy, R for its slope to temperature.</summary>
    private double AddMixing(ReadOnlySpan<double> y, Span<double> gradient, double factor)
    {
        double value = 0;
        for (int i = 0; i < y.Length; i++)
        {
            double log = Math.Log(y[i]), scale = factor * Model.SiteOf[i];
            value += scale * y[i] * log;
            gradient[i] += scale * (log + 1);
        }
        return value;
    }

    private double AddMagnetism(MagneticOrdering ordering, ReadOnlySpan<double> y, Span<double> gradient, Span<double> hessian)
    {
        int n = y.Length;
        Span<double> c = _curieGradient, b = _momentGradient, cc = _curieTriangle, bb = _momentTriangle;
        c.Clear();
        b.Clear();
        cc.Clear();
        bb.Clear();
        double curie = Model.Curie.AddHessian(y, _curie, c, cc), moment = Model.Moment.AddHessian(y, _moment, b, bb);
        MagneticEnergy m = ordering.At(_temperatureK, curie, moment);
        if (m.Value == 0) return 0;
        for (int i = 0; i < n; i++)
        {
            gradient[i] += m.ByCurie * c[i] + m.ByMoment * b[i];
            for (int j = 0; j < n; j++)
                hessian[i * n + j] += m.ByCurieCurie * c[i] * c[j] + m.ByMomentMoment * b[i] * b[j] + m.ByCurieMoment * (c[i] * b[j] + b[i] * c[j])
                    + m.ByCurie * (cc[i * n + j] + cc[j * n + i]) + m.ByMoment * (bb[i * n + j] + bb[j * n + i]);
        }
        return m.Value;
    }
}
