using Meltwise.Storage.Records;
using Xunit;

namespace Meltwise.Storage.Tests;

/// <summary>The trail is read by people: nested values are said in words. Expected texts are our own wording, held so that it changes only on purpose.</summary>
public sealed class NestedWordsTests
{
    [Theory]
    [InlineData("""[{"kind":"consolidation","fromC":1120,"hours":3},{"kind":"reheat","fromC":1130,"hours":2}]""", "kind consolidation, from c 1120, hours 3 | kind reheat, from c 1130, hours 2")]
    [InlineData("""{"name":"Q-1","notes":null,"coupons":[],"separateSessions":true}""", "name Q-1, separate sessions yes")]
    [InlineData("[sic] stamped twice", "[sic] stamped twice")]
    [InlineData("plain", "plain")]
    [InlineData("", "")]
    public void Nested_values_are_said_in_words(string stored, string said) => Assert.Equal(said, NestedWords.Of(stored));
}
