namespace Meltwise.Domain;

/// <summary>Custody of a heat's material: from whom it came, as what it was found, and what is kept of it. Null means not recorded.</summary>
/// <remarks>What ISO/IEC 17025:2017, 7.4 asks of the handling of items (from memory). The day of receipt is the heat's own.</remarks>
/// <param name="Heat">Name of the heat.</param>
/// <param name="ReceivedFrom">Who handed it over; private to the bench.</param>
/// <param name="ReceivedBy">Who took it in; private to the bench.</param>
/// <param name="Size">Size of the piece received: <c>bar 40 mm × 600 mm, 5.9 kg</c>.</param>
/// <param name="MarksAsFound">Stamps, paint, labels and damage as they were found.</param>
/// <param name="Certificate">Number of the certificate that came with it.</param>
/// <param name="CertificateOn">Day of the certificate.</param>
/// <param name="Retained">What is kept: remnant bar, halves, mounts, spares.</param>
/// <param name="RetainedUntil">Last day it is kept.</param>
/// <param name="Notes">Packaging, photographs, deviations.</param>
public sealed record Custody(
    string Heat, string? ReceivedFrom = null, string? ReceivedBy = null, string? Size = null, string? MarksAsFound = null, string? Certificate = null,
    DateOnly? CertificateOn = null, string? Retained = null, DateOnly? RetainedUntil = null, string? Notes = null);
