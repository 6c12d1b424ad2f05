# Makes pair_rates.json: how often a family of all pairs of 4 groups without a difference errs, by Games and Howell and by Dunnett's T3, apart from this program; run with numpy and scipy.
import json
import numpy as np
from scipy import optimize, stats

rng = np.random.default_rng(1)
families, scatter = 100_000, [0.05, 0.08, 0.12, 0.20]
dfs = np.concatenate([np.arange(1.5, 8, 0.25), np.arange(8, 30, 1), np.arange(30, 80, 5)])
howell = np.array([stats.studentized_range.ppf(0.95, 4, d) for d in dfs]) / np.sqrt(2)

def modulus(df, k=6):
    s = np.sqrt(stats.chi2.ppf((np.arange(4000) + 0.5) / 4000, df) / df)
    return optimize.brentq(lambda m: np.mean((2 * stats.norm.cdf(m * s) - 1) ** k) - 0.95, 1, 60)

t3 = np.array([modulus(d) for d in dfs])

def rates(n):
    x = [s * rng.standard_normal((families, n)) for s in scatter]
    mean, v = [a.mean(1) for a in x], [a.var(1, ddof=1) / n for a in x]
    errs = {"gamesHowell": np.zeros(families, bool), "t3": np.zeros(families, bool)}
    for i in range(4):
        for j in range(i + 1, 4):
            both = v[i] + v[j]
            df, t = both ** 2 / (v[i] ** 2 + v[j] ** 2) * (n - 1), abs(mean[i] - mean[j]) / np.sqrt(both)
            errs["gamesHowell"] |= t > np.interp(df, dfs, howell)
            errs["t3"] |= t > np.interp(df, dfs, t3)
    return {"coupons": n, **{k: round(float(e.mean()), 5) for k, e in errs.items()}}

print(json.dumps({"madeUp": True, "families": families, "groups": 4, "scatter": scatter, "level": 0.95, "rows": [rates(n) for n in (3, 4, 6, 12)]}, indent=1))
