"""Smoothing splines at stated smoothing, and parabolas with uncertainty in both variables.

Run: python3 make_values.py > values.json   (Python 3.11, scipy 1.10.1, numpy 1.24.2)
"""
import json
import numpy as np
from scipy import odr
from scipy.interpolate import make_smoothing_spline

rng = np.random.default_rng(1848)

splines = []
for count, smoothing in ((12, 0.01), (40, 1.0), (200, 1e-4), (40, 1e3)):
    x = np.round(np.cumsum(rng.uniform(0.05, 1.0, count)), 4)
    y = np.round(100 * np.arctan(x - x.mean()) + rng.normal(0, 2, count), 4)
    spline = make_smoothing_spline(x, y, lam=smoothing)
    splines.append({"x": x.tolist(), "y": y.tolist(), "smoothing": smoothing,
                    "values": spline(x).tolist(), "bends": spline.derivative(2)(x).tolist()})


def parabola(beta, x):
    return beta[0] + x * (beta[1] + x * beta[2])


fits = []
for count in (8, 25):
    truth = np.linspace(1, 9, count)
    ux = np.round(rng.uniform(0.02, 0.08, count), 3)
    uy = np.round(rng.uniform(0.1, 0.3, count), 3)
    x = np.round(truth + ux * rng.normal(size=count), 4)
    y = np.round(parabola([2, 3, -0.12], truth) + uy * rng.normal(size=count), 4)
    model = odr.Model(parabola,
                      fjacb=lambda b, v: np.vstack([np.ones_like(v), v, v * v]),
                      fjacd=lambda b, v: b[1] + 2 * b[2] * v)
    solver = odr.ODR(odr.RealData(x, y, sx=ux, sy=uy), model, beta0=[2, 3, -0.1],
                     sstol=1e-16, partol=1e-14, maxit=500)
    solver.set_job(deriv=2)
    out = solver.run()
    fits.append({"x": x.tolist(), "y": y.tolist(), "ux": ux.tolist(), "uy": uy.tolist(),
                 "coefficients": out.beta.tolist(), "chiSquare": float(out.sum_square)})

print(json.dumps({"splines": splines, "fits": fits}, indent=1))
