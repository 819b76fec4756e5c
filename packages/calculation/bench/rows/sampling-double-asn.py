import numpy as np
from scipy.stats import binom


def work(data):
    means = np.array(data["means"])
    figures = []
    for n1, n2, ac1, re1, ac2, re2 in data["plans"]:
        p = np.minimum(0.9, means * re1 / n1)[:, None]
        counts = np.arange(ac1 + 1, re1)[None, :]
        chance = binom.pmf(counts, n1, p)
        whole = n1 + n2 * chance.sum(axis=1)
        missing = re2 - counts
        pieces = n2 * binom.cdf(missing - 1, n2, p) + missing / p * binom.sf(missing, n2 + 1, p)
        pieces = np.where(missing > 0, pieces, 0)
        cut = n1 + (chance * pieces).sum(axis=1)
        figures.extend(np.column_stack([whole, cut]).ravel().tolist())
    return figures
