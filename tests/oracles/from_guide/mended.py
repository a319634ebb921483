"""What becomes of a piece after something was mended, worked out from the guide.

A job's record is lines in order: findings, ticks (`done: JOB on PART`), work of one's own
(`done: WORK, mends FAULT`) and ticks taken back (`undo: JOB on PART`).  What opening up showed
may follow a tick (`done: JOB on PART, found FAULT`, or `not found`).  Answers are weighed at the
moment at which they were noted (section 12, "After something was mended").  Where the guide
leaves something open, the reading is marked with *a guess*.
"""

import re

import from_guide
from moments import At, Moments


class Line:
    """One finding of the record about one thing."""

    def __init__(self, var, tag, weight, number):
        self.var, self.tag, self.weight = var, tag, weight
        self.number = number     # where it stands in the record
        self.again = None        # what it says is there, where that was mended: (value, chance)
        self.mends = ()          # the mends before it that bear on it
        self.moves = False       # whether it says where in the sound stretch something mended stands


class Mend:
    """One mend of one thing."""

    def __init__(self, var, holds, line):
        self.var, self.holds, self.line = var, holds, line
        self.bears_on = {var}    # and the signs that hang on it


class History(from_guide.Job):
    """A piece as ordered, and its record."""

    def __init__(self, pack, order, record):
        super().__init__(pack, order, [])
        first = self.model
        self.model = Moments(pack, first.root_node.noun, first.ordered)
        self.lines, self.all_mends = [], []
        for number, entry in enumerate(self.without_undone(record)):
            if entry.startswith("done:"):
                self.all_mends += self.ticked(entry, number)
            else:
                self.lines += self.noted(entry, number)
        self.place()

    def without_undone(self, record):
        """The record without the ticks that were taken back, and without the taking back; what
        opening up showed stands before its tick."""
        out = []
        for entry in record:
            opened = re.match(r"(done:.*), (not found|found) (.*) (is|shows) (.*)$", entry)
            if opened:
                out.append("%s is certainly %s%s" % (
                    opened[3], "not " if opened[2] == "not found" else "", opened[5]))
                entry = opened[1]
            if entry.startswith("undo:"):
                out = [e for e in out if e != "done:" + entry[5:]]
            else:
                out.append(entry)
        return out

    def ticked(self, entry, number):
        """What a tick mends: on the part that it was done for, on each of those built into it, or
        on what it is built into."""
        words = entry[5:].strip()
        own = re.match(r"(.*), mends (.*)$", words)
        if own:
            part, phrase = re.match(r"(.*?) (?:is|shows) (.*)$", own[2]).groups()
            return [Mend(self.model.var_of(node, phrase), from_guide.HOLDS, number)
                    for node in self.part(part)]
        name, part = re.match(r"(.*?) on (.*)$", words).groups()
        job, out = self.pack.jobs[name], []
        for node in self.part(part):
            for noun, phrase in job["mends"]:
                out += [Mend(self.model.var_of(x, phrase), job["holds"], number)
                        for x in meant_by(self.pack, node, noun)]
        return out

    def noted(self, entry, number):
        """A finding, for each part that it speaks of."""
        out = []
        for var, tag, weight in self.finding(entry.lower()):
            line = Line(var, tag, weight, number)
            if not re.search(r"\b(no|not|looks?)\b", entry.lower()):
                line.again = self.said_there(var, weight)
            out.append(line)
        return out

    def said_there(self, var, weight):
        """What a mended thing is, when it is noted again: (value, chance) of each."""
        if var[1] == "state":
            return [(True, 1.0)]
        if var[1] != "measure":
            return None
        node, _, key = var
        if (node, key) in self.readings:      # a reading is taken as it is
            at = self.readings.pop((node, key))
            band = sum(at >= t for t in self.model.marks(node, key))
            shares = from_guide.band_shares(self.model, node, key)
            is_sound = shares[band][0] == shares[self.model.sound_end(var)][0]
            return None if is_sound else [(band, 1.0)]
        bands = range(len(self.model.marks(node, key)) + 1)
        most = max(weight(b) for b in bands)
        fits = [b for b in bands if weight(b) == most]
        if self.model.sound_end(var) in fits:
            return None
        shares = from_guide.band_shares(self.model, node, key)   # which of them is open (a guess)
        total = sum(shares[b][1] for b in fits)
        return [(b, shares[b][1] / total) for b in fits]

    def place(self):
        """Finds what counts: of the answers about one thing the latest before each mend."""
        for mend in self.all_mends:
            before = {m.var for m in self.all_mends if m.line < mend.line}
            mend.bears_on |= self.model.signs_of(mend.var, before)
        latest = {}
        for line in self.lines:
            line.mends = tuple(i for i, m in enumerate(self.all_mends)
                               if m.line < line.number and line.var in m.bears_on)
            latest[line.var, line.tag, line.mends] = line
        self.replaced = [x for x in self.lines if x not in latest.values()]
        self.standing = sorted(latest.values(), key=lambda x: x.number)
        again = [x for x in self.standing if x.again and self.mended_before(x)]
        for line in self.standing:
            line.moves = line.tag == "reading" and line not in again and self.mended_before(line)
        numbers = self.happen(again, [x for x in self.standing if x.moves])
        self.weights, self.found_weights = {}, {}
        self.weigh_all([x for x in self.standing if x not in again], numbers)
        for line in self.standing:
            if not line.mends:
                self.weigh_at(self.found_weights, line, 0)

    def happen(self, again, moving):
        """Tells the model what changes, and when; gives back the lines that begin a moment."""
        numbers = sorted({m.line for m in self.all_mends} | {x.number for x in again + moving})
        moment_of = {n: 1 + i for i, n in enumerate(numbers)}
        self.model.count = 1 + len(numbers)

        def happens(var, number, *what):
            self.model.events.setdefault(var, {})[moment_of[number]] = what
        for mend in self.all_mends:
            happens(mend.var, mend.line, "mend", mend.holds)
        for line in again:
            happens(line.var, line.number, "there", line.again)
        for line in moving:
            happens(line.var, line.number, "moved", self.where_in_sound_stretch(line))
        return numbers

    def weigh_all(self, counted, numbers):
        """Weighs every answer that counts, at the moment at which it was noted."""
        last = {line.var: line.number for line in counted if line.tag == "reading"}
        for var, mends in dict.fromkeys((x.var, x.mends) for x in counted):
            lines = [x for x in counted if (x.var, x.mends) == (var, mends)]
            read_later = lines[-1].number < last.get(var, 0) and mends != self.mends_at(var, last)
            if self.is_gauged(var) and (read_later or any(x.moves for x in lines)):
                lines = [self.by_stretch(lines)]
            for line in lines:
                self.weigh_at(self.weights, line, sum(n < line.number for n in numbers))

    def mends_at(self, var, last):
        """The mends that bear on the last reading of a measure."""
        return next(x.mends for x in self.standing if (x.var, x.number) == (var, last[var]))

    def is_gauged(self, var):
        """Whether it is a measure, and no judgement: all degrees are marks, and divide nothing."""
        return var[1] == "measure" and "degrees" not in self.pack.measures[var[2]]

    def by_stretch(self, lines):
        """Answers about a measure before a mend that bears on it, where it was measured again: they
        weigh its stretches, for what divides a stretch makes no difference to anything else.
        Where in its stretch it stands now, the later reading says."""
        node, _, key = lines[0].var
        shares, held = from_guide.band_shares(self.model, node, key), {}
        for band, (which, share) in enumerate(shares):
            product = share
            for line in lines:
                product *= line.weight(band)
            held[which] = held.get(which, 0.0) + product
        return Line(lines[0].var, "stretch", lambda b: held[shares[b][0]], lines[-1].number)

    def where_in_sound_stretch(self, line):
        """The bands of the stretch at the sound end, as a reading in it says: (band, chance)."""
        node, _, key = line.var
        shares = from_guide.band_shares(self.model, node, key)
        sound = shares[self.model.sound_end(line.var)][0]
        found = [(b, share * line.weight(b)) for b, (which, share) in enumerate(shares)
                 if which == sound]
        total = sum(p for _, p in found)
        return [(b, p / total) for b, p in found]

    def is_open(self):
        """Whether the guide does not say which answers count: a fault was noted again between two
        answers about it, or about a sign of it, with no mend between these."""
        again = [x for x in self.lines if x.again and self.mended_before(x)]
        for old in self.replaced:
            new = next(x for x in self.standing
                       if (x.var, x.tag, x.mends) == (old.var, old.tag, old.mends))
            for one in again:
                reach = {one.var} | self.model.signs_of(one.var, set())
                if old.number <= one.number <= new.number and old.var in reach:
                    return True
        return False

    def mended_before(self, line):
        """Whether what a line speaks of was itself mended before."""
        return any(self.all_mends[i].var == line.var for i in line.mends)

    def weigh_at(self, weights, line, moment):
        """Weighs an answer by what was so at this moment."""
        held, weight = weights.get(line.var), line.weight
        if held is None:
            weights[line.var] = lambda course: weight(course[moment])
        else:
            weights[line.var] = lambda course: held(course) * weight(course[moment])

    def asked(self, question):
        """What a question needs, and its test."""
        words, _, rest = re.match(r"(.*?) (is|shows) (.*)$", question).groups()
        node = self.part(words)[0]
        name = self.pack.look_up(self.pack.names, node.noun, rest)
        judged = self.pack.degree_range(node.noun, rest)
        if judged:
            return self.model.degree_atom(node, *judged)
        if name:
            return self.model.measure_atom(node, name["measure"], name["test"])
        return self.model.state_atom(node, rest)

    def chances(self, questions, as_found=False):
        """The chance of each question as found, or now."""
        model, count, events = self.model, self.model.count, self.model.events
        weights = self.weights
        if as_found:                # what was noted after a mend that bears on it says nothing
            model.count, model.events, weights = 1, {}, self.found_weights
        out = []
        for question in questions:
            needs, test = self.asked(question)
            total = so = 0.0
            for world, chance in model.worlds(needs, weights):
                total += chance
                if test(At(world, model.count - 1)):
                    so += chance
            out.append(so / total if total else None)
        model.count, model.events = count, events
        return out

    def in_doubt(self, questions):
        """Whether the mend of each of these is in doubt: 1 or 0."""
        fails = {}
        for mend in self.all_mends:
            fails[mend.var] = fails.get(mend.var, 1.0) * (1 - mend.holds)
        out = []
        for question, chance in zip(questions, self.chances(questions)):
            var = next(iter(self.asked(question)[0]))
            out.append(float(chance >= 0.15 and chance > fails[var] + 1e-9))
        return out


def meant_by(pack, node, noun):
    """The parts with this noun that a job on a part mends."""
    if pack.isa(node.noun, noun):
        return [node]
    below = [x for x in node.below() if pack.isa(x.noun, noun)]
    if below:
        return below
    above = node.parent
    while above is not None and not pack.isa(above.noun, noun):
        above = above.parent
    return [above] if above is not None else []
