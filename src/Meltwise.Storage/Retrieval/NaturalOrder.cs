using System.Globalization;

namespace Meltwise.Storage.Retrieval;

/// <summary>Order of names as a person expects it: K2 before K10.</summary>
internal static class NaturalOrder
{
    public static StringComparer Comparer { get; } = CultureInfo.InvariantCulture.CompareInfo.GetStringComparer(CompareOptions.NumericOrdering);
}
