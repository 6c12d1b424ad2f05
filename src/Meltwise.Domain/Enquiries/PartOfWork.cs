namespace Meltwise.Domain;

/// <summary>A part of the work of an enquiry and who did it.</summary>
/// <param name="Task">What was done: heat treatment, hardness, impact tests, chemistry.</param>
/// <param name="By">Who did it: a person or a laboratory; private to the bench.</param>
/// <param name="IsOutside">True when it was done outside the laboratory that reports; such results are marked in the report.</param>
public sealed record PartOfWork(string Task, string By, bool IsOutside = false);
