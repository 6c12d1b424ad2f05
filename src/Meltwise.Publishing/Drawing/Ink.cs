namespace Meltwise.Publishing.Drawing;

/// <summary>The colour tokens of the design language. A figure names tokens; a palette gives them colours.</summary>
public enum Ink
{
    /// <summary>Text, the reference lot.</summary>
    Main,

    /// <summary>Labels and notes.</summary>
    Second,

    /// <summary>Second unit, waiting.</summary>
    Third,

    /// <summary>The candidate lot, what is under the hand, what is due. Never a verdict.</summary>
    Heat,

    /// <summary>Rules and axes.</summary>
    Rule,

    /// <summary>Marks of the history.</summary>
    Past,

    /// <summary>Hairlines and grid.</summary>
    Hair,

    /// <summary>The ground.</summary>
    Paper,

    /// <summary>Margin, dark band.</summary>
    Shade,

    /// <summary>Light band.</summary>
    LightShade,
}
