import numpy as np


def run_ends(flags, length):
    """Places at which the last `length` flags are all set."""
    total = np.concatenate([[0], np.cumsum(flags)])
    return np.flatnonzero(total[length:] - total[:-length] == length) + length - 1


def zone_counts(flags, needed, length):
    total = np.concatenate([np.zeros(length, dtype=np.int64), np.cumsum(flags)])
    counts = total[length:] - total[:-length]
    return np.flatnonzero(flags & (counts >= needed))


def work(data):
    z = np.asarray(data)
    step = np.diff(z)
    turns = step[1:] * step[:-1] < 0
    found = [
        np.flatnonzero(np.abs(z) > 3),
        np.concatenate([run_ends(z > 0, 9), run_ends(z < 0, 9)]),
        np.concatenate([run_ends(step > 0, 5), run_ends(step < 0, 5)]) + 1,
        run_ends(turns, 12) + 2,
        np.concatenate([zone_counts(z > 2, 2, 3), zone_counts(z < -2, 2, 3)]),
        np.concatenate([zone_counts(z > 1, 4, 5), zone_counts(z < -1, 4, 5)]),
        run_ends(np.abs(z) < 1, 15),
        run_ends(np.abs(z) > 1, 8),
    ]
    return [figure for places in found for figure in (len(places), int(places.sum()))]
