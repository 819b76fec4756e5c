import numpy as np
from scipy import integrate, optimize, special

angles = np.linspace(0, np.pi / 2, 6001)


def density(size, below):
    """Density of the angle of the largest among size values, from the distribution among one fewer."""
    factor = size * np.exp(special.gammaln((size - 1) / 2) - special.gammaln((size - 2) / 2)) / np.sqrt(np.pi)
    sine = np.sqrt(size / (size - 2)) * np.tan(angles)
    rest = np.where(sine >= 1, np.pi / 2, np.arcsin(np.minimum(1, sine)))
    return factor * np.cos(angles) ** (size - 3), rest, below(rest)


def tables(largest):
    found = {2: lambda a: np.where(a >= np.pi / 2 - 1e-12, 1.0, 0.0)}
    for size in range(3, largest + 1):
        plain, _, below = density(size, found[size - 1])
        total = integrate.cumulative_trapezoid(plain * below, angles, initial=0)
        found[size] = (lambda t: (lambda a: np.interp(a, angles, t)))(total / total[-1])
    return found


def critical(count, found):
    plain, rest, above = density(count, found[count - 1])

    def excess(log_ratio):
        root = np.exp(log_ratio / 2)
        least = np.where(np.cos(angles) > root, np.arccos(np.minimum(1, root / np.maximum(np.cos(angles), 1e-300))), 0)
        between = np.maximum(0, above - found[count - 1](least))
        return integrate.trapezoid(plain * between, angles) - 0.025

    return np.exp(optimize.brentq(excess, -12, -0.01, xtol=1e-9))


def work(data):
    found = tables(max(data) - 1)
    return [critical(count, found) for count in data]
