"""The same budgets with numpy: derivatives by the complex step, all results at once."""
import numpy as np
from scipy import stats


def model(x):
    m2, b1, taken, b2, cornet, m1, purity, drift = x
    return 1000 * (m2 - b1 + (taken - b2) * purity - cornet) / m1 * np.exp(drift - 1)


def work(data):
    x = np.asarray(data['estimates']).T
    u = np.asarray(data['uncertainties'])
    nu = np.asarray(data['freedoms'], dtype=float)
    value = model(x)
    contributions = np.empty_like(x)
    for i in range(len(u)):
        z = x.astype(complex)
        z[i] += 1e-30j
        contributions[i] = model(z).imag / 1e-30 * u[i]
    squares = contributions ** 2
    variance = squares.sum(axis=0)
    freedom = variance ** 2 / (squares ** 2 / nu[:, None]).sum(axis=0)
    k = stats.t.ppf(0.975, np.floor(freedom))
    return [value.sum(), variance.sum(), np.abs(contributions).max(axis=0).sum(), freedom.sum(),
            (k * np.sqrt(variance)).sum()]
