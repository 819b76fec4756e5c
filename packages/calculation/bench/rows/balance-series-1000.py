import numpy as np
from scipy.linalg import cholesky, solve_triangular


def work(data):
    difference = np.array(data["differences"])
    ending = np.array(data["ending"])
    transfers = np.array(data["transfers"])
    effects = np.array(data["effects"])
    count = len(difference)
    opening = np.concatenate([[data["opening"]], ending[:-1]])
    v = effects.T @ effects
    place = np.arange(count)
    v[place, place] += opening**2 + ending**2 + transfers**2
    v[place[1:], place[:-1]] -= ending[:-1] ** 2
    v[place[:-1], place[1:]] -= ending[:-1] ** 2
    total = np.sqrt([v[:500, :500].sum(), v.sum()])
    low = cholesky(v, lower=True, overwrite_a=True, check_finite=False)
    z = solve_triangular(low, difference, lower=True, check_finite=False)
    return [*z[::50].tolist(), float(z @ z), *total.tolist()]
