"""Residuals and conditional means of consecutive balances by the whole covariance matrix."""

import json
from pathlib import Path

import numpy as np
import scipy
from scipy.linalg import cholesky, solve_triangular
from scipy.stats import chi2

random = np.random.default_rng(1954)


def series(count, breaks, sources):
    ending = random.uniform(0.5, 4, count)
    opening = [2.5 if at == 0 or at in breaks else None for at in range(count)]
    transfer = random.uniform(0.2, 3, count)
    effects = random.normal(0, 1.5, (count, sources))
    used = np.array([2.5 if value is not None else ending[at - 1] for at, value in enumerate(opening)])
    v = np.diag(used**2 + ending**2 + transfer**2) + effects @ effects.T
    for at in range(1, count):
        if opening[at] is None:
            v[at, at - 1] -= ending[at - 1] ** 2
            v[at - 1, at] -= ending[at - 1] ** 2
    difference = np.round(random.normal(0, 5, count), 4)
    low = cholesky(v, lower=True)
    z = solve_triangular(low, difference, lower=True)
    weight = solve_triangular(low, z, lower=True, trans="T")
    m = solve_triangular(low, np.ones(count), lower=True)
    ones = np.ones(count)
    # Covariance of each error of the newest balance with every balance.
    last = count - 1
    with_opening = np.zeros(count)
    with_opening[last] = used[last] ** 2
    if opening[last] is None and last > 0:
        with_opening[last - 1] = -used[last] ** 2
    parts = [
        float(with_opening @ weight),
        float(ending[last] ** 2 * weight[last]),
        float(transfer[last] ** 2 * weight[last]),
        *[float(effects[last, s] * (effects[:, s] @ weight)) for s in range(sources)],
    ]
    return {
        "periods": [
            {
                "differenceGrams": float(difference[at]),
                "openingStandardUncertaintyGrams": opening[at],
                "endingStandardUncertaintyGrams": float(ending[at]),
                "transferStandardUncertaintyGrams": float(transfer[at]),
                "persistent": [
                    {"source": f"scale {s}", "effectGrams": float(effects[at, s])} for s in range(sources)
                ],
            }
            for at in range(count)
        ],
        "residuals": z.tolist(),
        "residualStandardUncertaintiesGrams": np.diag(low).tolist(),
        "cumulativeStandardUncertaintiesGrams": [
            float(np.sqrt(ones[: at + 1] @ v[: at + 1, : at + 1] @ ones[: at + 1])) for at in range(count)
        ],
        "quadraticProbability": float(chi2.sf(z @ z, count)),
        "steadyLossGrams": float(m @ z / (m @ m)),
        "steadyLossStandardUncertaintyGrams": float(1 / np.sqrt(m @ m)),
        "newestPartsGrams": parts,
    }


values = {
    "scipy": scipy.__version__,
    "series": [series(1, [], 2), series(12, [], 0), series(40, [15, 27], 3), series(60, [59], 2)],
}
Path(__file__).with_name("values.json").write_text(json.dumps(values, indent=1) + "\n")
