"""Values of control charts from other programs.

Run: python3 make_values.py > values.json   (Python 3.11, numpy 1.24, scipy 1.10, mpmath 1.2)
"""
import json
import mpmath as mp
import numpy as np
import scipy
from scipy import stats
from scipy.special import roots_legendre

mp.mp.dps = 25


def cdf(x):
    return mp.erfc(-x / mp.sqrt(2)) / 2


# Mean and variance of the range: double integral over the joint density of least and greatest,
# E[W^2] = 2 * integral of w * (1 - F(w)), in 25 digits.
sizes = (2, 3, 5, 10, 25, 50, 100)
step = mp.mpf(1) / 16
grid = [i * step for i in range(-12 * 16, 12 * 16 + 1)]
below = [cdf(z) for z in grid]
density = [mp.exp(-z * z / 2) / mp.sqrt(2 * mp.pi) for z in grid]
means = {n: step * mp.fsum(1 - p ** n - (1 - p) ** n for p in below) for n in sizes}
squares = {n: mp.mpf(0) for n in sizes}
nodes, weights = np.polynomial.legendre.leggauss(120)
for low, high in ((0, 4), (4, 8), (8, 20)):
    for node, weight in zip(nodes, weights):
        w = mp.mpf(low) + (mp.mpf(float(node)) + 1) * (high - low) / 2
        between = [p - cdf(z - w) for z, p in zip(grid, below)]
        for n in sizes:
            f = n * step * mp.fsum(d * b ** (n - 1) for d, b in zip(density, between))
            squares[n] += mp.mpf(float(weight)) * (high - low) / 2 * 2 * w * (1 - f)
ranges = [{"size": n, "mean": float(means[n]), "standardDeviation": float(mp.sqrt(squares[n] - means[n] ** 2))}
          for n in sizes]
c4 = [{"size": n, "value": float(mp.sqrt(mp.mpf(2) / (n - 1)) * mp.gamma(mp.mpf(n) / 2) / mp.gamma(mp.mpf(n - 1) / 2))}
      for n in (2, 3, 10, 100, 999, 1000)]


def exact_limits(distribution, alpha, most):
    counts = np.arange(0, most + 1)
    upper = int(counts[distribution.sf(counts) <= alpha / 2][0])
    lower = int(counts[distribution.cdf(counts - 1) <= alpha / 2][-1])
    return lower, upper, float(distribution.cdf(lower - 1) + distribution.sf(upper))


limits = []
for size, fraction, alpha in ((50, 0.2313, 0.0027), (200, 0.01, 0.0027), (5000, 0.3, 0.01), (20, 0.5, 0.05)):
    lower, upper, outside = exact_limits(stats.binom(size, fraction), alpha, size)
    limits.append({"sizePieces": size, "fraction": fraction, "alpha": alpha, "lower": lower, "upper": upper, "outside": outside})
for mean, alpha in ((4.0, 0.0027), (16.0, 0.0027), (0.3, 0.01), (900.0, 0.001)):
    lower, upper, outside = exact_limits(stats.poisson(mean), alpha, int(mean * 3 + 60))
    limits.append({"mean": mean, "alpha": alpha, "lower": lower, "upper": upper, "outside": outside})


def chain(lower, upper, width, carry, offset, lump, shift, count=220):
    """Integral equation at Gauss-Legendre nodes, the lump at 0 as a state of its own, dense."""
    x, w = roots_legendre(count)
    x = lower + (x + 1) * (upper - lower) / 2
    w = w * (upper - lower) / 2
    states = np.concatenate([[lower], x]) if lump else x
    mean = carry * states + offset + width * shift
    q = w * stats.norm.pdf((x - mean[:, None]) / width) / width
    if lump:
        q = np.column_stack([stats.norm.cdf((lower - mean) / width), q])
    return states, q


def steady(kernel, shift):
    _, q0 = chain(*kernel, 0)
    values, vectors = np.linalg.eig(q0.T)
    vector = np.real(vectors[:, np.argmax(np.real(values))])
    _, q1 = chain(*kernel, shift)
    run = np.linalg.solve(np.eye(len(q1)) - q1, np.ones(len(q1)))
    return float(vector @ run / vector.sum())


def zero(kernel, shift):
    states, q = chain(*kernel, shift)
    run = np.linalg.solve(np.eye(len(q)) - q, np.ones(len(q)))
    return float(run[0])


def cusum(k, h):
    return (0, h, 1, 1, -k, True)


def ewma(smoothing, factor, lump):
    limit = factor * np.sqrt(smoothing / (2 - smoothing))
    return (0 if lump else -limit, limit, smoothing, 1 - smoothing, 0, lump)


run_lengths = {
    "cusumSteady": [{"referenceValue": k, "decisionInterval": h, "shift": s, "value": steady(cusum(k, h), s)}
                    for k, h, s in ((0.5, 4, 0), (0.5, 4, 1), (0.5, 5, 0.5), (0.25, 8, 0.5), (1, 2.5, 2))],
    "ewmaSteady": [{"smoothing": l, "limitFactor": f, "shift": s, "value": steady(ewma(l, f, False), s)}
                   for l, f, s in ((0.1, 2.7, 0), (0.1, 2.7, 1), (0.25, 2.9, 0.5), (0.5, 3.071, 2))],
    "ewmaOneSided": [{"smoothing": l, "limitFactor": f, "shift": s, "value": zero(ewma(l, f, True), s)}
                     for l, f, s in ((0.1, 2.7, 0), (0.1, 2.7, 1), (0.25, 2.9, 0.5), (0.5, 3, -0.5))],
}

bounds = [{"value": v, "degreesOfFreedom": nu, "confidence": c,
           "lower": v * float(np.sqrt(stats.chi2.ppf((1 - c) / 2, nu) / nu)),
           "upper": v * float(np.sqrt(stats.chi2.ppf((1 + c) / 2, nu) / nu)),
           "least": v * float(np.sqrt(stats.chi2.ppf(1 - c, nu) / nu))}
          for v, nu, c in ((2.29, 19, 0.95), (1, 4, 0.9), (1.33, 250, 0.99), (0.7, 30.5, 0.95))]
spread = [{"size": n, "alpha": a, "factor": float(np.sqrt(stats.chi2.isf(a, n - 1) / (n - 1)))}
          for n, a in ((2, 0.01), (5, 0.001), (4, 0.01), (30, 0.05))]
precision = {"numerator": 3, "denominator": 351, "f": float(stats.f.isf(0.01, 3, 351))}

print(json.dumps({"made": f"numpy {np.__version__}, scipy {scipy.__version__}, mpmath {mp.__version__}",
                  "ranges": ranges, "c4": c4, "limits": limits, "runLengths": run_lengths,
                  "bounds": bounds, "spread": spread, "precision": precision}, indent=1))
