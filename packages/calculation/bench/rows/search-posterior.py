import numpy as np

REACH = 6
SIZE = 2 * REACH + 1


def shifted(lattice, vector):
    """The lattice moved by a vector; what leaves it is lost."""
    out = np.zeros_like(lattice)
    source, target = [], []
    for step in vector:
        source.append(slice(max(0, -step), SIZE - max(0, step)))
        target.append(slice(max(0, step), SIZE - max(0, -step)))
    out[tuple(target)] = lattice[tuple(source)]
    return out


def work(data):
    residual = data['residual']
    variables = data['variables']
    start = np.zeros((SIZE, SIZE, SIZE))
    start[REACH, REACH, REACH] = 1.0
    forward = [start]
    for variable in variables:
        state = forward[-1]
        total = state.copy()
        for option in variable['options']:
            total += option['weight'] * shifted(state, option['signature'])
        forward.append(total)
    backward = np.zeros_like(start)
    backward[tuple(REACH + part for part in residual)] = 1.0
    found = {}
    for variable, state in zip(reversed(variables), reversed(forward[:-1])):
        total = (state * backward).sum()
        earlier = backward.copy()
        for option in variable['options']:
            moved = shifted(backward, [-part for part in option['signature']])
            part = option['weight'] * moved
            total += (state * part).sum()
            found[variable['name'], option['value']] = (state * part).sum()
            earlier += part
        for option in variable['options']:
            found[variable['name'], option['value']] /= total
        backward = earlier
    shown = ['tube 0', 'counter A', 'counter B', 'rejects', 'loose']
    return [found[name, value] for name in shown for value in (-1, 1)]
