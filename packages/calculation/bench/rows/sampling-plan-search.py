import numpy as np
from scipy.stats import binom


def smallest(good, bad, alpha, beta, greatest):
    # For each acceptance number the least sample, by bisection over all numbers at once.
    numbers = np.arange(0, 101)
    low = numbers.copy()
    high = np.full_like(numbers, greatest)
    while np.any(high - low > 1):
        middle = (low + high) // 2
        enough = binom.cdf(numbers, middle, bad) <= beta
        high = np.where(enough, middle, high)
        low = np.where(enough, low, middle)
    keeps = (binom.cdf(numbers, high, bad) <= beta) & (binom.sf(numbers, high, good) <= alpha)
    if not keeps.any():
        return -1, -1
    first = int(np.argmax(keeps))
    return int(high[first]), int(numbers[first])


def work(data):
    figures = []
    for good, bad, alpha, beta in data["points"]:
        figures.extend(smallest(good, bad, alpha, beta, data["greatestSamplePieces"]))
    return figures
