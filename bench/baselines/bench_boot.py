#!/usr/bin/env python3
"""scipy BCa, 10000 replicates, vectorised. usage: /usr/bin/python3 bench_boot.py FOLDER"""
import sys, time, csv, statistics, numpy as np
from scipy import stats
r = list(csv.DictReader(open(sys.argv[1] + '/two9.csv'))); a = np.log([float(t['energy_j']) for t in r if t['heat'] == 'A']); b = np.log([float(t['energy_j']) for t in r if t['heat'] == 'B'])
T = []
for i in range(8):
    t = time.perf_counter(); c = stats.bootstrap((a, b), lambda x, y, axis=-1: x.mean(axis) - y.mean(axis), n_resamples=10000, method='BCa', vectorized=True, random_state=np.random.default_rng(1)).confidence_interval; T.append(time.perf_counter() - t)
print('{"name":"scipy bootstrap","seconds":%.6f,"lo":%.5f,"hi":%.5f}' % (statistics.median(T[1:]), c.low, c.high))
