"""Q method and Hampel's estimator of the copper results, by their definitions and a root finder.

Run: python3 make_values.py (numpy 1.24.2, scipy 1.10.1); it adds its two figures to values.json.
"""
import json
import itertools
import numpy as np
from scipy import optimize, stats

values = json.load(open('values.json'))
x = np.array(values['copper']['results'])
d = np.array([abs(a - b) for a, b in itertools.combinations(x, 2)])
jumps = np.unique(d)
share = np.array([np.mean(d <= v) for v in jumps])
at_zero = np.mean(d == 0)
middle = [(0.0, 0.0)]
for i, v in enumerate(jumps):
    if v == 0:
        continue
    middle.append((v, 0.5 * (share[i] + (share[i - 1] if i else 0.0))))
xs, gs = np.array(middle).T
q = np.interp(0.25 + 0.75 * at_zero, gs, xs) / (np.sqrt(2) * stats.norm.ppf(0.625 + 0.375 * at_zero))


def score(t):
    a = abs(t)
    value = a if a <= 1.5 else 1.5 if a <= 3 else max(0.0, 4.5 - a)
    return np.sign(t) * value


total = lambda centre: sum(score((v - centre) / q) for v in x)
centre = np.median(x)
values['qByDefinition'] = float(q)
values['hampelByDefinition'] = float(optimize.brentq(total, centre - q, centre + q, xtol=1e-14))
json.dump(values, open('values.json', 'w'), indent=1)
