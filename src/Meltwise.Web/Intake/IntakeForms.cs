namespace Meltwise.Web.Intake;

/// <summary>What a person says of the columns of a table.</summary>
internal sealed class IntakeMapForm
{
    public List<string>? Headings { get; set; }

    public List<string>? Meanings { get; set; }
}

/// <summary>What a person chooses where a table is not clean.</summary>
internal sealed class IntakeChoiceForm
{
    public bool KeepGoodRows { get; set; }

    public bool AcceptSuspicions { get; set; }

    public string? Why { get; set; }
}
