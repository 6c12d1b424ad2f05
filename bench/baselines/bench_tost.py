#!/usr/bin/env python3
"""Power of Welch TOST by simulation, 100000 replicates, n = 9 + 9, log scale, limits 0.8-1.25, sd 0.15, true ratio 0.97. usage: /usr/bin/python3 bench_tost.py"""
import time, statistics, numpy as np
from scipy import stats
T = []
for i in range(8):
    t = time.perf_counter(); g = np.random.default_rng(3); N, n = 100000, 9; x = g.normal(np.log(.97), .15, (N, n)); y = g.normal(0, .15, (N, n))
    d = x.mean(1) - y.mean(1); v1 = x.var(1, ddof=1)/n; v2 = y.var(1, ddof=1)/n; se = np.sqrt(v1 + v2); df = (v1 + v2)**2/((v1**2 + v2**2)/(n-1)); q = stats.t.isf(.05, df); L = np.log(1.25)
    p = np.mean(((d + L)/se > q) & ((d - L)/se < -q)); T.append(time.perf_counter() - t)
print('{"name":"numpy","seconds":%.5f,"power":%.5f}' % (statistics.median(T[1:]), p))
