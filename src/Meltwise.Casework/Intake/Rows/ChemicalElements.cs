namespace Meltwise.Casework.Intake;

/// <summary>Symbols of the chemical elements (IUPAC), without those that no steel analysis reports.</summary>
internal static class ChemicalElements
{
    private static readonly Dictionary<string, string> s_symbols =
        "H He Li Be B C N O F Ne Na Mg Al Si P S Cl Ar K Ca Sc Ti V Cr Mn Fe Co Ni Cu Zn Ga Ge As Se Br Kr Rb Sr Y Zr Nb Mo Tc Ru Rh Pd Ag Cd In Sn Sb Te I Xe Cs Ba La Ce Pr Nd Pm Sm Eu Gd Tb Dy Ho Er Tm Yb Lu Hf Ta W Re Os Ir Pt Au Hg Tl Pb Bi Th U"
            .Split(' ').ToDictionary(s => s, StringComparer.OrdinalIgnoreCase);

    /// <summary>The symbol in its proper case, or null.</summary>
    public static string? Find(string text) => s_symbols.GetValueOrDefault(text);
}
