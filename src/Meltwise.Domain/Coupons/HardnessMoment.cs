namespace Meltwise.Domain;

/// <summary>When the hardness of a coupon was read.</summary>
public enum HardnessMoment
{
    /// <summary>On the whole coupon, before the test.</summary>
    BeforeTest,

    /// <summary>On the halves, after the test: indents may lie in deformed metal.</summary>
    AfterTest,
}
