"""Figures of die calculations on other roads, with numpy and scipy.

Run: python3 make_values.py > values.json   (numpy 1.24, scipy 1.10)
"""
import json
import numpy as np
from scipy import integrate, optimize, stats

NIST = [54, 187, 216, 240, 244, 335, 361, 373, 375, 386] + [500] * 10
NIST_FAILED = [1] * 10 + [0] * 10
AML = [9, 13, 13, 18, 23, 28, 31, 34, 45, 48, 161]
AML_FAILED = [1, 1, 0, 1, 1, 0, 1, 1, 0, 1, 0]


def loglik(lives, failed, log_scale, shape):
    t, f = np.asarray(lives, float), np.asarray(failed, float)
    z = shape * (np.log(t) - log_scale)
    return np.sum(f * (np.log(shape) - np.log(t) + z) - np.exp(z))


def summit(lives, failed):
    best = optimize.minimize(lambda p: -loglik(lives, failed, p[0], np.exp(p[1])), [np.log(np.mean(lives)), 0],
                             method="Nelder-Mead", options={"xatol": 1e-12, "fatol": 1e-13, "maxiter": 10000})
    return best.x[0], np.exp(best.x[1]), -best.fun


def life_at(log_scale, shape, age, risk):
    scale = np.exp(log_scale)
    return (age ** shape - scale ** shape * np.log1p(-risk)) ** (1 / shape) - age


def profile_ends(lives, failed, age, risk, confidence):
    """Ends by walking along the contour of the likelihood: greatest and least life on it."""
    log_scale, shape, top = summit(lives, failed)
    floor = top - stats.chi2.ppf(confidence, 1) / 2
    ends = []
    for sign in (1, -1):
        def on_contour(angle):
            direction = np.array([np.cos(angle), np.sin(angle)])
            fall = lambda r: loglik(lives, failed, log_scale + r * direction[0], shape * np.exp(r * direction[1])) - floor
            r = optimize.brentq(fall, 0, 20, xtol=1e-14)
            return life_at(log_scale + r * direction[0], shape * np.exp(r * direction[1]), age, risk)
        angles = np.linspace(0, 2 * np.pi, 721)
        lifes = [sign * on_contour(a) for a in angles]
        a = angles[int(np.argmax(lifes))]
        best = optimize.minimize_scalar(lambda x: -sign * on_contour(x), bounds=(a - 0.02, a + 0.02), method="bounded",
                                        options={"xatol": 1e-10})
        ends.append(-sign * best.fun)
    return ends[1], ends[0]


def shape_ends(lives, failed, confidence):
    log_scale, shape, top = summit(lives, failed)
    floor = top - stats.chi2.ppf(confidence, 1) / 2
    def profile(b):
        t, f = np.asarray(lives, float), np.asarray(failed, float)
        return loglik(lives, failed, np.log(np.sum(t ** b) / np.sum(f)) / b, b) - floor
    return optimize.brentq(profile, 1e-2, shape, xtol=1e-14), optimize.brentq(profile, shape, 50, xtol=1e-14)


intervals = []
for name, lives, failed in (("nist", NIST, NIST_FAILED), ("aml", AML, AML_FAILED)):
    for age, risk in ((0, 1 - np.exp(-1)), (0, 0.1), (0, 0.01), (20, 0.1), (300, 0.1)):
        low, high = profile_ends(lives, failed, age, risk, 0.9)
        intervals.append({"id": name, "age": age, "risk": risk, "confidence": 0.9, "lower": low, "upper": high})
shapes = [{"id": n, "confidence": c, "lower": shape_ends(l, f, c)[0], "upper": shape_ends(l, f, c)[1]}
          for n, l, f in (("nist", NIST, NIST_FAILED), ("aml", AML, AML_FAILED)) for c in (0.9, 0.95)]


def two_short(shape, order):
    """P(T1 + T2 < order) by quadrature."""
    return integrate.quad(lambda x: stats.weibull_min.pdf(x, shape) * stats.weibull_min.cdf(order - x, shape), 0, order,
                          epsabs=1e-13, epsrel=1e-12, limit=400)[0]


def three_short(shape, order):
    return integrate.quad(lambda x: stats.weibull_min.pdf(x, shape) * two_short(shape, order - x), 0, order,
                          epsabs=1e-10, epsrel=1e-10, limit=200)[0]


renewal = [{"shape": s, "order": o, "two": two_short(s, o), "three": three_short(s, o)}
           for s, o in ((1.2, 1.0), (2.0, 1.5), (2.5, 3.0), (5.0, 2.5))]


def onset(first, last, prior, looks):
    """Posterior over single strikes."""
    t = np.arange(first, last + 2)          # the last place stands for no onset
    if prior["kind"] == "uniform":
        p = np.full(len(t), prior["faultProbability"] / (last - first + 1)); p[-1] = 1 - prior["faultProbability"]
    else:
        h = lambda x: (x / prior["scaleStrikes"]) ** prior["shape"]
        s = np.exp(h(first - 1) - h(np.arange(first - 1, last + 1)))
        p = np.append(s[:-1] - s[1:], s[-1])
    for strike, n, bad, miss, alarm in looks:
        begun = t <= strike
        p = p * np.where(begun, (1 - miss) ** bad * miss ** (n - bad), alarm ** bad * (1 - alarm) ** (n - bad))
    p /= p.sum()
    c = np.cumsum(p[:-1])
    risk = 0.02
    released = int(np.searchsorted(c, risk, side="right"))
    return {"firstStrike": first, "lastStrike": last, "prior": prior, "looks": looks, "risk": risk,
            "faultProbability": float(c[-1]), "expectedFaulty": float(c.sum()),
            "heldPieces": int(last - first + 1 - released), "releasedRisk": float(c[released - 1]) if released else 0.0,
            "releasedFaulty": float(c[:released].sum()),
            "median": int(first + np.searchsorted(c, 0.5 * c[-1] * (1 - 1e-12), side="left"))}


LOOKS = [[500, 2, 0, 0.3, 0], [1000, 1, 0, 0.3, 0], [1500, 3, 0, 0.25, 0], [1900, 2, 2, 0.3, 0]]
onsets = [
    onset(1, 2000, {"kind": "uniform", "faultProbability": 1.0}, LOOKS),
    onset(1, 2000, {"kind": "uniform", "faultProbability": 0.1}, [[500, 2, 0, 0.3, 0.02], [1500, 2, 1, 0.3, 0.02], [1800, 4, 3, 0.3, 0.02]]),
    onset(301, 2500, {"kind": "weibull", "scaleStrikes": 3000.0, "shape": 2.2}, LOOKS + [[1500, 2, 0, 0.05, 0.01]]),
    onset(1, 2000, {"kind": "weibull", "scaleStrikes": 5000.0, "shape": 0.8}, [[700, 2, 0, 0.3, 0], [2000, 2, 0, 0.3, 0]]),
]
json.dump({"intervals": intervals, "shapes": shapes, "renewal": renewal, "onsets": onsets}, __import__("sys").stdout, indent=1)
print()
