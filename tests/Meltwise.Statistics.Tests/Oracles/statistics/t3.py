#!/usr/bin/python3
"""Makes t3.json: Dunnett's T3 (1980) for four invented groups: Welch's standard errors and degrees of freedom, critical values and p values of the studentized maximum modulus of 6 by adaptive quadrature over the chi density (scipy). usage: t3.py > t3.json"""
import json
import numpy as np
from scipy import integrate, optimize, stats
groups = [[3.41, 3.38, 3.52], [3.30, 3.44, 3.21, 3.36], [3.62, 3.40, 3.71, 3.55], [3.05, 3.61, 3.33, 3.80]]
def tail(m, k, nu):
    f = lambda s: (1 - (2 * stats.norm.cdf(m * s) - 1) ** k) * stats.chi.pdf(s * np.sqrt(nu), nu) * np.sqrt(nu)
    return integrate.quad(f, 0, 1, epsabs=0, epsrel=1e-12, limit=500)[0] + integrate.quad(f, 1, np.inf, epsabs=1e-15, epsrel=1e-12, limit=500)[0]
def critical(a, k, nu): return optimize.brentq(lambda m: tail(m, k, nu) - a, 0.1, 200, xtol=1e-13)
rows = []
for i in range(4):
    for j in range(i + 1, 4):
        a, b = np.array(groups[i]), np.array(groups[j]); va, vb = a.var(ddof=1) / len(a), b.var(ddof=1) / len(b); se = np.sqrt(va + vb); nu = (va + vb) ** 2 / (va ** 2 / (len(a) - 1) + vb ** 2 / (len(b) - 1)); d = b.mean() - a.mean(); m = critical(.05, 6, nu)
        rows.append(dict(first=i, second=j, difference=d, standardError=se, degreesOfFreedom=nu, lower=d - m * se, upper=d + m * se, p=tail(abs(d) / se, 6, nu)))
print(json.dumps(dict(madeUp=True, groups=groups, pairs=rows), indent=1))
