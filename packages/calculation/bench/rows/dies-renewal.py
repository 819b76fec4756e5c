import numpy as np
from scipy import signal, special


def lattice(shape, order, cells):
    """Shortfalls on one lattice: lives shared between neighbours so that the mean is kept."""
    cell = order / cells
    t = cell * np.arange(cells + 2)
    area = special.gamma(1 + 1 / shape) * special.gammainc(1 / shape, t ** shape)
    life = np.empty(cells + 1)
    life[0] = 1 - area[1] / cell
    life[1:] = (2 * area[1:-1] - area[:-2] - area[2:]) / cell
    found, total = [], life.copy()
    while True:
        found.append(total.sum() - total[-1] / 2)
        if found[-1] < 2e-9:
            return np.array(found)
        total = signal.fftconvolve(total, life)[: cells + 1]


def work(data):
    coarse = lattice(data["shape"], data["orderStrikes"], 4096)
    fine = lattice(data["shape"], data["orderStrikes"], 8192)
    size = min(len(coarse), len(fine))
    best = (4 * fine[:size] - coarse[:size]) / 3
    return [float(1 + best.sum()), float(best[39]), float(best[44])]
