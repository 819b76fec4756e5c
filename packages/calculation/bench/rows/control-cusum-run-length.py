import numpy as np
from scipy.linalg import solve
from scipy.special import ndtr


def work(data):
    k, h, count = data["referenceValue"], data["decisionInterval"], data["states"]
    width = 2 * h / (2 * count - 1)
    offset = np.arange(count)[None, :] - np.arange(count)[:, None]
    figures = []
    for shift in data["shifts"]:
        edges = ndtr((np.arange(-count, count) + 0.5) * width + k - shift)
        cells = np.diff(edges)
        q = cells[offset + count - 1]
        q[:, 0] = ndtr((0.5 - np.arange(count)) * width + k - shift)
        run = solve(np.eye(count) - q, np.ones(count), overwrite_a=True, check_finite=False)
        figures.append(run[0])
    return figures
