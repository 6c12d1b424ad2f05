namespace Meltwise.Metallurgy.Composition;

/// <summary>Molar masses in g/mol, as the thermodynamic parameter set uses them.</summary>
public static class AtomicMass
{
    private static readonly double[] s_gramPerMol = [12.011, 54.938, 28.085, 51.996, 58.69, 95.94, 50.941, 183.85, 58.933, 92.906, 14.007];

    /// <summary>Iron, g/mol.</summary>
    public const double Iron = 55.847;

    /// <summary>Molar mass of <paramref name="element"/>, g/mol.</summary>
    public static double Of(AlloyElement element) => s_gramPerMol[(int)element];
}
