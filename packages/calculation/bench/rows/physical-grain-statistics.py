"""Grain size numbers and 95 % intervals of many sections at once."""
import numpy as np
from scipy import stats


def work(data):
    sections, fields = data["sections"], data["fields"]
    place = np.arange(sections * fields, dtype=np.int64)
    counts = (20 + (((place % 23) * 7) % 23) / 2).reshape(sections, fields)
    mean = counts.mean(axis=1)
    half = stats.t.ppf(0.975, fields - 1) * counts.std(axis=1, ddof=1) / np.sqrt(fields)

    def size(intercepts):
        return 2 * np.log2(0.32 * intercepts)

    return [size(mean).sum(), size(mean - half).sum(), size(mean + half).sum(),
            np.count_nonzero(half / mean <= 0.1)]
