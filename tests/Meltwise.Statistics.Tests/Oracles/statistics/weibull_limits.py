#!/usr/bin/python3
"""Makes weibull_limits.json: 95 % limits of a Weibull shape and scale with readings ended at one bound, by the constrained parametric bootstrap of the signed root of the likelihood ratio.
Readings invented. scipy's general root finder, 60000 samples at every trial value (numpy's generator), no table over the chance of a failure. usage: weibull_limits.py > weibull_limits.json"""
import json
import numpy as np
from scipy import optimize
B = 60000

def shapes(L, d, s):  # L (B, n) logs, d failures, s sum of the failures' logs: bisection on ln m
    mx = L.max(1, keepdims=True); Z = L - mx; t = s / d - mx[:, 0]; lo, hi = np.full(len(L), -9.0), np.full(len(L), 9.0)
    for _ in range(38):
        c = (lo + hi) / 2; w = np.exp(np.exp(c)[:, None] * Z); e = (w * Z).sum(1) / w.sum(1) - np.exp(-c) - t; lo, hi = np.where(e > 0, lo, c), np.where(e > 0, c, hi)
    return np.exp((lo + hi) / 2)
def log_scale(L, d, m): mx = L.max(1, keepdims=True); return mx[:, 0] + np.log(np.exp(m[:, None] * (L - mx)).sum(1) / d) / m
def loglik(L, d, s, m, u): return d * np.log(m) + m * (s - d * u) - np.exp(m[:, None] * (L - u[:, None])).sum(1)
def shape_at(L, d, s, u):
    Z = L - u[:, None]; lo, hi = np.full(len(L), -9.0), np.full(len(L), 9.0)
    for _ in range(38):
        c = (lo + hi) / 2; m = np.exp(c); e = d / m + s - d * u - (Z * np.exp(np.minimum(m[:, None] * Z, 500))).sum(1); lo, hi = np.where(e > 0, c, lo), np.where(e > 0, hi, c)
    return np.exp((lo + hi) / 2)
def roots(L, d, s, m0, u0):
    m = shapes(L, d, s); top = loglik(L, d, s, m, log_scale(L, d, m)); a, b = np.full(len(L), m0), np.full(len(L), u0); u = log_scale(L, d, m)
    r = np.sign(m - a) * np.sqrt(np.maximum(0, 2 * (top - loglik(L, d, s, a, log_scale(L, d, a))))); q = np.sign(u - b) * np.sqrt(np.maximum(0, 2 * (top - loglik(L, d, s, shape_at(L, d, s, b), b))))
    return r, q
def limits(x, bound):
    x = np.array(x); n = len(x); L = np.log(np.minimum(x, bound))[None]; f = x < bound; d = np.array([f.sum()]); s = np.array([L[0, f].sum()]); m = shapes(L, d, s)[0]; u = log_scale(L, d, np.array([m]))[0]
    def share(which, m0, u0):  # chance that the root under (m0, u0) lies below the one observed
        rng = np.random.default_rng(5); y = u0 + np.log(-np.log(rng.random((B, n)))) / m0; fb = y <= np.log(bound); y = np.minimum(y, np.log(bound)); db = fb.sum(1); ok = db >= 3; y, fb, db = y[ok], fb[ok], db[ok]
        return (roots(y, db, (y * fb).sum(1), m0, u0)[which] < roots(L, d, s, m0, u0)[which][0]).mean()
    shape = lambda lm: share(0, np.exp(lm), log_scale(L, d, np.exp([lm]))[0]); scale = lambda v: share(1, shape_at(L, d, s, np.array([v]))[0], v)
    out = {}
    for name, f_, at, w in (('shape', shape, np.log(m), 2.5), ('scale', scale, u, 3 / m)):
        out[name] = [float(np.exp(optimize.brentq(lambda v: f_(v) - p, *span, xtol=5e-4 * w))) for p, span in ((.975, (at - w, at)), (.025, (at, at + 1.5 * w)))]
    return dict(values=[float(min(v, bound)) for v in x], failed=[bool(v) for v in f], shapeEstimate=float(m), scaleEstimate=float(np.exp(u)), **out)
cases = {'12 coupons, machine ends at 1050': ([812, 1310, 944, 1021, 1188, 876, 990, 1033, 1490, 921, 1120, 1004], 1050), '8 coupons, machine ends at 400': ([310, 520, 355, 289, 388, 610, 342, 371], 400), '5 coupons, all failed': ([812, 1310, 944, 1021, 1188], 1e9)}
print(json.dumps(dict(madeUp=True, what='95 % limits; Monte-Carlo error of the signed root at a limit 0.01', cases={k: limits(*v) for k, v in cases.items()}), indent=1))
