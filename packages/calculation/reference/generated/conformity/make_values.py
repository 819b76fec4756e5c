"""Owen's T, bivariate normal probabilities, risks and intervals of shares from scipy.

Run: /usr/bin/python3 make_values.py > values.json   (scipy 1.10.1, numpy 1.24.2)
"""
import itertools
import json
import numpy as np
from scipy import integrate, special, stats


def bivariate(h, k, r):
    # Conditional form integrated adaptively: no shared road with Owen's function.
    inner = lambda x: stats.norm.pdf(x) * special.ndtr((k - r * x) / np.sqrt(1 - r * r))
    knots = sorted(x for x in {-9.0, -3.0, 0.0, 3.0, k / r if r else 0.0, h} if -38 < x <= h)
    if h <= -9:
        knots = [-38.0, h]
    else:
        knots = [-38.0] + knots
    return sum(integrate.quad(inner, a, b, epsabs=1e-16, epsrel=1e-13, limit=500)[0]
               for a, b in zip(knots, knots[1:]) if b > a)


owen = [{'h': h, 'a': a, 'value': float(special.owens_t(h, a))}
        for h, a in itertools.product((0, 0.1, 0.5, 1, 2.5, 5, -1.5), (0.1, 0.5, 1, 2, 10, -0.7))]
normal = [{'h': h, 'k': k, 'correlation': r, 'value': float(bivariate(h, k, r))}
          for h, k, r in itertools.product((-2.5, -0.5, 0, 1.2), (-1.5, 0, 0.7, 3), (-0.95, -0.3, 0.5, 0.99, 0.9999))]


def gamma_item(shape, rate, y, u, upper):
    f = lambda x: stats.gamma.pdf(x, shape, scale=1 / rate) * stats.norm.pdf(y, x, u)
    lo, hi = max(0, y - 12 * u), y + 12 * u
    part = integrate.quad(f, lo, min(upper, hi), epsabs=0, epsrel=1e-12, limit=500)[0]
    return part / (part + integrate.quad(f, min(upper, hi), hi, epsabs=0, epsrel=1e-12, limit=500)[0])


items = [{'shape': s, 'rate': r, 'value': y, 'u': u, 'upper': t, 'probability': float(gamma_item(s, r, y, u, t))}
         for s, r, y, u, t in ((4, 4, 1.8, 0.25, 2), (4, 4, 2.1, 0.25, 2), (1, 0.5, 3, 1, 2.5), (50, 10, 5.5, 0.3, 5.8))]
shares = [{'count': x, 'of': n, 'least': float(stats.beta.ppf(0.025, x, n - x + 1)) if x else 0.0,
           'greatest': float(stats.beta.ppf(0.975, x + 1, n - x)) if x < n else 1.0}
          for x, n in ((0, 100), (3, 100), (100, 100), (950, 1000), (99_990, 100_000))]
print(json.dumps({'owen': owen, 'normal': normal, 'items': items, 'shares': shares}, indent=1))
