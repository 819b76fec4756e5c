import numpy as np


def work(data):
    last, looks = data["lastStrike"], data["looks"]
    t = np.arange(0, last + 1)
    survival = np.exp(-((t / data["scaleStrikes"]) ** data["shape"]))
    log = np.log(-np.diff(survival))
    sound = np.log(survival[-1])
    for look in looks:
        n, bad = look["looks"], look["badLooks"]
        miss, alarm = look["missProbability"], look["falseAlarmProbability"]
        faulty = bad * np.log1p(-miss) + (n - bad) * np.log(miss)
        clean = bad * np.log(alarm) + (n - bad) * np.log1p(-alarm)
        log[: look["strike"]] += faulty
        log[look["strike"] :] += clean
        sound += clean
    top = max(log.max(), sound)
    weights = np.exp(log - top)
    began = np.cumsum(weights / (weights.sum() + np.exp(sound - top)))
    return [float(began[-1]), float(began.sum()), int(last - np.searchsorted(began, 0.01, side="right"))]
