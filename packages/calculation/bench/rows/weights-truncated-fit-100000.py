import numpy as np
from scipy.optimize import minimize
from scipy.special import log_ndtr


def work(data):
    x = np.asarray(data["masses"])
    edge = data["edge"]
    n = x.size
    m, s = x.mean(), x.std()
    c = ((x - m) ** 2).sum()

    # The likelihood needs only the mean and the sum of squares.
    def loss(p):
        mean, log_sd = p
        sd = np.exp(log_sd)
        z = (mean - edge) / sd
        return (n * log_sd + (c + n * (m - mean) ** 2) / (2 * sd * sd) + n * log_ndtr(z)) / n

    scale = np.array([s, 1.0])
    start = np.array([m, np.log(s)])
    found = minimize(lambda q: loss(start + q * scale), np.zeros(2), method="BFGS", options={"gtol": 1e-9})
    q = found.x
    h = 1e-4
    hess = np.empty((2, 2))
    f = lambda a: loss(start + a * scale)
    for i in range(2):
        for j in range(2):
            ei, ej = np.eye(2)[i] * h, np.eye(2)[j] * h
            hess[i, j] = (f(q + ei + ej) - f(q + ei - ej) - f(q - ei + ej) + f(q - ei - ej)) / (4 * h * h)
    cov = np.linalg.inv(hess * n)
    p = start + q * scale
    sd = np.exp(p[1])
    return [float(p[0]), float(sd), float(np.sqrt(cov[0, 0]) * s), float(np.sqrt(cov[1, 1]) * sd)]
