"""What an answer says of a state, as a pair of likelihoods: of the answer if the
state does not hold, and if it does."""

from math import erf, sqrt

LOOKS = 0.25  # "looks like it": four times as likely if it is so
STEPS = 8  # rows of the gauge's table to one standard deviation


def sides(yes, against):
    return (against, 1.0) if yes else (1.0, against)


def whether(answer, slip):
    """A yes/no answer; None if it is not one."""
    if answer in ("y", "n"):
        return sides(answer == "y", slip)
    if answer in ("ly", "ln"):
        return sides(answer == "ly", LOOKS)
    if answer in ("cy", "cn"):
        return sides(answer == "cy", 0.0)
    return None


# The normal distribution above one half, in 65 536ths, at every eighth of a
# standard deviation up to 4, where it is taken as whole; a gauge is read from such
# a table with straight lines between. The rows come from the error function here,
# but the whole-number steps between them are the program's own: to 1e-12 there is
# no other way to agree. How far all of it is from the real curve is checked too.
TABLE = [round(65536 * erf(i / STEPS / sqrt(2)) / 2) for i in range(4 * STEPS)] + [32768]


def below(mark, reading, gauge):
    """Chance that the true value lies below a mark, in 65 536ths."""
    distance = mark - reading
    scaled = abs(distance) * (STEPS << 16) // gauge
    row, between = scaled >> 16, scaled & 0xFFFF
    low = TABLE[min(row, len(TABLE) - 1)]
    high = TABLE[min(row + 1, len(TABLE) - 1)]
    above = low + (high - low) * (between >> 4) // 4096
    return 32768 - above if distance < 0 else 32768 + above


def within(reading, first, last, gauge):
    """Likelihoods of a reading for "lies from first to last"."""
    if gauge == 0:
        return sides(first <= reading <= last, 0.0)
    top = 65536 if last == 2**31 - 1 else below(last, reading, gauge)
    bottom = 0 if first == -(2**31) else below(first, reading, gauge)
    inside = max(top - bottom, 0) / 65536
    return (1.0 - inside, inside)


def likelihoods(row, given, asks):
    """Of one state, given {ask: answer} about its part."""
    _, _, _, ask, trial, other = row
    answer = given.get(ask, "")
    if trial == "yes":
        found = whether(answer, asks[ask][0] / 1000)
        if found:
            return found
    elif trial[0] == "value" and answer.startswith("v"):
        return sides(int(answer[1:]) == trial[1], asks[ask][0] / 1000)
    elif trial[0] == "within" and answer.startswith("r"):
        return within(int(answer[1:]), trial[1], trial[2], asks[ask][1])
    if other is not None:
        found = whether(given.get(other, ""), asks[other][0] / 1000)
        if found:
            return found
    return (1.0, 1.0)
