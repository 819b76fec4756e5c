import numpy as np


def log_normal(x, variance):
    return -0.5 * (np.log(2 * np.pi * variance) + x * x / variance)


def work(data):
    m = data["model"]
    tubes = data["tubes"]
    mu = m["referenceMeanGrams"]
    prior_var = (m["referenceMeanStandardUncertaintyGrams"] ** 2 + m["lotStandardDeviationGrams"] ** 2
                 + (mu * m["gainRelative"]) ** 2)
    own = lambda n: (n * m["pieceStandardDeviationGrams"] ** 2 + m["tareStandardDeviationGrams"] ** 2
                     + m["repeatabilityGrams"] ** 2 + m["divisionGrams"] ** 2 / 12)
    q = m["driftPerTubeGrams"] ** 2
    p, bad = m["priorMiscountProbability"], m["badWeighingProbability"]
    net = np.array([t["grossReadingsGrams"][0] for t in tubes]) - m["storedTareGrams"]
    # Least standard deviation along the series sets the step of the grid.
    v = least = prior_var
    for t in tubes:
        v = 1 / (1 / v + t["bookedPieces"] ** 2 / own(t["bookedPieces"]))
        least = min(least, v)
        v += q
    step = min(0.5 * np.sqrt(least), np.sqrt(q) / 1.1)
    half = int(np.ceil(7.5 * np.sqrt(prior_var + len(tubes) * q) / step))
    grid = mu + step * np.arange(-half, half + 1)
    arm = int(np.ceil(7.5 * np.sqrt(q) / step))
    kernel = np.exp(-0.5 * (np.arange(-arm, arm + 1) * step) ** 2 / q)
    kernel /= kernel.sum()
    good, bads = [], []
    for t, w in zip(tubes, net):
        n0 = t["bookedPieces"]
        ns = np.array([n0 - 1, n0, n0 + 1])
        prior = np.array([p, 1 - 2 * p, p])
        var = own(ns)
        logs = (np.log(prior) + np.log1p(-bad))[:, None] + log_normal(w - ns[:, None] * grid, var[:, None])
        broad = m["badWeighingSpreadGrams"] ** 2 + own(n0) + n0 ** 2 * prior_var
        b = np.log(bad) + log_normal(w - n0 * mu, broad)
        scale = max(logs.max(), b)
        good.append((np.exp(logs - scale), scale, prior))
        bads.append(np.exp(b - scale))
    weights = np.exp(-0.5 * (grid - mu) ** 2 / prior_var)
    weights /= weights.sum()
    booked = weights.copy()
    forward, evidence, booked_evidence = [], 0.0, 0.0
    for i, ((g, scale, prior), b) in enumerate(zip(good, bads)):
        if i:
            weights = np.convolve(weights, kernel, "same")
            booked = np.convolve(booked, kernel, "same")
        forward.append(weights)
        weights = weights * (g.sum(0) + b)
        s = weights.sum()
        evidence += scale + np.log(s)
        weights = weights / s
        booked = booked * (g[1] + b * prior[1])
        s = booked.sum()
        booked_evidence += scale + np.log(s)
        booked = booked / s
    mean = (weights * grid).sum()
    sd = np.sqrt((weights * (grid - mean) ** 2).sum())
    backward = np.ones_like(grid)
    counts = [None] * len(tubes)
    for i in range(len(tubes) - 1, -1, -1):
        g, _, prior = good[i]
        w = forward[i] * backward
        whole = (w * (g.sum(0) + bads[i])).sum()
        counts[i] = ((g * w).sum(1) + bads[i] * w.sum() * prior) / whole
        backward = backward * (g.sum(0) + bads[i])
        backward /= backward.sum()
        backward = np.convolve(backward, kernel, "same")
    return [float(counts[57][0]), float(counts[3][1]), float(mean), float(sd), float(evidence), float(booked_evidence)]
