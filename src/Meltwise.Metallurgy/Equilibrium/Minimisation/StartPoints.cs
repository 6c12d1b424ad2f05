namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>Where the search for a missing phase starts: a few compositions for each phase model, from the steel's own metal ratio.</summary>
/// <remarks>A missing start is how a wrong answer is accepted: fcc is tried both as austenite and as each kind of MC, bcc near the steel's own metals.</remarks>
internal sealed class StartPoints
{
    private readonly List<Recipe> _recipes = [];
    private readonly IReadOnlyList<PhaseModel> _models;

    internal StartPoints(IReadOnlyList<PhaseModel> models, IReadOnlyList<string> elements)
    {
        _models = models;
        for (int m = 0; m < models.Count; m++)
            foreach ((string[] enriched, double share, double fill, bool nitride) in RecipesFor(models[m].Id))
                if ((enriched.Length == 0 || enriched.Any(elements.Contains)) && (!nitride || elements.Contains("N")))
                    _recipes.Add(new Recipe(m, [.. models[m].Constituents.Select(enriched.Contains)], share, fill, nitride));
    }

    /// <summary>Number of starts.</summary>
    internal int Count => _recipes.Count;

    /// <summary>Phase model of a start.</summary>
    internal int ModelOf(int start) => _recipes[start].Model;

    /// <summary>Writes a start for a steel of mole fractions <paramref name="b"/>.</summary>
    internal void Fill(int start, ReadOnlySpan<double> b, Span<double> y)
    {
        Recipe recipe = _recipes[start];
        PhaseModel model = _models[recipe.Model];
        for (int s = 0; s + 1 < model.SublatticeStart.Length; s++)
        {
            int from = model.SublatticeStart[s], to = model.SublatticeStart[s + 1];
            double plain = 0, enriched = 0;
            for (int i = from; i < to; i++)
            {
                y[i] = Weight(model, i, b, recipe);
                plain += y[i];
                if (recipe.Enriched[i]) enriched += y[i];
            }
            bool enrich = enriched > 0 && enriched < plain;
            for (int i = from; i < to; i++)
                y[i] *= enrich ? (recipe.Enriched[i] ? recipe.Share / enriched : (1 - recipe.Share) / (plain - enriched)) : 1 / plain;
        }
    }

    private static double Weight(PhaseModel model, int i, ReadOnlySpan<double> b, Recipe recipe)
    {
        int vacancy = model.IndexOf(model.SublatticeOf[i], "Va");
        if (vacancy < 0) return Math.Max(1e-6, b[model.ElementOf[i]]);
        if (i == vacancy) return 1 - recipe.Fill;
        bool nitrogen = model.Constituents[i] == "N";
        return recipe.Fill * (nitrogen == recipe.Nitride ? 0.99 : 0.01);
    }

    private static IEnumerable<(string[] Enriched, double Share, double Fill, bool Nitride)> RecipesFor(string model) => model switch
    {
        "fcc" =>
        [
            ([], 0, 0.02, false), (["V"], 0.85, 0.9, false), (["Mo", "W"], 0.85, 0.9, false), (["Nb"], 0.95, 0.95, false), (["Cr"], 0.8, 0.9, false),
            (["V"], 0.85, 0.95, true), (["Nb"], 0.9, 0.95, true), (["Cr"], 0.8, 0.95, true),
        ],
        "bcc" => [([], 0, 1e-4, false), (["Mo", "W"], 0.9, 1e-6, false), (["Cr"], 0.9, 1e-6, false), (["Mo", "W"], 0.9, 0.35, true)],
        "hcp" => [(["Mo", "W"], 0.8, 0.95, false), (["V", "Cr"], 0.8, 0.95, false), (["Cr"], 0.9, 0.9, true)],
        "M6C" => [(["Mo"], 0.8, 0, false), (["W"], 0.8, 0, false)],
        _ => [([], 0, 0, false), (["Cr"], 0.6, 0, false)],
    };

    private sealed record Recipe(int Model, bool[] Enriched, double Share, double Fill, bool Nitride);
}
