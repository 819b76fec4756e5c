"""The same count with numpy and the interval from scipy; the list becomes an array once."""
import numpy as np
from scipy import stats


def work(data):
    x = data['samples'] = np.asarray(data['samples'])
    n = x.size
    count = int(np.count_nonzero((x >= data['lower']) & (x <= data['upper'])))
    return [count / n, stats.beta.ppf(0.025, count, n - count + 1),
            stats.beta.ppf(0.975, count + 1, n - count)]
