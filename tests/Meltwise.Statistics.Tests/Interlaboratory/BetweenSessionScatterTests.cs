using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.Interlaboratory;
using Meltwise.Statistics.Resampling;
using Xunit;

namespace Meltwise.Statistics.Tests.Interlaboratory;

/// <summary>Oracles/session-scatter/session_scatter.json (R's aov, qf, qchisq on published data), and the components as printed for lme4 and nlme.</summary>
public sealed class BetweenSessionScatterTests
{
    private static readonly JsonElement s_oracle = JsonDocument.Parse(File.ReadAllText(Oracle.PathOf("Oracles", "session-scatter", "session_scatter.json"))).RootElement;

    private static SessionReadings[] Sessions(string file, string value, string session, string? reference = null, int[]? without = null)
    {
        Table t = Table.Published(file);
        string[] s = t.Text(session), r = reference is null ? [.. s.Select(_ => "")] : t.Text(reference);
        double[] y = t.Numbers(value);
        int number = 0;
        return
        [
            .. Enumerable.Range(0, y.Length).Where(i => without?.Contains(i + 1) != true).GroupBy(i => (r[i], s[i]))
                .Select(g => (g.Key.Item1, Number: number++, Values: g.Select(i => y[i]).ToArray())).GroupBy(g => g.Item1).SelectMany((g, j) => g.Select(x => new SessionReadings(j, x.Number, x.Values))),
        ];
    }

    private static SessionReadings[] Case(string name) => name switch
    {
        "dyestuff" => Sessions("dyestuff.csv", "Yield", "Batch"),
        "dyestuff2" => Sessions("dyestuff2.csv", "Yield", "Batch"),
        "rail" => Sessions("rail.csv", "travel", "Rail"),
        "pastes" => Sessions("pastes.csv", "strength", "sample", "batch"),
        _ => Sessions("pastes.csv", "strength", "sample", "batch", [2, 7, 8, 31]),
    };

    [Theory]
    [InlineData("dyestuff")]
    [InlineData("dyestuff2")]
    [InlineData("rail")]
    [InlineData("pastes")]
    [InlineData("pastes_unequal")]
    public void Components_interval_and_degrees_of_freedom_agree(string name)
    {
        JsonElement e = s_oracle.GetProperty(name);
        BetweenSessionScatter s = BetweenSessionScatter.Of(Case(name));
        Digits.Agree(e.Number("sd"), s.Sd, new(10), "sd");
        Digits.Agree(e.Number("lower"), s.Lower, new(9), "lower");
        Digits.Agree(e.Number("upper"), s.Upper, new(9), "upper");
        Digits.Agree(e.Number("df"), s.DegreesOfFreedom, new(9), "df");
        Digits.Agree(e.Number("repeatability"), s.RepeatabilitySd, new(10), "repeatability");
        Digits.Agree(e.Number("ofMeans"), s.SdOfMeans, new(10), "of means");
        Assert.Equal((int)e.Number("sessionDf"), s.SessionDegreesOfFreedom);
    }

    /// <summary>Printed by lme4 (Bates and others 2015; help pages of its data) and in Pinheiro and Bates 2000, section 1.1; from memory.</summary>
    [Fact]
    public void Components_as_printed()
    {
        (BetweenSessionScatter dyestuff, BetweenSessionScatter pastes, BetweenSessionScatter rail) = (BetweenSessionScatter.Of(Case("dyestuff")), BetweenSessionScatter.Of(Case("pastes")), BetweenSessionScatter.Of(Case("rail")));
        new Published("42.00").Agrees(dyestuff.Sd, "batches");
        new Published("49.51").Agrees(dyestuff.RepeatabilitySd, "assays");
        new Published("2.904").Agrees(pastes.Sd, "casks within batches");
        new Published("0.823").Agrees(pastes.RepeatabilitySd, "assays of a cask");
        new Published("24.805").Agrees(rail.Sd, "rails");
        new Published("4.0208").Agrees(rail.RepeatabilitySd, "runs");
    }

    [Fact]
    public void Means_that_scatter_no_more_than_their_readings_give_0_and_say_so()
    {
        BetweenSessionScatter s = BetweenSessionScatter.Of(Case("dyestuff2"));
        Assert.Equal((0, 0, 0), (s.Sd, s.Lower, s.DegreesOfFreedom));
        Assert.True(s.Upper > 0);
        Assert.Contains(s.Notes, n => n.Contains("the estimate is 0", StringComparison.Ordinal));
    }

    /// <summary>A level added to all readings of a reference moves nothing; sessions that read two references count once.</summary>
    [Fact]
    public void The_level_of_a_reference_is_taken_off_and_a_shared_session_counts_once()
    {
        SessionReadings[] apart = Case("pastes");
        BetweenSessionScatter read = BetweenSessionScatter.Of(apart), moved = BetweenSessionScatter.Of([.. apart.Select(s => s with { Readings = [.. s.Readings.Select(y => y + 100 * s.Reference)] })]);
        Digits.Agree(read.Sd, moved.Sd, new(9), "moved");
        BetweenSessionScatter shared = BetweenSessionScatter.Of([.. Enumerable.Range(0, 6).SelectMany(k => Enumerable.Range(0, 2).Select(r => new SessionReadings(r, k, [60 + 0.1 * k, 60.1 + 0.1 * k])))]);
        Assert.Equal((6, 4), (shared.Sessions, shared.SessionDegreesOfFreedom));
        Assert.Contains(shared.Notes, n => n.Contains("counts once", StringComparison.Ordinal));
    }

    /// <summary>Coverage by simulation with a fixed seed: 4000 benches a row, Monte-Carlo error 0.0034; equal and unequal numbers of readings.</summary>
    [Theory]
    [InlineData(14, 0.12, false)]
    [InlineData(6, 0.12, false)]
    [InlineData(14, 0.12, true)]
    [InlineData(6, 0.03, true)]
    public void The_interval_covers_the_scatter_it_is_drawn_from(int sessions, double truth, bool unequal)
    {
        const int benches = 4000;
        RandomStream random = new(20261125, sessions);
        int covered = 0;
        for (int b = 0; b < benches; b++)
        {
            BetweenSessionScatter s = BetweenSessionScatter.Of([.. Enumerable.Range(0, sessions).Select(k =>
            {
                double session = truth * random.Normal();
                return new SessionReadings(k % 2, k, [.. Enumerable.Range(0, unequal ? 2 + k % 4 : 5).Select(_ => 60 + 2 * (k % 2) + session + 0.2 * random.Normal())]);
            })]);
            if (s.Lower <= truth && truth <= s.Upper) covered++;
        }
        Assert.InRange(covered / (double)benches, 0.94, 0.965);
    }

    [Fact]
    public void Too_little_is_refused_with_what_is_missing()
    {
        Assert.Contains("repeat", Assert.Throws<InsufficientDataException>(() => BetweenSessionScatter.Of([new(0, 0, [60]), new(0, 1, [61])])).Message, StringComparison.Ordinal);
        Assert.Contains("two sessions", Assert.Throws<InsufficientDataException>(() => BetweenSessionScatter.Of([new(0, 0, [60, 61]), new(1, 1, [61, 62])])).Message, StringComparison.Ordinal);
    }
}
