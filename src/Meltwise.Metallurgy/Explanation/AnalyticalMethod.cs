namespace Meltwise.Metallurgy.Explanation;

/// <summary>How an element was measured.</summary>
public enum AnalyticalMethod
{
    /// <summary>Combustion with infrared detection: carbon and sulphur.</summary>
    Combustion,
    /// <summary>Inert-gas fusion: oxygen and nitrogen.</summary>
    InertGasFusion,
    /// <summary>Spark optical emission.</summary>
    SparkEmission,
    /// <summary>X-ray fluorescence.</summary>
    XRayFluorescence,
    /// <summary>Dissolution and emission or absorption spectrometry, or wet chemistry.</summary>
    SolutionSpectrometry,
    /// <summary>A source's certificate: heat analysis by a laboratory of theirs.</summary>
    Certificate,
    /// <summary>Not stated.</summary>
    NotStated,
}
