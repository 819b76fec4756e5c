"""Values of lines, jumps and air density from numpy and scipy.

Run: python3 make_values.py > values.json   (Python 3.11, numpy 1.24, scipy 1.10, mpmath)
"""
import json
import os
import mpmath as mp
import numpy as np
import scipy
from scipy import stats

mp.mp.dps = 30


def student(p, v):
    """Quantile of Student's t in the upper half; that of scipy 1.10 errs by up to 1e-9."""
    tail = 1 - mp.mpf(repr(p))
    return float(mp.findroot(
        lambda x: mp.betainc(v / mp.mpf(2), mp.mpf(1) / 2, 0, v / (v + x * x), regularized=True) / 2 - tail,
        stats.t.ppf(p, v)))


here = os.path.dirname(os.path.abspath(__file__))


def line(x, y, at, level):
    """Least-squares line by the normal equations of linregress, with intervals."""
    x, y = np.asarray(x, float), np.asarray(y, float)
    n = len(x)
    fit = stats.linregress(x, y)
    s = np.sqrt(np.sum((y - fit.intercept - fit.slope * x) ** 2) / (n - 2))
    t = student(0.5 + level / 200, n - 2)
    sxx = np.sum((x - x.mean()) ** 2)
    half = t * s * np.sqrt(1 + 1 / n + (at - x.mean()) ** 2 / sxx)
    return {"slope": fit.slope, "slopeHalf": t * fit.stderr, "residualStandardDeviation": s,
            "value": fit.intercept + fit.slope * at, "half": half}


def jump(x, y):
    """Most significant step on top of a line, by full least squares at every place."""
    x, y = np.asarray(x, float), np.asarray(y, float)
    n = len(x)
    best = None
    places = 0
    for k in range(1, n):
        if x[k] <= x[k - 1]:
            continue
        a = np.column_stack([np.ones(n), x - x.mean(), (np.arange(n) >= k).astype(float)])
        if np.linalg.matrix_rank(a, tol=1e-8) < 3:
            continue
        places += 1
        coefficients, _, _, _ = np.linalg.lstsq(a, y, rcond=None)
        rss = np.sum((y - a @ coefficients) ** 2)
        if best is None or rss < best[0]:
            covariance = np.linalg.inv(a.T @ a) * rss / (n - 3)
            p = 2 * stats.t.sf(abs(coefficients[2]) / np.sqrt(covariance[2, 2]), n - 3)
            best = (rss, k, coefficients[2], p)
    return {"index": best[1], "size": best[2], "probability": min(1.0, best[3] * places)}


rng = np.random.default_rng(1931)
histories = []
for kind, n in (("drift", 8), ("quiet", 12), ("jump", 14), ("jump", 20), ("drift", 30)):
    x = np.round(np.sort(rng.uniform(0, 10, n)), 3)
    y = rng.normal(0, 0.01, n) + (0.004 * x if kind == "drift" else 0)
    if kind == "jump":
        y = y + np.where(np.arange(n) >= n // 2, 0.05, 0)
    y = np.round(y, 5)
    at = float(x[-1] + 1)
    histories.append({"kind": kind, "x": x.tolist(), "y": y.tolist(), "at": at, "levelPercent": 95,
                      "line": line(x, y, at, 95), "jump": jump(x, y)})

table = np.genfromtxt(os.path.join(here, "../../nist-check-standard/values.csv"), delimiter=",", names=True)
years, values = table["date_years_since_1900"], table["check_standard_mg"]
check = {"line": line(years, values, 91.0, 95), "jump": jump(years, values)}

readings = [200.0001, 200.0002, 200.0001, 200.0, 200.0001, 200.0002, 200.0, 200.0001, 200.0001, 200.0002]
loads = np.array([20, 50, 100, 200.0])
errors = np.array([0, 0.1, 0.1, 0.3])
slope = float(np.linalg.lstsq(loads[:, None], errors, rcond=None)[0][0])
balance = {"standardDeviation": float(np.std((np.array(readings) - 200) * 1000, ddof=1)),
           "sensitivityErrorPartsPerMillion": 1000 * slope,
           "departures": (errors - slope * loads).tolist(),
           "drift": float(stats.linregress([18, 21, 24], np.array([-0.2, 0.2, 1.1]) / 200 * 1000).slope)}


def cipm(t, p, h, x):
    """CIPM-2007 written out once more, in vectors."""
    k = t + 273.15
    psv = np.exp(np.polyval([1.2378847e-5, -1.9121316e-2, 33.93711047], k) - 6.3431645e3 / k)
    xv = h * (1.00062 + 3.14e-8 * p + 5.6e-7 * t**2) * psv / p
    b = np.polyval([1.1043e-10, -2.9331e-8, 1.58123e-6], t)
    z = (1 - p / k * (b + (5.707e-6 - 2.051e-8 * t) * xv + (1.9898e-4 - 2.376e-6 * t) * xv**2)
         + (p / k) ** 2 * (1.83e-11 - 0.765e-8 * xv**2))
    m = (28.96546 + 12.011 * (x - 4e-4)) * 1e-3
    return p * m / (z * 8.314472 * k) * (1 - xv * (1 - 18.01528e-3 / m))


t, p = rng.uniform(15, 27, 40), rng.uniform(60000, 110000, 40)
h, x = rng.uniform(0, 1, 40), rng.uniform(3e-4, 1e-3, 40)
air = [[float(v) for v in row] for row in zip(t, p, h, x, cipm(t, p, h, x))]

factors = [{"levelPercent": level, "degreesOfFreedom": v,
            "factor": float(stats.norm.ppf(0.5 + level / 200) if v is None else student(0.5 + level / 200, v))}
           for level in (68.27, 95, 95.45, 99) for v in (1, 4.7, 9, 60, None)]

print(json.dumps({"scipy": scipy.__version__, "histories": histories, "checkStandard": check,
                  "balanceCheck": balance, "air": air, "coverageFactors": factors}, indent=1))
