namespace Meltwise.Metallurgy.Composition;

/// <summary>The alloying elements the chain from chemistry to hardness knows. Iron is the balance.</summary>
public enum AlloyElement
{
    /// <summary>Carbon.</summary>
    C,
    /// <summary>Manganese.</summary>
    Mn,
    /// <summary>Silicon.</summary>
    Si,
    /// <summary>Chromium.</summary>
    Cr,
    /// <summary>Nickel.</summary>
    Ni,
    /// <summary>Molybdenum.</summary>
    Mo,
    /// <summary>Vanadium.</summary>
    V,
    /// <summary>Tungsten.</summary>
    W,
    /// <summary>Cobalt.</summary>
    Co,
    /// <summary>Niobium.</summary>
    Nb,
    /// <summary>Nitrogen.</summary>
    N,
}
