# Makes dunnett.json: tails of the largest of k t statistics against one control, correlation l_i*l_j, by double quadrature in 40-digit arithmetic.
import json, sys
from mpmath import mp, mpf, sqrt, exp, pi, erfc, gamma, log
mp.dps = 40
def nodes(n):
    import numpy.polynomial.legendre as L
    out = []
    for x in L.leggauss(n)[0]:                       # polish the double nodes by Newton
        x = mpf(float(x))
        for _ in range(4):
            p0, p1 = mpf(1), x
            for k in range(2, n + 1): p0, p1 = p1, ((2 * k - 1) * x * p1 - (k - 1) * p0) / k
            d = n * (x * p1 - p0) / (x * x - 1); x -= p1 / d
        out.append((x, 2 / ((1 - x * x) * d * d)))
    return out
GL = nodes(24)
def integrate(f, a, b, panels):
    h = (mpf(b) - a) / panels; s = mpf(0)
    for i in range(panels):
        for x, w in GL: s += w * f(a + h * (i + (1 + x) / 2))
    return s * h / 2
Q = lambda z: erfc(z / sqrt(mpf(2))) / 2
def tail(t, lam, nu, two):
    lam = [mpf(l) for l in lam]; t = mpf(t); nu = mpf(nu); c = [sqrt(1 - l * l) for l in lam]
    def given(s):
        def f(u):
            p = mpf(1)
            for l, k in zip(lam, c): p *= 1 - Q((t * s - l * u) / k) - (Q((t * s + l * u) / k) if two else 0)
            return exp(-u * u / 2) / sqrt(2 * pi) * (1 - p)
        return integrate(f, -13, 13, 9)
    front = 2 * (nu / 2) ** (nu / 2) / gamma(nu / 2)
    dens = lambda s: front * s ** (nu - 1) * exp(-nu * s * s / 2)
    return integrate(lambda s: dens(s) * given(s), mpf(10) ** -6, 1 + 12 / sqrt(nu), 9)
h = '0.70710678118654752440084436210484903928'
rows = [(2.54, [h] * 3, 20), (4, [h] * 5, 8), (9, [h] * 2, 12), (6, ['0.5', '0.7', '0.8'], 30), (3, ['0.3', '0.6', '0.6', '0.9'], 7)]
out = [dict(t=t, lam=l, df=nu, twoSided=mp.nstr(tail(t, l, nu, True), 18), oneSided=mp.nstr(tail(t, l, nu, False), 18)) for t, l, nu in rows]
json.dump(dict(what='upper tails of the largest |t| (twoSided) and largest t (oneSided) of comparisons with one control', digits='15', cases=out), open(sys.argv[1], 'w'), indent=1)
