using Meltwise.Statistics.MixedModels;

namespace Meltwise.Statistics.Tests.MixedModels;

/// <summary>The models of Oracles/statistics/mixed.json, built from the data sets they name.</summary>
internal static class MixedModelCases
{
    public static MixedFit Fit(string id, Likelihood likelihood = Likelihood.Restricted) => id switch
    {
        "rail" => Simple("rail.csv", "travel", likelihood, "Rail"),
        "dyestuff" => Simple("dyestuff.csv", "Yield", likelihood, "Batch"),
        "dyestuff2" => Simple("dyestuff2.csv", "Yield", likelihood, "Batch"),
        "pastes" => Simple("pastes.csv", "strength", likelihood, "sample", "batch"),
        "penicillin" => Simple("penicillin.csv", "diameter", likelihood, "plate", "sample"),
        "machines" => Machines(likelihood),
        "ergostool" => Ergostool(likelihood),
        "oxide" => Oxide(likelihood, bySource: false),
        "oxide_source" => Oxide(likelihood, bySource: true),
        "suppliers_heats_log" => Suppliers(likelihood, log: true, hardness: true),
        "suppliers_heats_log_no_hrc" => Suppliers(likelihood, log: true, hardness: false),
        "suppliers_heats_raw" => Suppliers(likelihood, log: false, hardness: true),
        "balanced_heats" => Balanced(likelihood),
        _ => throw new ArgumentException(id),
    };

    private static double[] Ones(int n) => [.. Enumerable.Repeat(1.0, n)];

    private static MixedFit Simple(string file, string response, Likelihood likelihood, params string[] factors)
    {
        Table t = Table.Published(file);
        double[] y = t.Numbers(response);
        return LinearMixedModel.Fit(y, [Ones(y.Length)], ["intercept"], [.. factors.Select(f => RandomTerm.Of(f, t.Text(f)))], likelihood);
    }

    private static MixedFit Machines(Likelihood likelihood)
    {
        Table t = Table.Published("machines.csv");
        double[] y = t.Numbers("score");
        string[] worker = t.Text("Worker"), machine = t.Text("Machine");
        return LinearMixedModel.Fit(y, [Ones(y.Length), t.Is("Machine", "B"), t.Is("Machine", "C")], ["A", "B-A", "C-A"],
            [RandomTerm.Of("worker", worker), RandomTerm.Of("worker:machine", worker.Zip(machine, (w, m) => w + m))], likelihood);
    }

    private static MixedFit Ergostool(Likelihood likelihood)
    {
        Table t = Table.Published("ergostool.csv");
        double[] y = t.Numbers("effort");
        return LinearMixedModel.Fit(y, [Ones(y.Length), t.Is("Type", "T2"), t.Is("Type", "T3"), t.Is("Type", "T4")],
            ["T1", "T2-T1", "T3-T1", "T4-T1"], [RandomTerm.Of("subject", t.Text("Subject"))], likelihood);
    }

    private static MixedFit Oxide(Likelihood likelihood, bool bySource)
    {
        Table t = Table.Published("oxide.csv");
        double[] y = t.Numbers("Thickness");
        string[] lot = t.Text("Lot"), wafer = t.Text("Wafer");
        double[][] columns = bySource ? [Ones(y.Length), t.Is("Source", "2")] : [Ones(y.Length)];
        string[] names = bySource ? ["source1", "source2-source1"] : ["intercept"];
        return LinearMixedModel.Fit(y, columns, names,
            [RandomTerm.Of("lot", lot), RandomTerm.Of("wafer in lot", lot.Zip(wafer, (l, w) => l + "/" + w))], likelihood);
    }

    private static MixedFit Suppliers(Likelihood likelihood, bool log, bool hardness)
    {
        Table t = Table.MadeUp("madeup_suppliers_heats.csv");
        double[] y = [.. t.Numbers("energy_j").Select(v => log ? Math.Log(v) : v)];
        List<double[]> columns = [Ones(y.Length), t.Is("supplier", "Q")];
        List<string> names = ["P", "Q-P"];
        if (hardness)
        {
            columns.Add([.. t.Numbers("hrc").Select(h => h - 60)]);
            names.Add("per HRC");
        }
        return LinearMixedModel.Fit(y, columns, names, [RandomTerm.Of("heat", t.Text("heat"))], likelihood);
    }

    private static MixedFit Balanced(Likelihood likelihood)
    {
        Table t = Table.MadeUp("madeup_balanced_heats.csv");
        double[] y = t.Numbers("energy_j");
        return LinearMixedModel.Fit(y, [Ones(y.Length), t.Is("supplier", "Q")], ["P", "Q-P"], [RandomTerm.Of("heat", t.Text("heat"))], likelihood);
    }
}
