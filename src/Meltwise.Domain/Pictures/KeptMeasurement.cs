namespace Meltwise.Domain;

/// <summary>What was found on a picture, with the settings that find it again.</summary>
/// <param name="Picture">Name of the picture.</param>
/// <param name="Settings">The settings with every choice filled in (JSON).</param>
/// <param name="Result">The figures (JSON).</param>
/// <param name="Program">Version of the program that measured.</param>
/// <param name="AtUtc">When.</param>
public sealed record KeptMeasurement(string Picture, string Settings, string Result, string Program, DateTime AtUtc);
