import numpy as np
from scipy import stats


def work(data):
    t, f, g = np.asarray(data["lives"]), np.asarray(data["failed"]), np.asarray(data["family"])
    times, place = np.unique(t, return_inverse=True)
    failures = np.zeros((3, len(times)))
    leaving = np.zeros((3, len(times)))
    np.add.at(failures, (g, place), f)
    np.add.at(leaving, (g, place), 1)
    at_risk = np.cumsum(leaving[:, ::-1], axis=1)[:, ::-1]
    d, n = failures.sum(axis=0), at_risk.sum(axis=0)
    keep = d > 0
    d, n, at_risk = d[keep], n[keep], at_risk[:, keep]
    share = at_risk / n
    expected = (d * share).sum(axis=1)
    spread = np.where(n > 1, d * (n - d) / np.maximum(n - 1, 1), 0)
    covariance = np.diag((spread * share).sum(axis=1)) - (spread * share) @ share.T
    difference = (failures.sum(axis=1) - expected)[:2]
    chi = difference @ np.linalg.solve(covariance[:2, :2], difference)
    return [float(chi), float(stats.chi2.sf(chi, 2)), *map(float, expected)]
