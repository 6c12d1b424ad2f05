using System.Text.Json;
using Meltwise.Casework.Judging;
using Meltwise.Evidence;
using Xunit;

namespace Meltwise.Casework.Tests.Judging;

/// <summary>Every key of every case of Oracles/verdict/verdict.json (computed in R, and again in Python; see its README).</summary>
public sealed class VerdictOracleTests
{
    public static TheoryData<string> Cases => [.. OracleCases.Names];

    [Theory]
    [MemberData(nameof(Cases))]
    public void Every_quantity_of_the_case_holds(string name)
    {
        JsonElement oracle = OracleCases.Case(name);
        using JsonDocument computed = JsonDocument.Parse(VerdictJson.Write(Comparison.Judge(OracleCases.Input(oracle), TestContext.Current.CancellationToken)));
        List<string> faults = [];
        Compare(oracle.GetProperty("answer"), computed.RootElement, name, "", faults);
        Assert.True(faults.Count == 0, string.Join(Environment.NewLine, faults));
    }

    [Fact]
    public void All_34_cases_are_read() => Assert.Equal(34, OracleCases.Names.Count());

    private static void Compare(JsonElement expected, JsonElement actual, string name, string path, List<string> faults)
    {
        switch (expected.ValueKind)
        {
            case JsonValueKind.Object:
                foreach (JsonProperty property in expected.EnumerateObject())
                {
                    string at = $"{path}.{property.Name}";
                    if (IsWording(at)) continue;
                    if (actual.ValueKind != JsonValueKind.Object || !actual.TryGetProperty(property.Name, out JsonElement found))
                    {
                        if (!IsEmpty(property.Value)) faults.Add($"{at} is missing");
                    }
                    else Compare(property.Value, found, name, at, faults);
                }
                break;
            case JsonValueKind.Array:
                JsonElement[] want = [.. expected.EnumerateArray()], got = actual.ValueKind == JsonValueKind.Array ? [.. actual.EnumerateArray()] : [];
                if (want.Length != got.Length) faults.Add($"{path} has {got.Length} entries, {want.Length} expected");
                else for (int i = 0; i < want.Length; i++) Compare(want[i], got[i], name, $"{path}[{i}]", faults);
                break;
            case JsonValueKind.Number:
                double published = expected.GetDouble(), value = actual.ValueKind == JsonValueKind.Number ? actual.GetDouble() : double.NaN;
                double digits = DigitsOf(name, path);
                if (!(Digits.Between(value, published).Count >= digits) && !(Math.Abs(published) < 1e-12 && Math.Abs(value) < 1e-9))
                    faults.Add($"{path}: {published:R} expected, {value:R} computed ({Digits.Between(value, published).Count:F1} digits, {digits} asked)");
                break;
            case JsonValueKind.Null:
                if (actual.ValueKind != JsonValueKind.Null) faults.Add($"{path}: nothing expected, {actual} computed");
                break;
            default:
                if (expected.ToString() != actual.ToString()) faults.Add($"{path}: '{expected}' expected, '{actual}' computed");
                break;
        }
    }

    /// <summary>The oracle's own short texts for a no-verdict; the program's are tested in ClaimsTests.</summary>
    private static bool IsWording(string path) => path == ".verdict.text";

    private static bool IsEmpty(JsonElement element) => element.ValueKind == JsonValueKind.Null || element.ValueKind == JsonValueKind.Object && !element.EnumerateObject().Any();

    /// <summary>Digits that the oracle's README says can be trusted.</summary>
    private static double DigitsOf(string name, string path)
    {
        if (path.Contains("priorDf", StringComparison.Ordinal) || path.Contains("lentDf", StringComparison.Ordinal) || path.StartsWith(".lent", StringComparison.Ordinal)) return 4;
        if (name.StartsWith("lent-scatter", StringComparison.Ordinal) && !path.StartsWith(".lots", StringComparison.Ordinal)) return 4;
        if (name.Contains("censored", StringComparison.Ordinal)) return 6;
        return path.StartsWith(".equalHardness", StringComparison.Ordinal) || path.StartsWith(".sources", StringComparison.Ordinal) || name.Contains("hardness", StringComparison.Ordinal) ? 6 : 8;
    }
}
