namespace Meltwise.Casework.Judging;

/// <summary>Words for the variants of a verdict, for figures and tables.</summary>
public static class VariantWords
{
    /// <summary>A variant in words, e.g. <c>with furnace loads ignored</c>; the code itself when it is not known.</summary>
    public static string Of(string variant) => VerdictWords.InWords(variant);
}
