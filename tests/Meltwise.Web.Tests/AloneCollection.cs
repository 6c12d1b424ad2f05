using Xunit;

namespace Meltwise.Web.Tests;

/// <summary>Tests that measure time run when nothing else of this suite does.</summary>
[CollectionDefinition(Name, DisableParallelization = true)]
public sealed class AloneCollection
{
    public const string Name = "alone";
}
