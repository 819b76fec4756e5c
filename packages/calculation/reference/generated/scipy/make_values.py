"""Values of distributions and of the Anderson-Darling statistic from other programs.

Run: python3 make_values.py > values.json   (Python 3.11, mpmath 1.3.0, scipy 1.17.1, numpy)
"""
import json
import mpmath as mp
import numpy as np
from scipy import stats

mp.mp.dps = 40


def cdf(z):
    return float(mp.erfc(-mp.mpf(z) / mp.sqrt(2)) / 2)


def quantile(p):
    p = mp.mpf(repr(p))
    z = stats.norm.ppf(float(p))
    return float(mp.findroot(lambda x: mp.log(mp.erfc(-x / mp.sqrt(2)) / 2) - mp.log(p), z))


normal = [{"z": z, "probability": cdf(z)} for z in (-37, -30, -20, -12, -8, -5, -3, -1, -0.1, 0, 0.5, 2, 6)]
quantiles = [{"probability": p, "z": quantile(p)} for p in
             (1e-300, 1e-100, 1e-15, 1e-12, 5e-7, 5e-4, 0.025, 0.3, 0.5, 0.8, 0.975, 0.9999)]

rng = np.random.default_rng(1848)
samples = {
    "normal": np.round(rng.normal(31.1, 0.05, 60), 4),
    "cut below": np.round(stats.truncnorm.rvs(-0.5, 8, 31.1, 0.05, size=60, random_state=rng), 4),
    "two heaps": np.round(np.concatenate([rng.normal(31.0, 0.02, 30), rng.normal(31.2, 0.02, 30)]), 4),
    "uniform": np.round(rng.uniform(31, 31.2, 60), 4),
}
shapes = []
for name, x in samples.items():
    # scipy gives the plain statistic; the small-sample factor of Stephens is applied here.
    n = len(x)
    s = np.sort(x)
    z = (s - s.mean()) / s.std(ddof=1)
    i = np.arange(1, n + 1)
    a = -n - np.sum((2 * i - 1) / n * (stats.norm.logcdf(z) + stats.norm.logsf(z[::-1])))
    library = float(stats.anderson(x, "norm", method="interpolate").statistic)
    assert abs(a - library) < 1e-9, (a, library)
    shapes.append({"name": name, "values": x.tolist(), "statistic": library * (1 + 0.75 / n + 2.25 / n**2)})

bounds = [{"found": x, "examined": n, "bound": float(stats.beta.ppf(0.95, x + 1, n - x))}
          for x, n in ((0, 30), (0, 100), (3, 50), (19, 2000), (49, 50))]
hypergeometric = [{"n": n, "c": c, "N": N, "D": D, "probability": float(
    sum(mp.binomial(D, x) * mp.binomial(N - D, n - x) for x in range(c + 1)) / mp.binomial(N, n))}
    for n, c, N, D in ((5, 0, 50, 5), (80, 2, 500, 20), (200, 7, 1500, 90), (1250, 21, 10000, 250), (32, 1, 40, 3))]
print(json.dumps({"normal": normal, "quantiles": quantiles, "shapes": shapes,
                  "bounds": bounds, "hypergeometric": hypergeometric}, indent=1))
