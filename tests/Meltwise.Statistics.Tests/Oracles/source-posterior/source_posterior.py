"""Posterior of the difference of two sources with heats random, by brute force: the joint density of ln(sigma) and tau from dense
multivariate normal densities with the source means integrated out by matrix algebra, every coupon a row, and integrated by Gauss-Legendre
panels. Nothing is shared with the program under test. Run in this folder: python3 source_posterior.py > source_posterior.json"""
import csv, json
import numpy as np
from scipy.special import ndtr
from scipy.optimize import brentq

def posterior(z, heat, source, hardness, slope, slope_se, prior, low, high):
    z, heat, source = np.array(z, float), np.array(heat), np.array(source)
    x = np.array(hardness, float)
    y = z - slope * x
    sources = sorted(set(source))
    X = np.array([[1.0 if s == t else 0.0 for t in sources] for s in source])
    same = (heat[:, None] == heat[None, :]).astype(float)
    c = np.zeros(len(sources)); c[sources.index("C")] = 1; c[sources.index("R")] = -1

    def node(u, tau):
        V = np.exp(2 * u) * np.eye(len(y)) + tau * tau * same
        Vi = np.linalg.inv(V)
        A = X.T @ Vi @ X
        a = np.linalg.solve(A, X.T @ Vi @ y)
        r = y - X @ a
        log = -0.5 * (np.linalg.slogdet(V)[1] + np.linalg.slogdet(A)[1] + r @ Vi @ r) - 0.5 * (tau / prior) ** 2
        D = c @ np.linalg.solve(A, X.T @ Vi @ x)
        return log, c @ a, c @ np.linalg.solve(A, c) + (D * slope_se) ** 2

    def panels(edges, n):
        g, w = np.polynomial.legendre.leggauss(n)
        pts = [(0.5 * (b - a) * g + 0.5 * (a + b), 0.5 * (b - a) * w) for a, b in zip(edges[:-1], edges[1:])]
        return np.concatenate([p for p, _ in pts]), np.concatenate([w for _, w in pts])

    within = np.concatenate([z[heat == h] - z[heat == h].mean() for h in sorted(set(heat))])
    u0 = 0.5 * np.log(np.sum(within ** 2) / (len(z) - len(set(heat))))
    us, wu = panels(u0 + np.array([-2, -1, -0.4, 0, 0.4, 1, 2, 4]), 14)
    ts, wt = panels(prior * np.array([0, 0.02, 0.05, 0.1, 0.2, 0.4, 0.8, 1.5, 2.5, 4, 6, 8]), 12)
    cells = [(w1 * w2, t, *node(u, t)) for u, w1 in zip(us, wu) for t, w2 in zip(ts, wt)]
    w, t, log, m, v = map(np.array, zip(*cells))
    p = w * np.exp(log - log.max()); p /= p.sum()
    cdf = lambda q: float(p @ ndtr((q - m) / np.sqrt(v)))
    scale = float(np.sqrt(p @ (v + m * m)))
    quantile = lambda q: brentq(lambda g: cdf(g) - q, -20 * scale, 20 * scale, xtol=1e-13)
    return dict(median=quantile(.5), lower=quantile(.025), upper=quantile(.975), below=cdf(low), inside=cdf(high) - cdf(low), heatSdQuartiles=heat_sd_quartiles(u0, node, panels, prior))

def heat_sd_quartiles(u0, node, panels, prior):
    """Distribution of tau: trapezoidal rule on a fine grid (four digits), sigma integrated out at each point."""
    us, wu = panels(u0 + np.array([-2, -0.4, 0, 0.4, 1, 4]), 8)
    grid = np.concatenate([np.linspace(0, prior, 301), np.linspace(prior, 5 * prior, 201)[1:]])
    log = np.array([[node(u, t)[0] for u in us] for t in grid])
    density = np.exp(log - log.max()) @ wu
    cdf = np.concatenate([[0], np.cumsum(0.5 * (density[1:] + density[:-1]) * np.diff(grid))])
    return [float(np.interp(q, cdf / cdf[-1], grid)) for q in (.25, .5, .75)]

def dataset(file, heat, value, assign):
    rows = list(csv.DictReader(open("../../Published/datasets/" + file)))
    strip = lambda s: s.strip('"')
    return ([np.log(float(r[value])) for r in rows], [strip(r[heat]) for r in rows], [assign[strip(r[heat])] for r in rows])

out = {}
z, h, s = dataset("dyestuff.csv", "Batch", "Yield", dict(A="R", B="R", C="R", D="C", E="C", F="C"))
out["dyestuff"] = posterior(z, h, s, [0] * len(z), 0, 0, 0.25, -0.05, 0.05)
z, h, s = dataset("rail.csv", "Rail", "travel", {"1": "R", "2": "R", "5": "R", "3": "C", "4": "C", "6": "C"})
out["rail"] = posterior(z, h, s, [0] * len(z), 0, 0, 0.25, np.log(0.8), np.log(1.25))
# Invented: three sources, unequal counts, a single coupon, and a slope to equal hardness.
heats = [("C", [3.02, 3.11, 2.95, 3.07], 58.2), ("C", [2.93, 2.99], 58.9), ("R", [3.15, 3.08, 3.22], 57.8), ("R", [3.01], 58.4), ("R", [3.19, 3.26, 3.12, 3.2], 57.5), ("S", [2.9, 3.0], 59.0), ("S", [3.06, 2.98, 3.09], 58.1)]
z, h, s, x = [], [], [], []
for i, (src, vals, hrc) in enumerate(heats):
    for val in vals: z.append(val); h.append(i); s.append(src); x.append(hrc)
out["unbalanced"] = posterior(z, h, s, x, -0.12, 0.04, 0.25, np.log(0.8), np.log(1.25))
print(json.dumps(out, indent=1))
