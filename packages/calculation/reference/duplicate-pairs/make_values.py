"""Lines of greatest likelihood through duplicates, by a general minimiser in two variables.

Run: python3 make_values.py > fits.json (numpy 1.24.2, scipy 1.10.1)
"""
import csv
import json
import numpy as np
from scipy import optimize


def fit(first, second):
    first, second = np.array(first), np.array(second)
    level, d = np.abs(first + second) / 2, first - second
    scale = level.mean()

    def loss(p):
        s = p[0] + p[1] * level / scale
        if np.any(s <= 0):
            return np.inf
        return np.sum(np.log(s)) + np.sum(d**2 / (4 * s**2))

    start = np.sqrt(np.mean(d**2) / 2)
    best = None
    for share in (0.01, 0.2, 0.5, 0.8, 0.99):
        found = optimize.minimize(loss, [start * (1 - share), start * share], method='L-BFGS-B',
                                  bounds=[(0, None), (0, None)], options={'ftol': 1e-15, 'gtol': 1e-12, 'maxiter': 5000})
        found = optimize.minimize(lambda q: loss(np.abs(q)), found.x, method='Nelder-Mead',
                                  options={'xatol': 1e-14, 'fatol': 1e-14, 'maxiter': 20000, 'maxfev': 20000})
        if best is None or found.fun < best.fun:
            best = found
    a, b = np.abs(best.x)
    return {'atZero': float(a), 'perLevel': float(b / scale)}


def column(name, i):
    return [float(row[i]) for row in list(csv.reader(open(name)))[1:]]


print(json.dumps({
    'stanley': fit(column('stanley.csv', 1), column('stanley.csv', 2)),
    'silver': fit(column('kola.csv', 2), column('kola.csv', 3)),
    'copper': fit(column('kola.csv', 4), column('kola.csv', 5)),
}, indent=1))
