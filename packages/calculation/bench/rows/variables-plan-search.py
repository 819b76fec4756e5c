import numpy as np
from scipy import optimize, stats


def work(data):
    figures = []
    for good, bad in data["points"]:
        z1, z2 = stats.norm.isf(good / 100), stats.norm.isf(bad / 100)

        def constant(n):
            return optimize.brentq(lambda k: stats.nct.sf(k * np.sqrt(n), n - 1, z1 * np.sqrt(n)) - 0.95, 0, 6, xtol=1e-13)

        def keeps(n):
            return stats.nct.sf(constant(n) * np.sqrt(n), n - 1, z2 * np.sqrt(n)) <= 0.1

        low, high = 2, 4
        while not keeps(high):
            low, high = high, 2 * high
        while high - low > 1:
            middle = (low + high) // 2
            low, high = (low, middle) if keeps(middle) else (middle, high)
        figures += [high, constant(high)]
    return figures
