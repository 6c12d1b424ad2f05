namespace Meltwise.Imaging.Stereology;

/// <summary>A figure with a two-sided interval. Limits are null where no interval can be given; the method says why.</summary>
/// <param name="Estimate">The figure.</param>
/// <param name="Lower">Lower limit.</param>
/// <param name="Upper">Upper limit.</param>
/// <param name="Level">Confidence level of the interval.</param>
/// <param name="Method">How the interval was made.</param>
public sealed record Interval(double Estimate, double? Lower, double? Upper, double Level, string Method);
