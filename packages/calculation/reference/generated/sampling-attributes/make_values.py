"""Acceptance and sample numbers of single and double plans by scipy, for the test beside this file."""
import json
import os

import numpy as np
import scipy
from scipy.stats import binom, hypergeom, poisson

PLANS = [
    [50, 100, 1, 4, 3, 4],
    [125, 125, 3, 7, 8, 9],
    [8, 8, 0, 2, 1, 2],
    [32, 32, 0, 4, 1, 5],
    [13, 13, 17, 22, 37, 38],
    [800, 800, 11, 16, 26, 27],
]


def outcome(plan, first, second, longer, apart):
    """Sums over the first count; second(x) and longer(x) are what is met after x was found."""
    n1, n2, ac1, re1, ac2, re2 = plan
    accepted = first.cdf(ac1)
    whole = float(n1)
    cut = float(n1)
    for found in range(ac1 + 1, re1):
        chance = first.pmf(found)
        missing = re2 - found
        whole += n2 * chance
        accepted += chance * second(found).cdf(missing - 1)
        pieces = n2 * second(found).cdf(missing - 1)
        cut += chance * (pieces + missing * apart(found) * longer(found).sf(missing))
    return [float(accepted), float(whole), float(cut)]


def main():
    rows = []
    for plan in PLANS:
        n1, n2 = plan[:2]
        for factor in (0.3, 0.8, 1.5):
            p = min(0.9, factor * plan[3] / n1)
            rows.append({
                'basis': 'binomial', 'plan': plan, 'quality': p,
                'outcome': outcome(plan, binom(n1, p), lambda x: binom(n2, p),
                                   lambda x: binom(n2 + 1, p), lambda x: 1 / p),
            })
            rows.append({
                'basis': 'poisson', 'plan': plan, 'quality': p,
                'outcome': outcome(plan, poisson(n1 * p), lambda x: poisson(n2 * p),
                                   lambda x: poisson(n2 * p), lambda x: 1 / p),
            })
            lot = 3 * (n1 + n2)
            bad = max(plan[5], int(round(p * lot)))
            rows.append({
                'basis': 'hypergeometric', 'plan': plan, 'lot': lot, 'quality': bad,
                'outcome': outcome(
                    plan, hypergeom(lot, bad, n1),
                    lambda x: hypergeom(lot - n1, bad - x, n2),
                    lambda x: hypergeom(lot - n1 + 1, bad - x + 1, n2 + 1),
                    lambda x: (lot - n1 + 1) / (bad - x + 1)),
            })
    here = os.path.dirname(os.path.abspath(__file__))
    lines = ',\n'.join('  ' + json.dumps(row) for row in rows)
    with open(os.path.join(here, 'values.json'), 'w', encoding='utf-8') as file:
        file.write('{\n "scipy": "%s",\n "rows": [\n%s\n ]\n}\n' % (scipy.__version__, lines))


main()
