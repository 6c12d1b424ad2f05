using Meltwise.Statistics.Resampling;

namespace Meltwise.Calibrations;

/// <summary>One simulated enquiry: draws data, applies the method as the product does, and says which events happened.</summary>
internal delegate void Replicate(ref RandomStream random, Tally tally);

/// <summary>What is simulated in one row of a table.</summary>
/// <param name="Name">The row's heading; no two rows of a table share one.</param>
/// <param name="Replicate">One replicate.</param>
/// <param name="Allowance">How far a rate may fail its nominal value beyond Monte-Carlo error; what the docs say where it is above 0.01.</param>
/// <param name="Replicates">Replicates of this row at full size, where they are not the table's.</param>
internal sealed record Design(string Name, Replicate Replicate, double Allowance = 0.01, int? Replicates = null);

/// <summary>Which way a rate must keep to its nominal value.</summary>
internal enum Keeps
{
    /// <summary>An error rate: at most the nominal value.</summary>
    AtMost,

    /// <summary>A coverage: at least the nominal value.</summary>
    AtLeast,

    /// <summary>A rate that is told and has no nominal value.</summary>
    Told,
}

/// <summary>One column of rates.</summary>
/// <param name="Name">Heading.</param>
/// <param name="Keeps">Which way it must keep to the nominal value.</param>
/// <param name="Nominal">Nominal value.</param>
/// <param name="Allowance">As <see cref="Design.Allowance"/>, for all rows; the larger of the two counts.</param>
internal readonly record struct RateColumn(string Name, Keeps Keeps, double Nominal = 0, double Allowance = 0)
{
    public static RateColumn Covers(string name, double nominal = 0.95, double allowance = 0) => new(name, Keeps.AtLeast, nominal, allowance);

    public static RateColumn Errs(string name, double nominal = 0.05, double allowance = 0) => new(name, Keeps.AtMost, nominal, allowance);

    public static RateColumn Tells(string name) => new(name, Keeps.Told);

    /// <summary>By how much a rate fails its nominal value; 0 or below where it holds.</summary>
    public double Excess(double rate) => Keeps switch { Keeps.AtMost => rate - Nominal, Keeps.AtLeast => Nominal - rate, _ => 0 };
}

/// <summary>A simulated rate; NaN where no replicate had the event's condition.</summary>
/// <param name="Value">Share of replicates.</param>
/// <param name="Tried">Number of replicates that it is a share of.</param>
internal readonly record struct Rate(double Value, long Tried)
{
    /// <summary>Monte-Carlo standard error; at 0 and 1 that of half an event.</summary>
    public double StandardError => Math.Sqrt(Math.Max(Value * (1 - Value), 0.5 / Tried) / Tried);
}

/// <summary>Counts of events, one slot a column.</summary>
internal sealed class Tally(int columns)
{
    private readonly long[] _hits = new long[columns], _tried = new long[columns];

    /// <summary>Notes one event; a column that a replicate does not note is not counted in it.</summary>
    public void Add(int column, bool happened)
    {
        _tried[column]++;
        if (happened) _hits[column]++;
    }

    public void Add(int column, (double Lower, double Upper) interval, double truth) => Add(column, interval.Lower <= truth && truth <= interval.Upper);

    public void Take(Tally other)
    {
        for (int i = 0; i < _hits.Length; i++) (_hits[i], _tried[i]) = (_hits[i] + other._hits[i], _tried[i] + other._tried[i]);
    }

    public Rate[] Rates() => [.. _hits.Select((h, i) => new Rate(h / (double)_tried[i], _tried[i]))];
}

/// <summary>A table of simulated rates: rows of designs, columns of events.</summary>
internal sealed record RateTable
{
    private const int Block = 50;

    /// <summary>Name on the command line and of the file of results.</summary>
    public required string Name { get; init; }

    public required string Title { get; init; }

    /// <summary>What is simulated and by which method, in words.</summary>
    public required string What { get; init; }

    public required IReadOnlyList<RateColumn> Columns { get; init; }

    public required IReadOnlyList<Design> Designs { get; init; }

    /// <summary>Replicates of a row at full size.</summary>
    public required int Replicates { get; init; }

    /// <summary>Replicates of a row in the test suite.</summary>
    public required int Reduced { get; init; }

    /// <summary>The test suite runs every so-manieth row; 1 runs all.</summary>
    public int ReducedStride { get; init; } = 1;

    public required long Seed { get; init; }

    /// <summary>Rates of one row; the same for a seed at any number of threads.</summary>
    public Rate[] Run(int row, int replicates)
    {
        Tally total = new(Columns.Count);
        Parallel.For(0, replicates / Block, () => new Tally(Columns.Count),
            (block, _, local) =>
            {
                RandomStream random = new(Seed, row * 1_000_000L + block);
                for (int i = 0; i < Block; i++) Designs[row].Replicate(ref random, local);
                return local;
            },
            local =>
            {
                lock (total) total.Take(local);
            });
        return total.Rates();
    }
}
