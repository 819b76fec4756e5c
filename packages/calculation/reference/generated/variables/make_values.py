"""Figures of plans by variables and of the test for a normal distribution, with scipy and mpmath.

Run: python3 make_values.py > values.json   (scipy 1.17.1, numpy, mpmath 1.3.0)
"""
import json
import sys
import numpy as np
from scipy import optimize, stats

GRID = [(1, 0.5, 1.0), (4, 1.53, 2.3), (9, 1.72, 1.6), (34, 1.89, 2.33), (34, 1.89, 1.28), (49, 1.93, 1.7),
        (99, 2.0, 2.0), (199, 2.04, 1.9), (499, 2.5, 2.4)]
noncentral = [{"nu": nu, "t": k * (nu + 1) ** 0.5, "delta": z * (nu + 1) ** 0.5,
               "upper": float(stats.nct.sf(k * (nu + 1) ** 0.5, nu, z * (nu + 1) ** 0.5))} for nu, k, z in GRID]

precise = []
try:
    import mpmath as mp
    mp.mp.dps = 40
    for nu, t, d in ((1, 3.0, 5.0), (4, 3.42, 5.2), (34, 11.18, 13.76), (199, 28.0, 20.0), (99, 26.0, 14.0), (3, 50.0, 5.0)):
        density = lambda w: mp.e ** (-mp.mpf(nu) / 2 * (mp.expm1(2 * w) - 2 * w))
        tail = lambda w: mp.erfc(-(d - t * mp.e ** w) / mp.sqrt(2)) / 2 * density(w)
        s = 1 / mp.sqrt(2 * nu)
        cuts = sorted({p for p in [-mp.mpf(60) / nu - 20 * s] + [k * s / 2 for k in range(-32, 33)] + [mp.mpf(3)]
                       if -mp.mpf(60) / nu - 20 * s <= p <= 3})
        precise.append({"nu": nu, "t": t, "delta": d, "upper": float(mp.quad(tail, cuts) / mp.quad(density, cuts))})
except ImportError:
    pass

rng = np.random.default_rng(1848)
samples = {
    "three": np.round(rng.normal(10, 1, 3), 3),
    "five": np.round(rng.normal(10, 1, 5), 3),
    "eleven": np.round(rng.normal(10, 1, 11), 3),
    "twelve": np.round(rng.normal(10, 1, 12), 3),
    "sixty": np.round(rng.normal(31.1, 0.05, 60), 4),
    "cut below": np.round(stats.truncnorm.rvs(-0.5, 8, 31.1, 0.05, size=80, random_state=rng), 4),
    "two heaps": np.round(np.concatenate([rng.normal(31.0, 0.02, 30), rng.normal(31.2, 0.02, 30)]), 4),
    "skewed": np.round(rng.lognormal(0, 0.5, 50), 4),
    "many": np.round(rng.normal(0, 1, 400), 3),
}
shapes = []
for name, x in samples.items():
    w, p = stats.shapiro(x)
    shapes.append({"name": name, "values": x.tolist(), "statistic": float(w), "probability": float(p)})


def search(p1, a, p2, b):
    """Smallest n by walking, k from the producer's point."""
    n = 2
    while True:
        n += 1
        f = lambda k: stats.nct.sf(k * n ** 0.5, n - 1, stats.norm.isf(p1) * n ** 0.5) - (1 - a)
        k = optimize.brentq(f, -1, 6, xtol=1e-13)
        if stats.nct.sf(k * n ** 0.5, n - 1, stats.norm.isf(p2) * n ** 0.5) <= b:
            return {"goodPercent": 100 * p1, "producerRisk": a, "badPercent": 100 * p2, "consumerRisk": b, "n": n, "k": k}


plans = [search(*q) for q in ((0.01, 0.05, 0.06, 0.1), (0.05, 0.05, 0.15, 0.075), (0.001, 0.05, 0.02, 0.05), (0.02, 0.1, 0.2, 0.1))]
json.dump({"noncentral": noncentral, "precise": precise, "shapes": shapes, "plans": plans}, sys.stdout, indent=1)
print()
