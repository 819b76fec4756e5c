"""Likeliest step on top of a line: all places of a history at once, by projection."""
import numpy as np
from scipy import stats


def history(which, count):
    at = np.arange(count)
    scatter = (((at + 31 * which) * 7919) % 1009) / 1009 - 0.5
    return at / 12, 0.001 * at + scatter + np.where(3 * at >= 2 * count, 0.3, 0)


def jump(x, y):
    count = len(x)
    design = np.column_stack([np.ones(count), x - x.mean()])
    coefficients = np.linalg.lstsq(design, y, rcond=None)[0]
    residuals = y - design @ coefficients
    index = np.arange(1, count)
    after = np.cumsum(residuals[::-1])[::-1][1:]
    deviation = np.cumsum((x - x.mean())[::-1])[::-1][1:]
    spread = (count - index) * index / count - deviation**2 / np.sum((x - x.mean()) ** 2)
    gain = after**2 / spread
    best = np.argmax(gain)
    left = (residuals @ residuals - gain[best]) / (count - 3)
    p = 2 * stats.t.sf(np.sqrt(gain[best] / left), count - 3) * len(index)
    return after[best] / spread[best], index[best], min(1.0, p)


def work(data):
    found = [jump(*history(which, data["values"])) for which in range(data["histories"])]
    return [sum(values) for values in zip(*found)]
