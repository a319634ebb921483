"""What answers say of states, as a pair of likelihoods for each: of the answers if the
state does not hold, and if it does.

A reading is about all marks on a measure at once, and a choice about all values. Their
likelihood in a world is worked out for that world; the pairs are such that their product
over the states is that likelihood, but for a factor that all worlds have."""

from math import erfc, sqrt

LOOKS = 0.2  # "looks like it": four times as likely if it is so
UP = 2**31 - 1  # no end above
LEAST = 2.0**-50  # no band is said to be less likely than this


def sides(yes, against):
    return (against, 1.0 - against) if yes else (1.0 - against, against)


def whether(answer, slip):
    """A yes/no answer; even, if it is none."""
    if answer in ("y", "n"):
        return sides(answer == "y", slip)
    if answer in ("ly", "ln"):
        return sides(answer == "ly", LOOKS)
    if answer in ("cy", "cn"):
        return sides(answer == "cy", 0.0)
    return (1.0, 1.0)


def mass(low, high, reading, gauge):
    """Chance that the true value lies between two marks."""
    x = None if low is None else (low - reading) / gauge / sqrt(2)
    y = None if high is None else (high - reading) / gauge / sqrt(2)
    if x is None:
        found = erfc(-y) / 2
    elif y is None:
        found = erfc(x) / 2
    elif x >= 0:
        found = (erfc(x) - erfc(y)) / 2
    else:
        found = (erfc(-y) - erfc(-x)) / 2
    return max(found, LEAST)


class Measure:
    """The marks that one part has on a measure: {mark: (divides, named)}."""

    def __init__(self, marks, least, most):
        self.marks, self.least, self.top = marks, least, most + 1
        self.levels = sorted(at for at, (divides, _) in marks.items() if divides is None)

    def above(self, at, start, end):
        """How much of the stretch from start to end lies above a mark."""
        known = [(self.top if end is None else end, 0)]
        for mark, (divides, named) in self.marks.items():
            inside = (start is None or mark > start) and mark < known[0][0]
            if divides is not None and named and inside:
                known.append((mark, divides))
        if start is not None:
            known.append((start, 1000))
        else:
            unnamed = [m for m, (d, named) in self.marks.items() if d is not None and not named]
            known.append((self.least, self.marks[min(unnamed)][0] if unnamed else 1000))
        known.sort()
        for (low, most), (high, rest) in zip(known, known[1:]):
            if at < high:
                return (rest + (most - rest) * (high - at) / (high - low)) / 1000
        return 0.0

    def share(self, low, high):
        """The share that a band has of its stretch."""
        start = max((at for at in self.levels if low is not None and at <= low), default=None)
        end = min((at for at in self.levels if high is not None and at >= high), default=None)
        if (start, end) == (low, high):
            return 1.0
        below = 1.0 if low is None or low == start else self.above(low, start, end)
        rest = 0.0 if high is None or high == end else self.above(high, start, end)
        return below - rest

    def band(self, low, high, reading, gauge):
        """How likely a reading is in a band."""
        return mass(low, high, reading, gauge) / self.share(low, high)


def measured(trial, reading, rows, ask):
    _, gauge, least, most = ask
    first, last = trial[1], trial[2]
    if last != UP:
        return (1.0, 1.0)  # follows from the marks at its ends
    if gauge == 0:
        return sides(first <= reading, 0.0)
    marks = {
        row[4][1]: (row[6], row[5] is not None)
        for row in rows
        if row[4][0] == "within" and row[4][2] == UP
    }
    measure = Measure(marks, least, most)
    lower = max((at for at in marks if at < first), default=None)
    higher = min((at for at in marks if at > first), default=None)
    found = (
        measure.band(lower, first, reading, gauge),
        measure.band(first, higher, reading, gauge),
    )
    return tuple(one / max(found) for one in found)


def chosen(meant, value, rows, ask):
    slip, values = ask[0] / 1000, ask[1]

    def likely(true):
        return 1.0 - slip if true == value else slip / (values - 1)

    named = {row[4][1] for row in rows}
    rest = [likely(true) for true in range(values) if true not in named]
    return (sum(rest) / len(rest) if rest else 1.0, likely(meant))


def likelihoods(row, given, asks, rows):
    """Of one state, given {ask: answer} about its part, all of whose states are rows."""
    _, _, _, ask, trial, other, _ = row
    answer = given.get(ask, "")
    slip = asks[ask][0] / 1000
    if trial == "yes":
        return whether(answer, slip)
    same = [one for one in rows if one[3] == ask and one[4] != "yes"]
    found = (1.0, 1.0)
    if trial[0] == "value" and answer.startswith("v"):
        found = chosen(trial[1], int(answer[1:]), same, asks[ask])
    elif trial[0] == "within" and answer.startswith("r"):
        if len(asks[ask]) == 4:
            found = measured(trial, int(answer[1:]), same, asks[ask])
        else:
            found = sides(trial[1] <= int(answer[1:]) <= trial[2], 0.0)
    if other is not None:
        seen = whether(given.get(other, ""), asks[other][0] / 1000)
        found = (found[0] * seen[0], found[1] * seen[1])
    return found
