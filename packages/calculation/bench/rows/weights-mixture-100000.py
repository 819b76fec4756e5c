import numpy as np
from scipy.optimize import minimize


def work(data):
    x = np.sort(np.asarray(data["masses"]))
    n = x.size
    m, s = x.mean(), x.std(ddof=1)
    u = (x - m) / s

    def loss(p):
        a, m1, m2, l1, l2 = p
        z1, z2 = (u - m1) * np.exp(-l1), (u - m2) * np.exp(-l2)
        t1 = -0.5 * z1 * z1 - l1 - np.logaddexp(0, -a)
        t2 = -0.5 * z2 * z2 - l2 - np.logaddexp(0, a)
        total = np.logaddexp(t1, t2)
        r1 = np.exp(t1 - total)
        r2 = 1 - r1
        grad = [r1.mean() - 1 / (1 + np.exp(-a)),
                (r1 * z1).mean() * np.exp(-l1), (r2 * z2).mean() * np.exp(-l2),
                (r1 * (z1 * z1 - 1)).mean(), (r2 * (z2 * z2 - 1)).mean()]
        return -total.mean(), -np.array(grad)

    best = None
    for split in (0.25, 0.5, 0.75):
        k = int(split * n)
        low, high = u[:k], u[k:]
        p = np.array([np.log(k / (n - k)), low.mean(), high.mean(), np.log(low.std()), np.log(high.std())])
        found = minimize(loss, p, jac=True, method="BFGS", options={"gtol": 1e-9})
        if best is None or found.fun < best.fun:
            best = found
    a, m1, m2, l1, l2 = best.x
    share = 1 / (1 + np.exp(-a))
    means, sds = np.array([m1, m2]), np.exp([l1, l2])
    order = np.argsort(means)
    share = share if order[0] == 0 else 1 - share
    log_likelihood = -n * best.fun - n * (0.5 * np.log(2 * np.pi) + np.log(s))
    return [float(share), *map(float, m + s * means[order]), *map(float, s * sds[order]), float(log_likelihood)]
