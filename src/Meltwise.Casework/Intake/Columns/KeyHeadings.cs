namespace Meltwise.Casework.Intake;

/// <summary>What people head the key columns with. Common practice, no source.</summary>
internal static class KeyHeadings
{
    private static readonly Dictionary<string, string> s_coupon = Build(
        ("heat", "heat no|heat number|heat id|heat name|cast|cast no|cast number|melt|melt no"),
        ("coupon", "coupon id|coupon no|coupon number|specimen|specimen id|specimen no|specimen number|test piece|sample|sample id|sample no"),
        ("source", "supplier|producer|vendor|mill"),
        ("grade", "steel|steel grade"),
        ("route", "melt route|process route|melting route"),
        ("orientation", "direction"),
        ("geometry", "coupon geometry|specimen geometry|notch|specimen type"),
        ("test temperature", "temperature|test temp|temp|testing temperature"),
        ("treatment", "heat treatment|treatment name"),
        ("temper family", "temper"),
        ("load", "furnace load|furnace charge"),
        ("session", "hardness session"),
        ("order", "test order|testing order|break order|sequence"),
        ("instrument", "machine|pendulum|tester"),
        ("date", "test date|tested on|tested|date tested"),
        ("code", "blind code"),
        ("position", "bar position|position in bar|position in the bar|cutting position|blank position"),
        ("hardness moment", "hardness before or after"),
        ("hardness order", "order of hardness"),
        ("fracture origin", "fracture initiation|origin of fracture|kind of origin"),
        ("origin size", "size of origin|flaw size"),
        ("origin from surface", "origin depth|depth of origin|distance from surface"),
        ("origin seen by", "origin seen|seen by"),
        ("origin notes", "fracture notes"),
        ("state", "status|validity"),
        ("cause", "reason|exclusion cause"));

    private static readonly Dictionary<string, string> s_chemistry = Build(
        ("heat", "heat no|heat number|heat id|heat name|cast|cast no|cast number|melt|melt no"),
        ("element", "symbol|analyte"),
        ("value", "result|content|mass fraction"),
        ("unit", "units"),
        ("method", "technique"),
        ("laboratory", "lab"),
        ("uncertainty", "expanded uncertainty|u"),
        ("coverage factor", "k|coverage"),
        ("date", "analysed on|analysis date|test date"));

    private static readonly Dictionary<string, string> s_hotHistory = Build(
        ("heat", "heat no|heat number|heat id|heat name|cast|cast no|cast number|melt|melt no"),
        ("order", "step no|step number|no|number|sequence"),
        ("step", "hot step|stretch|kind|operation|process step|what"),
        ("from", "temperature|temp|from temperature|start|start temperature|starting temperature"),
        ("to", "to temperature|end|end temperature|final temperature"),
        ("time", "duration|soak time|holding time|hold time|hold|soak"),
        ("powder sieve", "powder|powder size|largest powder|sieve|largest powder particle"),
        ("atmosphere", "gas|atomising gas|atomizing gas"),
        ("cooling", "cooled|cooling after"),
        ("said by", "told by|told|who said so|according to"));

    /// <summary>The key column of a coupon table that this name stands for, or null.</summary>
    public static string? OfCoupons(string name) => s_coupon.GetValueOrDefault(name);

    /// <summary>The column of a chemistry table that this name stands for, or null.</summary>
    public static string? OfChemistry(string name) => s_chemistry.GetValueOrDefault(name);

    /// <summary>The column of a table of hot histories that this name stands for, or null.</summary>
    public static string? OfHotHistory(string name) => s_hotHistory.GetValueOrDefault(name);

    private static Dictionary<string, string> Build(params (string Name, string Others)[] columns)
    {
        Dictionary<string, string> names = new(StringComparer.Ordinal);
        foreach ((string name, string others) in columns)
            foreach (string spelling in others.Split('|').Prepend(name)) names[spelling] = name;
        return names;
    }
}
