namespace Meltwise.Metallurgy.Composition;

/// <summary>The carbides of tool steel, by formula.</summary>
public enum CarbideKind
{
    /// <summary>MC: cubic, of vanadium, niobium, titanium.</summary>
    MC,
    /// <summary>M2C: hexagonal, of molybdenum, tungsten, vanadium.</summary>
    M2C,
    /// <summary>M3C: cementite.</summary>
    M3C,
    /// <summary>M6C: of iron with tungsten or molybdenum.</summary>
    M6C,
    /// <summary>M7C3: of chromium and iron.</summary>
    M7C3,
    /// <summary>M23C6: of chromium and iron.</summary>
    M23C6,
}
