import numpy as np


def hull(x, y, low, high, sign):
    """Vertices of the convex minorant (sign 1) or concave majorant (-1): monotone chain."""
    v = []
    for k in range(low, high + 1):
        while len(v) >= 2:
            a, b = v[-2], v[-1]
            turn = (y[b] - y[a]) * (x[k] - x[b]) - (y[k] - y[b]) * (x[b] - x[a])
            if sign * turn < 0:
                break
            v.pop()
        v.append(k)
    return v


def work(data):
    # numpy and scipy have no dip; distances are vectorised, the chain of the hull cannot be.
    values, counts = np.unique(np.asarray(data["masses"]), return_counts=True)
    after = np.cumsum(counts).astype(float)
    before = after - counts
    total = after[-1]
    xl, bl, al = values.tolist(), before.tolist(), after.tolist()
    low, high, twice = 0, values.size - 1, 1.0
    while True:
        g, m = hull(xl, bl, low, high, 1), hull(xl, al, low, high, -1)
        at_g = np.interp(values[g], values[m], after[m]) - before[g]
        at_m = after[m] - np.interp(values[m], values[g], before[g])
        if max(at_g.max(), at_m.max()) <= twice:
            break
        if at_g.max() > at_m.max():
            new_low = g[int(at_g.argmax())]
            new_high = m[int(np.searchsorted(m, new_low))]
        else:
            new_high = m[int(at_m.argmax())]
            new_low = g[int(np.searchsorted(g, new_high, side="right")) - 1]
        left = np.arange(low, new_low)
        right = np.arange(new_high + 1, high + 1)
        if left.size:
            twice = max(twice, np.abs(after[left] - np.interp(values[left], values[g], before[g])).max())
        if right.size:
            twice = max(twice, np.abs(np.interp(values[right], values[m], after[m]) - before[right]).max())
        if (new_low, new_high) == (low, high):
            break
        low, high = new_low, new_high
    return [twice / (2 * total)]
