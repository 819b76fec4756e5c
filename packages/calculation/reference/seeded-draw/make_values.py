"""Second, independent writing of the seeded draw, from its description, to make fixed vectors.

Run: python3 make_values.py > values.json   (Python 3.11 or later, standard library only)
"""
import json
from fractions import Fraction

MASK = (1 << 64) - 1
GAMMA = 0x9E3779B97F4A7C15


def mix(z):
    z &= MASK
    z = ((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9) & MASK
    z = ((z ^ (z >> 27)) * 0x94D049BB133111EB) & MASK
    return z ^ (z >> 31)


def rotl(x, k):
    return ((x << k) & MASK) | (x >> (64 - k))


class Stream:
    def __init__(self, seed):
        digits = seed.lower()
        self.s = [mix(i * GAMMA) for i in (1, 2, 3, 4)]
        self.s[0] = mix(GAMMA + len(digits))
        for k, start in enumerate(range(0, len(digits), 16)):
            part = digits[start:start + 16]
            self.s[k % 4] = mix(self.s[k % 4] ^ int(part + "0" * (16 - len(part)), 16))
        if not any(self.s):
            self.s[0] = GAMMA
        for _ in range(64):
            self.word()

    def word(self):
        s = self.s
        result = (rotl((s[1] * 5) & MASK, 7) * 9) & MASK
        t = (s[1] << 17) & MASK
        s[2] ^= s[0]
        s[3] ^= s[1]
        s[1] ^= s[2]
        s[0] ^= s[3]
        s[2] ^= t
        s[3] = rotl(s[3], 45)
        return result

    def below(self, bound):
        fair = (1 << 64) // bound * bound
        while True:
            x = self.word()
            if x < fair:
                return x % bound


def shuffle(items, stream):
    items = list(items)
    for last in range(len(items) - 1, 0, -1):
        other = stream.below(last + 1)
        items[last], items[other] = items[other], items[last]
    return items


def allocate(sizes, n, stream):
    if n >= len(sizes):
        rest, sample = list(range(len(sizes))), n
        while True:
            total = sum(sizes[i] for i in rest)
            kept = [i for i in rest if Fraction(sample * sizes[i], total) >= 1]
            if len(kept) == len(rest):
                break
            sample -= len(rest) - len(kept)
            rest = kept
        result = [1] * len(sizes)
        share = {i: Fraction(sample * sizes[i], total) for i in rest}
        order = shuffle(rest, stream)
        for i in rest:
            result[i] = share[i].numerator // share[i].denominator
        left = n - sum(result)
        order.sort(key=lambda i: -(share[i] - result[i]))
        for i in order[:left]:
            result[i] += 1
        return result
    total = sum(sizes)
    order = shuffle(range(len(sizes)), stream)
    start = stream.below(total)
    points = [Fraction(start + j * total, n) for j in range(n)]
    result, low = [0] * len(sizes), 0
    for i in order:
        result[i] = sum(1 for p in points if low <= p < low + sizes[i])
        low += sizes[i]
    return result


def draw(seed, containers, n):
    stream = Stream(seed)
    counts = allocate([c["pieces"] for c in containers], n, stream)
    picks = []
    for c, k in zip(containers, counts):
        size, taken = c["pieces"], set()
        for last in range(size - k, size):
            place = stream.below(last + 1)
            taken.add(last if place in taken else place)
        for place in sorted(taken):
            pick = {"pick": len(picks) + 1, "container": c["container"]}
            if "trayPieces" in c:
                pick["tray"] = place // c["trayPieces"] + 1
                pick["position"] = place % c["trayPieces"] + 1
            else:
                pick["position"] = place + 1
            picks.append(pick)
    allocation = [{"container": c["container"], "pieces": k} for c, k in zip(containers, counts)]
    return {"allocation": allocation, "picks": picks}


def drum(name, pieces, tray=None):
    return {"container": name, "pieces": pieces} | ({"trayPieces": tray} if tray else {})


EMPTY = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"
ABC = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
INPUTS = [
    (EMPTY, [drum("drum 1", 1200, 50), drum("drum 2", 1200, 50), drum("drum 3", 800, 50)], 8),
    (ABC, [drum(f"drum {i}", 250) for i in range(1, 9)], 32),
    (ABC.upper(), [drum(f"drum {i}", 250) for i in range(1, 9)], 32),
    ("0123456789abcdef", [drum("a", 1000), drum("b", 1), drum("c", 1), drum("d", 1)], 5),
    ("0123456789abcdef0", [drum("a", 1000), drum("b", 1), drum("c", 1), drum("d", 1)], 3),
    (ABC + EMPTY, [drum("a", 7, 3), drum("b", 5, 3)], 12),
    ("0000000000000000", [drum("a", 1)], 1),
]
cases = [
    {"input": {"seed": s, "containers": c, "sampleSizePieces": n}, "output": draw(s, c, n)}
    for s, c, n in INPUTS
]
words = {seed: [str(stream.word()) for _ in range(4)] for seed in ("0123456789abcdef", EMPTY)
         for stream in [Stream(seed)]}
print("{\n \"words\": " + json.dumps(words) + ",\n \"cases\": [")
print(",\n".join("  " + json.dumps(case) for case in cases))
print(" ]\n}")
