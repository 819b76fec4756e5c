"""CIPM-2007 over many conditions at once, in vectors."""
import numpy as np


def work(data):
    at = np.arange(data["count"])
    t = 15 + (at % 121) / 10
    p = 60_000 + (at % 5003) * 9.9
    h = (at % 101) / 100
    x = 0.0004 + (at % 7) * 1e-5
    k = t + 273.15
    psv = np.exp((1.2378847e-5 * k - 1.9121316e-2) * k + 33.93711047 - 6.3431645e3 / k)
    xv = h * (1.00062 + 3.14e-8 * p + 5.6e-7 * t * t) * psv / p
    ratio = p / k
    z = (1 - ratio * (1.58123e-6 + (-2.9331e-8 + 1.1043e-10 * t) * t
                      + xv * ((5.707e-6 - 2.051e-8 * t) + (1.9898e-4 - 2.376e-6 * t) * xv))
         + ratio * ratio * (1.83e-11 - 0.765e-8 * xv * xv))
    m = (28.96546 + 12.011 * (x - 4e-4)) * 1e-3
    density = p * m / (z * 8.314472 * k) * (1 - xv * (1 - 18.01528e-3 / m))
    return [density.sum(), density @ density, density.max()]
