using Meltwise.Domain;

namespace Meltwise.Casework.Demonstration;

/// <summary>The invented punch maker's heat treatments, with what each adds to hardness and to ln(energy) beyond hardness.</summary>
internal sealed record DemonstrationTreatment(Treatment Treatment, double HardnessStepHrc, double LogStep)
{
    public static DemonstrationTreatment Punch { get; } = Make("punch", 1130, null, 3, 0, 0);

    public static DemonstrationTreatment PunchLowHeat { get; } = Make("punch, low hardening heat", 1080, null, 3, -1.9, 0.04);

    public static DemonstrationTreatment PunchCold { get; } = Make("punch with cold step", 1130, -80, 3, 0.5, -0.03);

    public static DemonstrationTreatment PunchFourTempers { get; } = Make("punch, four tempers", 1130, null, 4, -0.3, 0.01);

    public static IReadOnlyList<DemonstrationTreatment> All { get; } = [Punch, PunchLowHeat, PunchCold, PunchFourTempers];

    private static DemonstrationTreatment Make(string name, double austenitizeC, double? coldC, int tempers, double hardness, double log)
    {
        List<TreatmentStep> steps =
        [
            new TreatmentStep.Preheat(850, 15), new TreatmentStep.Preheat(1050, 5), new TreatmentStep.Austenitize(austenitizeC, 4),
            new TreatmentStep.Quench("gas, 5 bar", 40),
        ];
        if (coldC is { } cold) steps.Add(new TreatmentStep.SubZero(cold, 60));
        steps.AddRange(Enumerable.Repeat<TreatmentStep>(new TreatmentStep.Temper(560, 60), tempers));
        return new(new Treatment(name, steps, "Invented."), hardness, log);
    }
}
