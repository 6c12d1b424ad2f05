namespace Meltwise.Publishing.Documents;

/// <summary>A report could not be written. The message is fit for a reader.</summary>
public sealed class ReportFaultException(string message) : Exception(message);
