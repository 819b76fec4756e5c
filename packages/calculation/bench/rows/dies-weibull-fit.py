import numpy as np
from scipy import optimize


def work(data):
    t, f = np.asarray(data["lives"]), np.asarray(data["failed"], float)
    log_t = np.log(t)
    centred = log_t - log_t.max()
    r = f.sum()
    mean_failed = (f * centred).sum() / r

    def score(shape):
        power = np.exp(shape * centred)
        return (power * centred).sum() / power.sum() - 1 / shape - mean_failed

    shape = optimize.brentq(score, 1e-3, 1e3, xtol=1e-14, rtol=1e-14)
    log_scale = log_t.max() + np.log(np.exp(shape * centred).sum() / r) / shape
    z = shape * (log_t - log_scale)
    e = np.exp(z)
    loglik = (f * (np.log(shape) - log_t + z)).sum() - e.sum()
    information = np.array([[shape ** 2 * r, -shape * (e * z).sum()], [-shape * (e * z).sum(), r + (e * z * z).sum()]])
    errors = np.sqrt(np.diag(np.linalg.inv(information)))
    return [float(x) for x in (np.exp(log_scale), shape, loglik, *errors)]
