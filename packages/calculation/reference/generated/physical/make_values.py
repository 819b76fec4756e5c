"""Values of grain, hardness and size statistics from numpy and scipy.

Run: python3 make_values.py > values.json   (Python 3.11, numpy 1.24, scipy 1.10, mpmath)
"""
import json
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


rng = np.random.default_rng(1926)


def interval(values):
    """Mean, standard deviation and half width of the 95 % interval of the mean."""
    n = len(values)
    return {"mean": float(np.mean(values)), "standardDeviation": float(np.std(values, ddof=1)),
            "half": student(0.975, n - 1) * float(stats.sem(values))}


grains = []
for n, rate in ((5, 40), (7, 12.5), (12, 90), (30, 25)):
    counts = rng.poisson(2 * rate, n) / 2
    per_millimetre = counts * 200 / 350
    found = interval(per_millimetre)
    found["grainSize"] = float(-6.643856189774724 * np.log10(1 / found["mean"]) + 2 * np.log2(0.32))
    grains.append({"magnification": 200, "lineLengthMillimetres": 350, "counts": counts.tolist(), **found})

areas = []
for n, rate in ((5, 60), (10, 35)):
    inside, edge = rng.poisson(rate, n), rng.poisson(rate / 3, n)
    for shape, extra in (("circle", 0), ("rectangle", 1)):
        found = interval((inside + edge / 2 + extra) * 100**2 / 5000)
        found["grainSize"] = float(np.log2(found["mean"] * 25.4**2 / 100**2) + 1)
        areas.append({"shape": shape, "inside": inside.tolist(), "edge": edge.tolist(), **found})

hardness = []
for force, centre, n in ((9.807, 0.13, 6), (4.903, 0.152, 12)):
    d1, d2 = np.round(rng.normal(centre, 0.001, n), 4), np.round(rng.normal(centre, 0.001, n), 4)
    values = 2 * force * np.sin(np.deg2rad(68)) / 9.80665 / ((d1 + d2) / 2) ** 2
    hardness.append({"force": force, "first": d1.tolist(), "second": d2.tolist(), **interval(values)})

sizes = [{"reading": r, "lower": lo, "upper": up, "u": u,
          "inside": float(stats.norm.cdf((up - r) / u) - stats.norm.cdf((lo - r) / u))}
         for r, lo, up, u in ((32.69, 32.64, 32.74, 0.02), (2.801, 2.7, 2.81, 0.006), (2.812, 2.7, 2.81, 0.006),
                              (10, 9.99, 10.01, 0.02))]

print(json.dumps({"scipy": scipy.__version__, "intercepts": grains, "areas": areas,
                  "hardness": hardness, "sizes": sizes}, indent=1))
