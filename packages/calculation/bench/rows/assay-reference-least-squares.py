from fractions import Fraction
from math import sqrt


def solve(matrix, right):
    """Gauss without a rounding: plain doubles lose half the digits of Filip."""
    n = len(right)
    rows = [row[:] + [value] for row, value in zip(matrix, right)]
    for k in range(n):
        pivot = next(i for i in range(k, n) if rows[i][k] != 0)
        rows[k], rows[pivot] = rows[pivot], rows[k]
        for i in range(k + 1, n):
            factor = rows[i][k] / rows[k][k]
            if factor:
                rows[i] = [a - factor * b for a, b in zip(rows[i], rows[k])]
    out = [Fraction(0)] * n
    for k in range(n - 1, -1, -1):
        out[k] = (rows[k][n] - sum(rows[k][j] * out[j] for j in range(k + 1, n))) / rows[k][k]
    return out


def fit(name, degree, rows):
    y = [Fraction(row[0]) for row in rows]
    if name == "Longley":
        design = [[Fraction(1), *map(Fraction, row[1:])] for row in rows]
    else:
        first = 1 if name == "NoInt1" else 0
        design = [[Fraction(row[1]) ** k for k in range(first, degree + 1)] for row in rows]
    columns = list(zip(*design))
    matrix = [[sum(a * b for a, b in zip(p, q)) for q in columns] for p in columns]
    right = [sum(a * b for a, b in zip(p, y)) for p in columns]
    beta = solve(matrix, right)
    rest = sum((v - sum(b * x for b, x in zip(beta, row))) ** 2 for v, row in zip(y, design))
    spread = sqrt(rest / (len(y) - len(beta)))
    return [*map(float, beta), 0.0 if spread < 1e-9 else spread]


def work(data):
    return [figure for one in data for figure in fit(one["name"], one["degree"], one["rows"])]
