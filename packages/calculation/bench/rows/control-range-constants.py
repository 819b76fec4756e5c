import numpy as np
from scipy.special import ndtr, roots_legendre


def work(data):
    largest = data["largest"]
    z = np.arange(-9, 9 + 1 / 16, 1 / 8)
    density = np.exp(-z * z / 2) / np.sqrt(2 * np.pi) / 8
    below = ndtr(z)
    nodes, weights = roots_legendre(64)
    w = 7.5 * (nodes + 1)
    weights = 7.5 * weights
    between = below[None, :] - ndtr(z[None, :] - w[:, None])
    power = between.copy()
    figures = []
    for size in range(2, largest + 1):
        mean = np.sum(1 - below**size - (1 - below) ** size) / 8
        f = size * (power @ density)
        square = 2 * np.sum(weights * w * (1 - f))
        figures += [mean, np.sqrt(square - mean * mean)]
        power *= between
    return figures
