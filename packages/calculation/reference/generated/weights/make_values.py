"""Values of the dip, of truncated normal fits and of two-normal fits by other roads.

Run: /usr/bin/python3 make_values.py > values.json   (Python 3.11, numpy 1.24.2, scipy 1.10.1)
"""
import json
from pathlib import Path

import numpy as np
from scipy import optimize, stats
from scipy.optimize import linprog
from scipy.special import log_ndtr


def dip_by_programming(values):
    """Least greatest distance from a distribution convex before and concave after a mode, mode by mode."""
    x = np.sort(np.asarray(values, float))
    n = x.size
    v, counts = np.unique(x, return_counts=True)
    after = np.cumsum(counts)
    before = after - counts
    m = v.size
    best = np.inf
    for mode in range(m):
        left, right = mode + 1, m - mode
        size = left + right + 1
        rows, limits = [], []

        def add(terms, limit):
            row = np.zeros(size)
            for place, factor in terms:
                row[place] += factor
            rows.append(row)
            limits.append(limit)

        d = size - 1
        for j in range(left):
            # Before the jump at the mode the count is still the one before it.
            add([(j, 1), (d, -1)], before[j])
            add([(j, -1), (d, -1)], -(after[j] if j < mode else before[j]))
        for q in range(right):
            j, i = mode + q, left + q
            add([(i, -1), (d, -1)], -after[j])
            add([(i, 1), (d, -1)], before[j] if j > mode else after[j])
        for i in range(left + right - 1):
            add([(i, 1), (i + 1, -1)], 0)
        for j in range(1, left - 1):
            h1, h2 = v[j] - v[j - 1], v[j + 1] - v[j]
            add([(j - 1, -1 / h1), (j, 1 / h1 + 1 / h2), (j + 1, -1 / h2)], 0)
        for q in range(1, right - 1):
            j, i = mode + q, left + q
            h1, h2 = v[j] - v[j - 1], v[j + 1] - v[j]
            add([(i - 1, 1 / h1), (i, -1 / h1 - 1 / h2), (i + 1, 1 / h2)], 0)
        cost = np.zeros(size)
        cost[-1] = 1
        bounds = [(0, n)] * (size - 1) + [(0, None)]
        found = linprog(cost, A_ub=np.array(rows), b_ub=np.array(limits), bounds=bounds, method="highs")
        best = min(best, found.fun)
    return max(best / n, 1 / (2 * n))


rng = np.random.default_rng(1985)
samples = []
for _ in range(12):
    samples.append(np.round(rng.normal(0, 1, int(rng.integers(4, 15))), 3).tolist())
for _ in range(12):
    samples.append(rng.integers(0, 8, int(rng.integers(4, 16))).tolist())
for _ in range(12):
    n = int(rng.integers(6, 16))
    half = n // 2
    samples.append(np.round(np.concatenate([rng.normal(0, 1, half), rng.normal(4, 1, n - half)]), 2).tolist())
dips = [{"values": s, "dip": dip_by_programming(s)} for s in samples]


def truncated(values, low, high):
    """Maximum likelihood with the library's own density, Nelder and Mead, then the Hessian by differences."""
    x = np.asarray(values)
    m, s = x.mean(), x.std()

    def loss(p):
        mean, sd = m + s * p[0], s * np.exp(p[1])
        a = -np.inf if low is None else (low - mean) / sd
        b = np.inf if high is None else (high - mean) / sd
        return -stats.truncnorm.logpdf(x, a, b, mean, sd).sum()

    found = optimize.minimize(loss, [0, 0], method="Nelder-Mead", options={"xatol": 1e-10, "fatol": 1e-11, "maxiter": 4000})
    p = found.x
    h = 1e-3
    step = np.eye(2) * h
    hess = np.array([[(loss(p + step[i] + step[j]) - loss(p + step[i] - step[j]) - loss(p - step[i] + step[j])
                       + loss(p - step[i] - step[j])) / (4 * h * h) for j in range(2)] for i in range(2)])
    cov = np.linalg.inv(hess)
    sd = s * np.exp(p[1])
    return {"mean": m + s * p[0], "sd": sd, "meanError": s * np.sqrt(cov[0, 0]),
            "sdError": sd * np.sqrt(cov[1, 1]), "logLikelihood": -found.fun}


cuts = []
for name, low, high, size in (("cut below", 31.09, None, 200), ("cut above", None, 31.12, 200),
                              ("cut on both sides", 31.08, 31.13, 400), ("hardly cut", 31.04, None, 100)):
    a = -np.inf if low is None else (low - 31.1) / 0.02
    b = np.inf if high is None else (high - 31.1) / 0.02
    x = np.round(stats.truncnorm.rvs(a, b, 31.1, 0.02, size=size, random_state=rng), 4)
    cuts.append({"name": name, "low": low, "high": high, "values": x.tolist(), **truncated(x, low, high)})

coins = np.array([float(line.split(",")[2]) for line in
                  (Path(__file__).parents[2] / "euro-coin-weights" / "values.csv").read_text().split()[1:]])
window = coins[(coins >= 7.5) & (coins <= 7.58)]
sorted_coins = {"low": 7.4995, "high": 7.5805, **truncated(window, 7.4995, 7.5805), "count": int(window.size)}


def two_normals(x, start):
    m, s = x.mean(), x.std()
    u = (x - m) / s

    def loss(p):
        a, m1, m2, l1, l2 = p
        return -np.logaddexp(stats.norm.logpdf(u, m1, np.exp(l1)) - np.logaddexp(0, -a),
                             stats.norm.logpdf(u, m2, np.exp(l2)) - np.logaddexp(0, a)).sum()

    found = optimize.minimize(loss, start, method="Nelder-Mead",
                              options={"xatol": 1e-10, "fatol": 1e-10, "maxiter": 20000, "maxfev": 20000, "adaptive": True})
    a, m1, m2, l1, l2 = found.x
    return {"share": 1 / (1 + np.exp(-a)), "means": [m + s * m1, m + s * m2],
            "sds": [s * np.exp(l1), s * np.exp(l2)], "logLikelihood": -found.fun - x.size * np.log(s)}


strays = two_normals(coins, [np.log(0.004 / 0.996), -0.5, 0, np.log(5), np.log(0.96)])
heaps = np.round(np.concatenate([rng.normal(31.1, 0.02, 90), rng.normal(31.16, 0.015, 60)]), 4)
mixed = two_normals(heaps, [np.log(1.5), -0.7, 0.9, -0.5, -0.8])

print(json.dumps({"dips": dips, "cuts": cuts, "coins": {"cut": sorted_coins, "strays": strays},
                  "heaps": {"values": heaps.tolist(), **mixed}}))
