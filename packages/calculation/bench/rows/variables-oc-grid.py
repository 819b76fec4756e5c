import numpy as np
from scipy import stats


def work(data):
    z = stats.norm.isf(np.asarray(data["fractions"]))
    figures = []
    for n, k in data["plans"]:
        figures.extend(stats.nct.sf(k * np.sqrt(n), n - 1, z * np.sqrt(n)).tolist())
    return figures
