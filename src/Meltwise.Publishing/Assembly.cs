namespace Meltwise.Publishing;

/// <summary>Names this assembly to the tests that guard the direction of dependencies.</summary>
public static class Assembly;
