import numpy as np
from scipy.stats import hypergeom


def work(data):
    counts = np.arange(data["acceptanceNumber"] + 1)[:, None]
    bad = np.array(data["nonconformingPieces"])[None, :]
    terms = hypergeom.pmf(counts, data["lotSizePieces"], bad, data["sampleSizePieces"])
    return terms.sum(axis=0).tolist()
