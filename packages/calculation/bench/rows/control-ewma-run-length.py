import numpy as np
from scipy.special import roots_legendre


def work(data):
    smoothing, factor = data["smoothing"], data["limitFactor"]
    limit = factor * np.sqrt(smoothing / (2 - smoothing))
    # As many nodes as the other side takes.
    count = int(np.ceil(14 + 2 * 2 * limit / smoothing))
    x, w = roots_legendre(count)
    x, w = limit * x, limit * w / (smoothing * np.sqrt(2 * np.pi))
    z = (x[None, :] - (1 - smoothing) * x[:, None]) / smoothing
    from_start = x / smoothing
    figures = []
    for shift in data["shifts"]:
        q = w * np.exp(-0.5 * (z - shift) ** 2)
        run = np.linalg.solve(np.eye(count) - q, np.ones(count))
        figures.append(1 + np.sum(w * np.exp(-0.5 * (from_start - shift) ** 2) * run))
    return figures
