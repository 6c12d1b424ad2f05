namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>Names of the phases of a steel, as results give them.</summary>
public static class PhaseNames
{
    /// <summary>Face-centred cubic matrix.</summary>
    public const string Austenite = "austenite";

    /// <summary>Body-centred cubic matrix.</summary>
    public const string Ferrite = "ferrite";

    /// <summary>Cubic carbide of V, Nb and others.</summary>
    public const string MC = "MC";

    /// <summary>Hexagonal carbide of Mo, W and others.</summary>
    public const string M2C = "M2C";

    /// <summary>Cementite.</summary>
    public const string M3C = "M3C";

    /// <summary>Eta carbide of Mo and W with iron.</summary>
    public const string M6C = "M6C";

    /// <summary>Chromium carbide, hexagonal or orthorhombic.</summary>
    public const string M7C3 = "M7C3";

    /// <summary>Cubic chromium carbide.</summary>
    public const string M23C6 = "M23C6";

    /// <summary>Hexagonal metal with little carbon; does not occur in tool steels at hardening temperatures.</summary>
    public const string Hexagonal = "hcp";

    /// <summary>True for a carbide, false for the metals and graphite.</summary>
    public static bool IsCarbide(string name) => name is not (Austenite or Ferrite or Hexagonal or "graphite");

    /// <summary>Filling of the interstitial sublattice with carbon and nitrogen above which the fcc model is MC.</summary>
    internal const double CubicCarbideFilling = 0.4;

    /// <summary>Filling of the interstitial sublattice with carbon and nitrogen above which the hcp model is M2C; below it is a hexagonal metal.</summary>
    internal const double HexagonalCarbideFilling = 0.2;

    internal static string Of(PhaseModel model, ReadOnlySpan<double> siteFractions)
    {
        if (model.Id == "bcc") return Ferrite;
        if (model.Id is not ("fcc" or "hcp")) return model.Id;
        int vacancy = model.IndexOf(1, "Va");
        double filling = 1 - siteFractions[vacancy];
        return model.Id == "fcc" ? (filling > CubicCarbideFilling ? MC : Austenite) : filling > HexagonalCarbideFilling ? M2C : Hexagonal;
    }
}
