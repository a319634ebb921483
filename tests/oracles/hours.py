"""Makes ../golden/hours.json: hours of bench work, by numpy and scipy.

    python hours.py > ../golden/hours.json

Three-point times by scipy's beta distribution; and the total over a small noisy-OR
network, by going through all its worlds and convolving the times of the jobs that are
done in each. Needs numpy and scipy (made with 2.4.6 and 1.17.1).
"""

import itertools
import json
import math

import numpy as np
from scipy import stats

TIMES = [(1, 2, 6), (0.5, 1, 1.5), (2, 3, 10)]

# Each state: its own chance, and what brings it about how often.
NETWORK = {
    "damp": (0.2, {}),
    "heavy": (0.3, {}),
    "runner worn": (0.05, {"heavy": 0.6}),
    "racked": (0.04, {"damp": 0.5, "heavy": 0.1}),
    "dropping": (0.01, {"runner worn": 0.85, "racked": 0.2}),
    "sticking": (0.02, {"racked": 0.7, "damp": 0.5}),
    "chipped": (0.03, {"dropping": 0.6}),
    "gaping": (0.05, {"racked": 0.9, "dropping": 0.4}),
}
HOURS = {
    "runner worn": (1, 2, 6),
    "racked": (4, 6, 16),
    "dropping": (0.5, 1, 1.5),
    "sticking": (0.5, 1, 3),
    "chipped": (1, 2, 4),
}
FOUND = [{}, {"gaping": True}, {"gaping": True, "damp": True}]
STEP = 0.125


def shape(a, m, b):
    return 1 + 4 * (m - a) / (b - a), 1 + 4 * (b - m) / (b - a)


def points(a, m, b):
    alpha, beta = shape(a, m, b)
    time = stats.beta(alpha, beta, loc=a, scale=b - a)
    return {
        "times": [a, m, b],
        "mean": float(time.mean()),
        "variance": float(time.var()),
        "points": [float(time.ppf(share)) for share in (0.1, 0.5, 0.9)],
    }


def row(a, m, b):
    """On the grid, to the nearest step."""
    alpha, beta = shape(a, m, b)
    edges = (np.arange(int(b / STEP) + 3) - 0.5) * STEP
    return np.diff(stats.beta.cdf((edges - a) / (b - a), alpha, beta))


def worlds(found):
    names = list(NETWORK)
    for values in itertools.product([False, True], repeat=len(names)):
        world = dict(zip(names, values))
        if any(world[name] != so for name, so in found.items()):
            continue
        weight = 1.0
        for name, (own, causes) in NETWORK.items():
            absent = (1 - own) * math.prod(1 - p for by, p in causes.items() if world[by])
            weight *= 1 - absent if world[name] else absent
        yield world, weight


def case(found):
    rows = {name: row(*times) for name, times in HOURS.items()}
    all_weight, total = 0.0, np.zeros(1)
    first = second = 0.0
    chances = dict.fromkeys(HOURS, 0.0)
    for world, weight in worlds(found):
        done = [name for name in HOURS if world[name]]
        time, mean, variance = np.ones(1), 0.0, 0.0
        for name in done:
            time = np.convolve(time, rows[name])
            moments = points(*HOURS[name])
            mean += moments["mean"]
            variance += moments["variance"]
            chances[name] += weight
        size = max(len(total), len(time))
        total = np.pad(total, (0, size - len(total))) + weight * np.pad(time, (0, size - len(time)))
        all_weight += weight
        first += weight * mean
        second += weight * (variance + mean * mean)
    mean, variance = first / all_weight, second / all_weight - (first / all_weight) ** 2
    below = np.cumsum(total / all_weight)
    return {
        "found": found,
        "chances": {name: chance / all_weight for name, chance in chances.items()},
        "mean": mean,
        "deviation": math.sqrt(variance),
        "nothing to do": float(total[0] / all_weight),
        "points": [float(STEP * np.searchsorted(below, share)) for share in (0.1, 0.5, 0.8, 0.9)],
    }


print(json.dumps({
    "step": STEP,
    "times": [points(*times) for times in TIMES],
    "cases": [case(found) for found in FOUND],
}, indent=1))
