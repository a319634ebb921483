"""The worlds of a piece at several moments: as it was found, and after each mend.

Each start and each reason fires or not once and for good, so what becomes of a state is worked
out for all moments together: the value of a variable is its *course*, what it is at each moment.
"""

import itertools

import from_guide


class At:
    """A world at one moment."""

    def __init__(self, world, moment):
        self.world, self.moment = world, moment

    def __getitem__(self, var):
        return self.world[var][self.moment]


def names_of_mended(pack):
    """(noun, phrase) of everything that a `Mends:` names."""
    return {named for job in pack.jobs.values() for named in job["mends"]}


class Moments(from_guide.Model):
    """A piece at several moments: the value of a variable is what it is at each of them."""

    def __init__(self, pack, piece, ordered):
        super().__init__(pack, piece, ordered)
        self.count = 1
        self.events = {}         # variable -> {moment: ("mend", holds), ("there" or "moved", values)}
        self.mended_names = names_of_mended(pack)

    def is_fault(self, var):
        """Whether it lasts until it is mended: a hidden fault, or what a `Mends:` names."""
        node, kind, what = var
        if kind == "state":
            return self.pack.state_of(node.noun, what)["kind"] == "fault" or any(
                self.pack.isa(node.noun, noun) and phrase == what
                for noun, phrase in self.mended_names)
        if kind == "measure":
            return any(self.pack.isa(node.noun, noun)
                       and self.var_of(node, phrase) == var for noun, phrase in self.mended_names)
        return False

    def var_of(self, node, phrase):
        """What a mend of a state, a named mark or a degree is about."""
        return self.key_of(node, self.pack.concludes(node.noun, phrase))

    def sound_end(self, var):
        """What a variable is when it was mended."""
        node, kind, what = var
        if kind != "measure":
            return False
        down = from_guide.direction(self.pack, what, node.noun) < 0
        return len(self.marks(node, what)) if down else 0

    def signs_of(self, var, mended_before):
        """Every sign that hangs on a variable now; faults, and what work of one's own mended
        before, stand in between."""
        if self.hanging is None:
            self.hanging = {}
            for one in self.everything():
                for need in self.needs(one):
                    self.hanging.setdefault(need, set()).add(one)
        seen, todo = set(), [var]
        while todo:
            for one in self.hanging.get(todo.pop(), ()):
                if one not in seen and one not in mended_before and not self.is_fault(one):
                    seen.add(one)
                    todo.append(one)
        return seen

    hanging = None

    def everything(self):
        """Every variable of the piece that hangs on others."""
        for node in self.all_nodes:
            said = []
            for noun, phrase in list(self.pack.states):
                if self.pack.isa(node.noun, noun) and phrase not in said:
                    said.append(phrase)
                    yield node, "state", phrase
                    group = self.group_of(node, phrase)
                    if group:
                        yield node, "group", group
            for key in self.pack.measures:
                if self.pack.isa(node.noun, key[0]):
                    yield node, "measure", key
        yield from self.picks

    # --- the chance of each course that a variable can take --------------------------------

    def courses(self, start, reasons, world):
        """Where a start and reasons fire once and for good: at which moments one of them counts."""
        always, never = (True,) * self.count, (False,) * self.count
        table = {always: start, never: 1.0 - start}
        for _, test, strength, _ in reasons:
            so = tuple(bool(test(At(world, m))) for m in range(self.count))
            after = {}
            for course, chance in table.items():
                with_it = tuple(a or b for a, b in zip(course, so))
                after[course] = after.get(course, 0.0) + chance * (1.0 - strength)
                after[with_it] = after.get(with_it, 0.0) + chance * strength
            table = after
        return [(c, p) for c, p in table.items() if p]

    def state_courses(self, node, phrase, world):
        """The courses of a state by its start, its reasons, and where it can be at all."""
        start, reasons = self.ways(node, phrase)
        limits = self.only_if.get((node, phrase), [])
        can = [all(test(At(world, m)) for _, test in limits) for m in range(self.count)]
        return [(tuple(a and b for a, b in zip(course, can)), chance)
                for course, chance in self.courses(start, reasons, world)]

    def spread(self, var, world):
        """The chance of each course of a variable, where the courses of what it needs are known."""
        node, kind, what = var
        if kind == "state":
            group = self.group_of(node, what)
            if group:
                course = tuple(won == what for won in world[node, "group", group])
                found = [(course, 1.0)]
            else:
                found = self.state_courses(node, what, world)
        elif kind == "group":
            return self.group_courses(node, what, world)
        elif kind == "pick":
            return self.pick_courses(var, world)
        elif kind == "measure":
            found = self.measure_courses(node, what, world)
        else:                    # choices and counts hang on nothing and are not mended
            return [((value,) * self.count, chance)
                    for value, chance in super().spread(var, world)]
        if self.is_fault(var):
            return self.through_events(var, found, 1)
        if var in self.events:      # a sign until work of one's own mended it
            return self.through_events(var, found, min(self.events[var]))
        return found

    def through_events(self, var, courses, first):
        """From this moment on it stays as it was until it is mended, or is noted again."""
        table = {}
        for course, chance in courses:
            table[course[:first]] = table.get(course[:first], 0.0) + chance
        events, sound = self.events.get(var, {}), self.sound_end(var)
        for moment in range(first, self.count):
            after = {}
            kind, how = events.get(moment, (None, None))
            for course, chance in table.items():
                ways = [(course[-1], 1.0)]
                if kind == "mend":
                    ways = [(sound, how), (course[-1], 1.0 - how)]
                elif kind == "there":
                    ways = how
                elif kind == "moved" and course[-1] in dict(how):
                    ways = how
                for value, p in ways:
                    if p:
                        longer = course + (value,)
                        after[longer] = after.get(longer, 0.0) + chance * p
            table = after
        return list(table.items())

    def pick_courses(self, var, world):
        """A rule with several results picks one of them once and for good."""
        _, test, often, many = self.picks[var]
        so = [bool(test(At(world, m))) for m in range(self.count)]
        return [(tuple(i if s else None for s in so), often / many) for i in range(many)] + \
            [((None,) * self.count, 1.0 - often)]

    def group_courses(self, node, phrases, world):
        """Of those for which there are reasons one is so: the first in an order that is drawn
        once and for good (a guess)."""
        orders = list(itertools.permutations(phrases))
        out = {}
        for drawn in itertools.product(*(self.state_courses(node, p, world) for p in phrases)):
            chance = 1.0
            for _, p in drawn:
                chance *= p
            there = dict(zip(phrases, (course for course, _ in drawn)))
            for order in orders:
                course = tuple(next((p for p in order if there[p][m]), None)
                               for m in range(self.count))
                out[course] = out.get(course, 0.0) + chance / len(orders)
        return list(out.items())

    def measure_courses(self, node, key, world):
        """A measure's levels by starts and reasons; where it stands in each stretch is drawn
        once and for good (a guess)."""
        levels, starts = self.levels(node, key), from_guide.level_starts(self, node, key)
        stretches = {(0,) * self.count: 1.0}
        for i, (phrase, _) in enumerate(levels):
            after = {}
            for course, chance in self.courses(starts[i], self.ways(node, phrase)[1], world):
                for before, p in stretches.items():
                    both = tuple(i + 1 if c else b for c, b in zip(course, before))
                    after[both] = after.get(both, 0.0) + chance * p
            stretches = after
        shares = from_guide.band_shares(self, node, key)
        table = {}
        for course, chance in stretches.items():
            reached = sorted(set(course))
            inside = [[(band, share) for band, (which, share) in enumerate(shares) if which == s]
                      for s in reached]
            for drawn in itertools.product(*inside):
                p, band_of = chance, {}
                for s, (band, share) in zip(reached, drawn):
                    p, band_of[s] = p * share, band
                bands = tuple(band_of[s] for s in course)
                table[bands] = table.get(bands, 0.0) + p
        return [(c, p) for c, p in table.items() if p]
