import numpy as np
from scipy.interpolate import make_smoothing_spline


def work(data):
    x, y = np.asarray(data["volumes"]), np.asarray(data["potentials"])
    spline = make_smoothing_spline(x, y)
    bend = spline.derivative(2)(x)
    j = np.flatnonzero(bend[1:-2] * bend[2:-1] <= 0) + 1
    places = x[j] + (x[j + 1] - x[j]) * bend[j] / (bend[j] - bend[j + 1])
    return [float(places[np.argmax(np.abs(spline.derivative()(places)))])]
