namespace Meltwise.Bench;

/// <summary>One piece of work done by this program and by programs of general-purpose libraries, on the same input in one run.</summary>
/// <remarks>A new race is one class in Races/ and one line in <see cref="Program"/>.</remarks>
internal interface IRace
{
    /// <summary>Name on the command line.</summary>
    string Name { get; }

    /// <summary>The work, in words.</summary>
    string Work { get; }

    /// <summary>Commands of the baselines, each a script in bench/baselines with arguments; <c>{inputs}</c> is replaced.</summary>
    IReadOnlyList<string> Baselines { get; }

    /// <summary>How many times faster than the fastest baseline this must be; null where nothing is asked.</summary>
    double? Wanted { get; }

    /// <summary>Reads the inputs once, untimed.</summary>
    void Prepare(string inputs);

    /// <summary>The timed work.</summary>
    void Run();

    /// <summary>What came out, to compare with the baselines' fields of the same names.</summary>
    IReadOnlyDictionary<string, double> Answers { get; }

    /// <summary>Largest difference allowed for each answer.</summary>
    IReadOnlyDictionary<string, double> Allowed { get; }
}
