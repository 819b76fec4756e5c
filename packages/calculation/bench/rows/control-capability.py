import numpy as np
from scipy import stats
from scipy.special import log_ndtr, ndtr


def work(data):
    groups = np.asarray(data)
    low, high, confidence = 31.0, 31.2, 0.95
    values = groups.ravel()
    n = len(values)
    mean = values.mean()
    overall = values.std(ddof=1)
    within = np.sqrt(groups.var(axis=1, ddof=1).mean())
    figures = []
    for s, freedom in ((within, groups.shape[0] * (groups.shape[1] - 1)), (overall, n - 1)):
        cp = (high - low) / (6 * s)
        cpk = min(high - mean, mean - low) / (3 * s)
        chi = stats.chi2.ppf([(1 - confidence) / 2, (1 + confidence) / 2], freedom)
        half = stats.norm.ppf((1 + confidence) / 2) * np.sqrt(1 / (9 * n) + cpk**2 / (2 * freedom))
        figures += [cp, *(cp * np.sqrt(chi / freedom)), cpk, cpk - half, cpk + half]
    z = (np.sort(values) - mean) / overall
    rank = 2 * np.arange(1, n + 1) - 1
    a = -n - np.mean(rank * (log_ndtr(z) + log_ndtr(-z[::-1])))
    figures.append(a * (1 + 0.75 / n + 2.25 / n**2))
    figures.append(1e6 * (ndtr((low - mean) / overall) + ndtr((mean - high) / overall)))
    return figures
