import numpy as np
from scipy import stats

held = {}
tail = 0.025


def interval(terms):
    c, ms, df = (np.array(column, dtype=float) for column in zip(*terms))
    size = np.abs(c) * ms
    g = 1 - df / stats.chi2.isf(tail, df)
    h = df / stats.chi2.ppf(tail, df) - 1
    plus, minus = np.where(c > 0)[0], np.where(c < 0)[0]
    below = np.sum((g * size)[plus] ** 2) + np.sum((h * size)[minus] ** 2)
    above = np.sum((h * size)[plus] ** 2) + np.sum((g * size)[minus] ** 2)
    if len(minus):
        q, r = np.meshgrid(plus, minus, indexing='ij')
        weight = size[q] * size[r]
        upper = stats.f.isf(tail, df[q], df[r])
        lower = stats.f.ppf(tail, df[q], df[r])
        below += np.sum(weight * ((upper - 1) ** 2 - (g[q] * upper) ** 2 - h[r] ** 2) / upper)
        above += np.sum(weight * ((1 - lower) ** 2 - (h[q] * lower) ** 2 - g[r] ** 2) / lower)
        for index, sign in ((plus, 'below'), (minus, 'above')):
            total = 0.0
            for a in range(len(index)):
                for b in range(a + 1, len(index)):
                    i, j = index[a], index[b]
                    both = 1 - (df[i] + df[j]) / stats.chi2.isf(tail, df[i] + df[j])
                    factor = (both**2 * (df[i] + df[j]) ** 2 / (df[i] * df[j])
                              - g[i] ** 2 * df[i] / df[j] - g[j] ** 2 * df[j] / df[i])
                    total += factor / (len(index) - 1) * size[i] * size[j]
            if sign == 'below':
                below += total
            else:
                above += total
    value = np.sum(c * ms)
    return [max(0, value - np.sqrt(max(0, below))), max(0, value + np.sqrt(max(0, above)))]


def work(data):
    if id(data) not in held:
        parts = sorted({one['part'] for one in data}, key=int)
        operators = sorted({one['operator'] for one in data})
        held[id(data)] = np.array([[[one['value'] for one in data if one['part'] == p and one['operator'] == o]
                                    for o in operators] for p in parts])
    x = held[id(data)]
    p, o, r = x.shape
    cell, part, operator, grand = x.mean(axis=2), x.mean(axis=(1, 2)), x.mean(axis=(0, 2)), x.mean()
    dfs = np.array([p - 1, o - 1, (p - 1) * (o - 1), p * o * (r - 1)])
    ss = np.array([
        o * r * np.sum((part - grand) ** 2), p * r * np.sum((operator - grand) ** 2),
        r * np.sum((cell - part[:, None] - operator[None, :] + grand) ** 2),
        np.sum((x - cell[:, :, None]) ** 2)])
    ms = ss / dfs
    coefficients = [
        [0, 0, 0, 1],
        [0, 1 / (p * r), -1 / (p * r), 0],
        [0, 0, 1 / r, -1 / r],
        [0, 1 / (p * r), 1 / r - 1 / (p * r), -1 / r],
        [0, 1 / (p * r), 1 / r - 1 / (p * r), 1 - 1 / r],
        [1 / (o * r), 0, -1 / (o * r), 0],
        [1 / (o * r), 1 / (p * r), 1 / r - 1 / (p * r) - 1 / (o * r), 1 - 1 / r]]
    found = []
    for row in coefficients:
        found += interval([(c, m, d) for c, m, d in zip(row, ms, dfs) if c != 0])
    return found
