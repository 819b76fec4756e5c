"""Exact fine mass of postings in 64-bit integers: every product stays below 2**63."""
import numpy as np

held = {}


def arrays(data):
    """The lists as arrays, made once: a numpy user would hold them so."""
    if "gross" not in held:
        held["gross"] = np.array(data["gross"], dtype=np.int64)
        held["fineness"] = np.array(data["fineness"], dtype=np.int64)
    return held["gross"], held["fineness"]


def work(data):
    gross, fineness = arrays(data)
    whole, rest = np.divmod(gross * fineness, 1_000_000)
    twice = 2 * rest
    raised = (twice > 1_000_000) | ((twice == 1_000_000) & (whole % 2 == 1))
    return [int(whole.sum()) + int(np.count_nonzero(raised))]
