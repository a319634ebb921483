"""Draws small packs of one form, with findings; the same number always draws the same pack."""

import random

from forms import HEAD

SIGNS = "foxed dented wonky mossy gritty tipsy bowed pallid".split()
FAULTS = "racky torpid sprung brittle".split()
HOW_OFTEN = ["sometimes", "often", "usually", "nearly always", "in 1 of 5 cases", "by definition"]


class Drawing:
    """One pack as it is drawn: its sentences, and what can be found."""

    def __init__(self, number):
        self.random = random.Random(number)
        self.lines = []
        self.order = []          # (noun, phrase, "sign" or "fault"): causes before effects
        self.more_findings = []  # functions that draw a finding

    def pick(self, things):
        """One of them."""
        return things[self.random.randrange(len(things))]

    def chance(self, of_ten):
        """True in so many of ten cases."""
        return self.random.randrange(10) < of_ten

    def say(self, text):
        """Adds a sentence."""
        self.lines.append(text)

    def start(self, least=4, most=40):
        """`On its own:`, or nothing."""
        return "  On its own: in %d of 100 cases" % self.random.randint(least, most) \
            if self.chance(7) else ""

    def states(self, nouns, many, faults=True):
        """Signs and faults, mixed."""
        names = [(n, p, "sign") for n in nouns for p in SIGNS] + \
            [(n, p, "fault") for n in nouns for p in FAULTS if faults]
        self.random.shuffle(names)
        names = list(dict.fromkeys(names))
        for noun, phrase, kind in names[:many]:
            self.declare(noun, phrase, kind)
            self.order.append((noun, phrase, kind))

    def declare(self, noun, phrase, kind):
        """A sign or a fault."""
        if kind == "fault":
            self.say("A %s may be %s without showing it.%s" % (noun, phrase, self.start()))
        else:
            slip = "  Slip: %d in 100" % self.random.randint(0, 9) if self.chance(5) else ""
            self.say("You can see whether a %s is %s.%s%s" % (noun, phrase, self.start(), slip))

    def below(self, noun, place):
        """States of a noun before this place in the order."""
        return [p for n, p, _ in self.order[:place] if n == noun]

    def text(self, orders, words, jobs=3):
        """The pack with findings: `words` draws a part with this noun."""
        out = [HEAD.rstrip()] + self.lines
        for order in orders:
            out += ["order: " + order, "found:"]
            for _ in range(jobs):
                found = []
                for _ in range(self.random.randint(1, 3)):
                    if self.more_findings and self.chance(6):
                        line = self.pick(self.more_findings)()
                    else:
                        noun, phrase, _ = self.pick(self.order)
                        line = "%s %s %s" % (words(noun), self.pick(
                            ["is", "is not", "is", "is certainly", "looks", "does not look"]), phrase)
                    if line:
                        found.append(line)
                out.append("found: " + "; ".join(found))
        return "\n".join(out) + "\n"


def part_words(d, lidlets=2, peglets=2, parts=("lidlet", "peglet")):
    """Draws words for a part: two lidlets with two peglets each."""
    def words(noun):
        if noun == parts[0]:
            return "%s %d" % (noun, d.random.randint(1, lidlets))
        if noun == parts[1]:
            return "%s %d of %s %d" % (noun, d.random.randint(1, peglets), parts[0],
                                       d.random.randint(1, lidlets))
        return "trunklet"
    return words


def makeup(d, lidlets=2):
    """A trunklet of lidlets of peglets."""
    d.say("Pieces: trunklet.")
    d.say("Parts: lidlet, peglet.")
    d.say("A trunklet has %d lidlets." % lidlets)
    d.say("A lidlet has two peglets (left, right).")


def kinds(number):
    """A kind of piece with a kind of part."""
    d = Drawing(number)
    d.say("Pieces: trunklet, bundlet.")
    d.say("Parts: lidlet, slidlet, peglet.")
    d.say("A bundlet is a kind of trunklet.")
    d.say("A slidlet is a kind of lidlet.")
    d.say("A trunklet has 2 lidlets (from the top).")
    d.say("A lidlet has two peglets (left, right).")
    of_slidlet = d.pick(["A slidlet has no peglets.", "A slidlet has a peglet.", ""])
    d.say("A bundlet has 2 lidlets (from the top) and 2 slidlets (from the top)."
          if d.chance(4) or "no" in of_slidlet else "A bundlet has 2 slidlets (from the top).")
    if of_slidlet:
        d.say(of_slidlet)
    d.states(["trunklet", "lidlet", "lidlet", "peglet"], 9)
    d.lines = [x for x in d.lines if not x.startswith(("You", "A lidlet may", "A peglet may",
                                                        "A trunklet may"))]
    for noun, phrase, kind in d.order:
        d.declare(noun, phrase, kind)
        if noun == "lidlet" and d.chance(6):
            d.declare("slidlet", phrase, kind)
    for place in range(1, len(d.order)):
        noun, phrase, _ = d.order[place]
        for _ in range(2):
            clause = kind_clause(d, noun, place)
            if clause and not ("slidlet" in clause[0] + clause[1] and (
                    "peglet" in clause[0] + clause[1] and "A slidlet has no peglets." in d.lines
                    or "a trunklet " in clause[0])):
                d.say("If %s then %s %s %s %s.  From: house" % (
                    clause[0], clause[1], "is" if clause[1] == "it" else "are",
                    d.pick(HOW_OFTEN[:5]), phrase))

    def words(noun):
        if noun == "trunklet":
            return "trunklet"
        if noun == "lidlet":
            return "lidlet 1"
        return "every peglet"
    orders = ["bundlet", "trunklet"]
    return d.text(orders, words)


def kind_clause(d, noun, place):
    """A condition on what is before this place, and what the result is about."""
    lidlet, subject = d.pick(["lidlet", "slidlet"]), noun
    if noun == "trunklet":
        subject = d.pick(["trunklet", "bundlet"])
        phrases = d.below("lidlet", place)
        if not phrases:
            return None
        how = d.pick(["any %s", "every %s", "no %s", "at least two %ss", "the lowest %s"])
        verb = "are" if "two" in how else "is"
        return "%s of a %s %s %s" % (how % lidlet, subject, verb, d.pick(phrases)), "it"
    if noun == "lidlet":
        if d.below("trunklet", place) and d.chance(5):
            return "a %s is %s" % (d.pick(["trunklet", "bundlet"]),
                                   d.pick(d.below("trunklet", place))), "its %ss" % lidlet
        if d.below("peglet", place) and d.chance(6):
            return "%s peglet of a %s is %s" % (d.pick(["any", "every", "no"]), lidlet,
                                                d.pick(d.below("peglet", place))), "it"
        if d.below("lidlet", place):
            return "a %s is %s" % (lidlet, d.pick(d.below("lidlet", place))), "it"
        return None
    phrases = d.below("lidlet", place)
    return ("a %s is %s" % (lidlet, d.pick(phrases)), "its peglets") if phrases else None


def subject_first(noun, said):
    """A clause about a part, so that it names the part first."""
    words = said.split(" ")
    if said.startswith("any of its "):
        return "any %s of a %s %s" % (words[3][:-1], noun, " ".join(words[4:]))
    if said.startswith("every one of its "):
        return "every %s of a %s %s" % (words[4][:-1], noun, " ".join(words[5:]))
    if said.startswith("its "):
        return "the %s of a %s %s" % (words[1], noun, " ".join(words[2:]))
    return "a %s %s" % (noun, said[3:])


def clauses_for(d, noun, place):
    """Clauses about what comes before this place, seen from a part with this noun."""
    out = []
    up = {"peglet": "lidlet", "lidlet": "trunklet"}.get(noun)
    down = {"trunklet": "lidlet", "lidlet": "peglet"}.get(noun)
    for n, p, _ in d.order[:place]:
        no = "not " if d.chance(3) else ""
        if n == noun:
            out.append("it is %s%s" % (no, p))
        elif n == up:
            out.append("its %s is %s%s" % (up, no, p))
        elif n == down:
            out.append("%s of its %ss is %s" % (d.pick(["any", "every one"]), down, p))
    return out


def so_many(number):
    """`at least two of these`, lists within lists."""
    d = Drawing(number)
    makeup(d)
    d.states(["trunklet", "lidlet", "peglet"], 8)
    for place in range(3, len(d.order)):
        noun, phrase, _ = d.order[place]
        clauses = clauses_for(d, noun, place)
        d.random.shuffle(clauses)
        if len(clauses) < 2:
            continue
        head = d.pick(["at least two of these are", "at least two of these are", "any of these is"])
        rows = clauses[:4]
        text = "If %s true of a %s:\n" % (head, noun)
        for row in rows[:3]:
            text += "    - %s\n" % row
        if len(clauses) > 5:
            text += "    - at least 2 of these are true:\n"
            for row in clauses[3:6]:
                text += "        - %s\n" % row
        d.say(text + "    then it is %s %s.\n    From: house" % (d.pick(HOW_OFTEN), phrase))
    return d.text(["trunklet"], part_words(d), 4)


def one_of(number):
    """Several results with `or`, and what excludes one another."""
    d = Drawing(number)
    makeup(d)
    d.states(["trunklet", "lidlet", "lidlet", "peglet"], 9)
    of_lidlet = [p for n, p, _ in d.order if n == "lidlet"]
    if d.chance(7) and len(of_lidlet) > 2:
        d.say("A lidlet is at most one of %s.  From: house" % " or ".join(
            [", ".join(of_lidlet[-3:-1]), of_lidlet[-1]] if d.chance(5) else of_lidlet[-2:]))
    last = {n: max([i for i, x in enumerate(d.order) if x[0] == n], default=0)
            for n in ("trunklet", "lidlet", "peglet")}
    for place in range(1, len(d.order)):
        noun, phrase, _ = d.order[place]
        clauses = [c for c in clauses_for(d, noun, place)]
        later = [p for n, p, _ in d.order[place:] if n == noun][:d.random.randint(1, 4)]
        if not clauses or last[noun] == 0:
            continue
        first = subject_first(noun, d.pick(clauses))
        d.say("If %s then it is %s %s.  From: house" % (first, d.pick(HOW_OFTEN), " or ".join(later)))
    return d.text(["trunklet"], part_words(d), 4)


def degrees(number):
    """Judgements with two to four degrees."""
    d = Drawing(number)
    makeup(d)
    d.states(["trunklet", "lidlet", "lidlet"], 6)
    degree = ["slightly", "clearly", "strongly", "badly"]
    judged = {}
    for noun, word in (("trunklet", "stained"), ("lidlet", "lifted"), ("lidlet", "bleached")):
        mine = sorted(d.random.sample(degree, d.random.randint(2, 4)), key=degree.index)
        judged[word] = noun, mine
        slip = "  Slip: %d in 100" % d.random.randint(0, 12) if d.chance(7) else ""
        d.say("You can see how badly a %s is %s: %s or %s.%s%s" % (
            noun, word, ", ".join(mine[:-1]), mine[-1], d.start(2, 60), slip))

    def extent(mine):
        some = d.pick(mine)
        return d.pick(["", some + " ", some + " ", "at least %s " % some] +
                      (["at most %s " % some, "more than %s " % mine[0],
                        "less than %s " % some, "not ", "not %s " % mine[-1]]))

    def extra(d, noun, place):
        out = []
        for word, (n, mine) in judged.items():
            if n == noun:
                out.append("it is %s%s" % (extent(mine), word))
            elif n == "trunklet" and noun == "lidlet":
                out.append("its trunklet is %s%s" % (extent(mine), word))
        return out
    half = len(d.order) // 2
    later, d.order = d.order[half:], d.order[:half]
    for word, (noun, mine) in judged.items():       # what leads to the judgement
        for _ in range(2):
            clauses = [subject_first(noun, c) for c in clauses_for(d, noun, len(d.order))]
            if clauses:
                clause = d.pick(clauses)
                d.say("If %s then it is %s %s%s.  From: house" % (
                    clause, d.pick(HOW_OFTEN[:5]), d.pick(["", d.pick(mine) + " "]), word))
    for noun, phrase, kind in later:                # what it leads to
        clauses = extra(d, noun, 0) + clauses_for(d, noun, len(d.order))
        for _ in range(2):
            if clauses:
                clause = subject_first(noun, d.pick(clauses))
                d.say("If %s then it is %s %s.  From: house" % (clause, d.pick(HOW_OFTEN), phrase))
    d.order += later

    def judgement():
        word = d.pick(list(judged))
        noun, mine = judged[word]
        part = "trunklet" if noun == "trunklet" else "lidlet %d" % d.random.randint(1, 2)
        verb = d.pick(["is", "is", "looks", "is certainly", "is not", "does not look"])
        some = d.pick(["", d.pick(mine) + " ", d.pick(mine) + " ", "at least %s " % d.pick(mine),
                       "less than %s " % d.pick(mine[1:])])
        if "not" in verb and some:
            some = mine[-1] + " "
        return "%s %s %s%s" % (part, verb, some, word)
    d.more_findings = [judgement]
    return d.text(["trunklet"], part_words(d), 5)


def worked(number):
    """Measures that are worked out."""
    d = Drawing(number)
    makeup(d)
    d.states(["trunklet", "lidlet"], 5)
    reads = ["", "  Reads to: 0.5 mm", "  Reads to: 1 mm", "  Reads to: 0.3 mm"]
    d.say("You can measure how much a peglet is worn, in mm, from 0 to 15.%s" % d.pick(reads))
    d.say("You can measure how wide a lidlet is, in mm, from %d to 40.%s" % (
        d.pick([5, 10, 20]), d.pick(reads)))
    d.say("You can measure how wide a lidlet is split, in mm, from 0 to 12.%s" % d.pick(reads))
    d.say("How far a lidlet is uneven is the difference between how much its left peglet is worn"
          " and how much its right peglet is worn.%s%s" % (d.start(), d.pick(["", "  Reads to: 0.75 mm"])))
    d.say("How far a lidlet is worn in all is the %s of how much its peglets are worn.%s" % (
        d.pick(["sum", "largest", "smallest"]), d.start()))
    d.say("How much a lidlet is unevenly worn is how far it is uneven, as a share of how far it is"
          " worn in all.%s" % d.start())
    d.say("How far a lidlet is open is the %s of how wide it is split and how far it is uneven.%s" % (
        d.pick(["sum", "larger", "smaller"]), d.start()))
    named = []
    for phrase, words, marks in (
            ("crooked", "uneven at least %s mm", (1, 2, 4)),
            ("skewed", "uneven more than %s mm", (5, 6, 9)),
            ("hollowed", "worn in all at least %s mm", (4, 6, 8)),
            ("lopped", "unevenly worn at least %s %%", (10, 20, 35)),
            ("ajar", "open at least %s mm", (2, 3, 5))):
        if d.chance(8):
            d.say("A lidlet counts as %s when it is %s.%s" % (phrase, words % d.pick(marks), d.start(2, 30)))
            named.append(phrase)
    half = len(d.order) // 2
    for phrase in named:
        for n, p, _ in d.order[:half]:
            if d.chance(6):
                d.say("If a %s is %s then %s %s %s.  From: house" % (
                    n, p, "it is" if n == "lidlet" else "its lidlets are", d.pick(HOW_OFTEN[:5]), phrase))
    for n, p, _ in d.order[half:]:
        clause = d.pick(named + ["uneven at least 3 mm", "open less than 4 mm",
                                 "unevenly worn more than 12 %", "worn in all between 3 and 5 mm"])
        d.say("If %s is %s then it is %s %s.  From: house" % (
            "a lidlet" if n == "lidlet" else "any lidlet of a trunklet", clause,
            d.pick(HOW_OFTEN), p))

    def reading():
        k = d.random.randint(1, 2)
        if d.chance(3):
            return "lidlet %d is split %s mm wide" % (k, d.pick(["0", "1.5", "3", "6"]))
        both = ["%s peglet of lidlet %d is worn %s mm" % (side, k, d.pick(["0", "2", "3.5", "4", "7"]))
                for side in ("left", "right")]
        return "; ".join(both) if d.chance(8) else both[0]
    d.more_findings = [reading, reading]
    return d.text(["trunklet"], part_words(d), 6)


def times(number):
    """How long ago, how long, how old."""
    d = Drawing(number)
    makeup(d)
    d.states(["trunklet", "lidlet", "lidlet"], 7)
    reads = ["", "  Reads to: 1 week", "  Reads to: 3 days", "  Reads to: 1 month"]
    d.say("You can ask how long ago a trunklet was moved, in %s, from 0 to 60.%s%s" % (
        d.pick(["months", "weeks", "years"]), d.pick(reads), d.start(20, 99)))
    d.say("You can ask how long a lidlet has stood open, in %s, from 0 to 50.%s%s" % (
        d.pick(["weeks", "days", "months"]), d.pick(reads), d.start(20, 90)))
    d.say("You can ask how old a lidlet is, in years, from 0 to 300.  Reads to: %d years%s" % (
        d.random.randint(1, 10), d.start(20, 99)))
    d.say("A lidlet counts as elderly when it is %s %d years old.%s" % (
        d.pick(["at least", "more than"]), d.random.randint(50, 200), d.start()))

    def extra(d, noun, place):
        moved = d.pick(["was moved less than 6 weeks ago", "was moved within the last year",
                        "was moved more than 2 months ago", "was not moved within the last 3 weeks",
                        "was moved at least 10 days ago"])
        stood = d.pick(["has stood open for at least 3 weeks", "has stood open for less than 10 days",
                        "has not stood open for more than 2 weeks"])
        old = d.pick(["is more than 100 years old", "is elderly", "is between 30 and 80 years old"])
        return ["it " + moved] if noun == "trunklet" else \
            ["it " + stood, "it " + old, "its trunklet " + moved]
    first = d.order[0]
    if first[0] == "lidlet":
        d.say("If a lidlet is %s then it is sometimes elderly.  From: house" % first[1])
    for place in range(1, len(d.order)):
        noun, phrase, _ = d.order[place]
        for _ in range(2):
            clauses = extra(d, noun, place) + [c for c in clauses_for(d, noun, place)
                                               if c.startswith("it")]
            one, two = d.pick(clauses), d.pick(clauses)
            if one.startswith("its trunklet"):
                one, two = two, one
            if one.startswith("its trunklet"):
                continue
            d.say("If a %s %s then it is %s %s.  From: house" % (
                noun, one[3:] + (d.pick([" and ", " or "]) + two if two != one else ""),
                d.pick(HOW_OFTEN), phrase))

    def time():
        k = d.random.randint(1, 2)
        return d.pick(["trunklet was moved %d weeks ago" % d.random.randint(1, 12),
                       "trunklet was moved %s ago" % d.pick(["a year", "a month", "40 days"]),
                       "lidlet %d has stood open for %d days" % (k, d.random.randint(1, 40)),
                       "lidlet %d is %d years old" % (k, d.random.randint(20, 220))])
    d.more_findings = [time]
    return d.text(["trunklet"], part_words(d), 4)


def together(number):
    """Signs that mean something together."""
    d = Drawing(number)
    d.say("Pieces: trunklet.")
    d.say("Parts: lidlet, peglet.")
    d.say("A trunklet has 2 lidlets.")
    many = d.random.randint(2, 3)
    d.say("A lidlet has %d peglets." % many)
    signs = ["creaky", "swaying", "leaning", "lopped"]
    for s in signs:
        slip = "  Slip: %d in 100" % d.random.randint(0, 4) if d.chance(6) else ""
        d.say("You can see whether a lidlet is %s.  On its own: in %d of 100 cases%s" % (
            s, d.random.randint(3, 12), slip))
        d.order.append(("lidlet", s, "sign"))
    d.say("You can see whether a peglet is gritty.  On its own: in %d of 100 cases" % d.random.randint(3, 9))
    d.say("You can ask whether a trunklet is heated.  On its own: sometimes")
    d.order += [("peglet", "gritty", "sign"), ("trunklet", "heated", "sign")]
    for f in FAULTS[:3]:
        d.say("A lidlet may be %s without showing it.  On its own: in %d of 100 cases" % (
            f, d.random.randint(10, 30)))
        d.order.append(("lidlet", f, "fault"))
    if d.chance(5):
        d.say("If a trunklet is heated then its lidlets are sometimes %s.  From: house" % d.pick(signs + FAULTS[:3]))
    one, two, three = d.random.sample(signs, 3)
    d.say("If a lidlet is %s and it is %s, that %s means it is %s.  From: house" % (
        one, two, d.pick(["often", "in 7 of 10 cases", "in 1 of 2 cases"]), FAULTS[0]))
    d.say("If at least two of these are true of a lidlet:\n    - it is %s\n    - it is %s\n    - it is %s\n"
          "    that %s means it is %s.\n    From: house" % (
              three, two if d.chance(5) else one, [s for s in signs if s not in (one, two, three)][0],
              d.pick(["often", "in 1 of 2 cases", "sometimes"]), FAULTS[1]))
    d.say("If %s of a lidlet are gritty, that %s means the lidlet is %s.  From: house" % (
        d.pick(["at least two peglets", "at least 2 peglets"]), d.pick(["often", "usually"]), FAULTS[2]))
    if d.chance(5):
        d.say("If a lidlet is %s, that in %d of 10 cases means it is %s.  From: house" % (
            three, d.random.randint(3, 5), FAULTS[2]))
    if d.chance(4):
        d.say("If a lidlet is %s then it is sometimes %s.  From: house" % (FAULTS[0], two))
    return d.text(["trunklet"], part_words(d, 2, many), 5)


def places(number):
    """Which part is meant."""
    d = Drawing(number)
    d.say("Pieces: trunklet.")
    d.say("Parts: lidlet, peglet.")
    end = d.pick(["top", "bottom", "left", "front"])
    first, last = {"top": ("highest", "lowest"), "bottom": ("lowest", "top"),
                   "left": ("leftmost", "rightmost"), "front": ("foremost", "hindmost")}[end]
    d.say("A trunklet has 2 to 4 lidlets (usually 3; from the %s)." % end)
    d.say("A lidlet has two peglets (left, right).")
    d.states(["trunklet", "lidlet", "lidlet", "peglet"], 9, faults=False)
    for place in range(1, len(d.order)):
        noun, phrase, _ = d.order[place]
        n, p, _ = d.order[d.random.randrange(place)]
        how, some = d.pick(HOW_OFTEN[:5]), d.pick([first, last, "first", "second", "third", "last"])
        side, other = d.pick([("left", "right"), ("right", "left")])
        say = {
            ("lidlet", "trunklet"): ["If the %s lidlet of a trunklet is %s then the trunklet" % (some, p),
                                     "If the %s lidlet of a trunklet is not %s then the trunklet" % (some, p),
                                     "If a lidlet is %s and no other lidlet is %s then its trunklet" % (p, p)],
            ("lidlet", "lidlet"): ["If a lidlet is %s then the other lidlets" % p,
                                   "If a lidlet is %s and any other lidlet is %s then it" % (p, p),
                                   "If a lidlet is the %s lidlet and it is %s then it" % (some, p),
                                   "If a lidlet is not the %s lidlet and it is not %s then it" % (some, p)],
            ("trunklet", "lidlet"): ["If a trunklet is %s then its %s lidlet" % (p, some)],
            ("peglet", "lidlet"): ["If the %s peglet of a lidlet is %s then the lidlet" % (side, p),
                                   "If a peglet is %s and the other peglet is not %s then its lidlet" % (p, p),
                                   "If a %s peglet is %s then its lidlet" % (side, p)],
            ("lidlet", "peglet"): ["If a lidlet is %s then its %s peglet" % (p, side)],
            ("peglet", "peglet"): ["If a peglet is %s then the other peglet" % p,
                                   "If the %s peglet of a lidlet is %s then its %s peglet" % (side, p, other)],
            ("peglet", "trunklet"): [],
            ("trunklet", "peglet"): [],
            ("trunklet", "trunklet"): ["If a trunklet is %s then it" % p],
        }[n, noun]
        if say:
            said = d.pick(say)
            verb = "are" if said.endswith("s") else "is"
            d.say("%s %s %s %s.  From: house" % (said, verb, how, phrase))

    def words(noun):
        k = d.random.randint(1, 2)
        return {"trunklet": "trunklet", "lidlet": "lidlet %d" % k,
                "peglet": "%s peglet of lidlet %d" % (d.pick(["left", "right"]), k)}[noun]
    return d.text(["trunklet", "trunklet with 2 lidlets"], words)


def odd(number):
    """Findings that sit oddly together: faults that nearly always show, and mixed answers."""
    d = Drawing(number)
    makeup(d)
    signs = ["creaky", "swaying", "leaning", "lopped", "gaping"]
    for s in signs:
        d.say("You can see whether a lidlet is %s.  On its own: in %d of 200 cases%s" % (
            s, d.random.randint(1, 10), d.pick(["", "  Slip: 3 in 100", "  Slip: 5 in 1000"])))
        d.order.append(("lidlet", s, "sign"))
    for fault in ("racky", "torpid"):
        d.say("A lidlet may be %s without showing it.  On its own: in %d of 100 cases" % (
            fault, d.random.randint(10, 50)))
        for s in d.random.sample(signs, 3):
            d.say("If a lidlet is %s then it is %s %s.  From: house" % (
                fault, d.pick(["by definition", "nearly always", "always", "usually"]), s))
    jobs = []
    for _ in range(40):
        found = ["lidlet %d %s %s" % (2 if d.chance(1) else 1,
                                      d.pick(["is", "is not", "is certainly not", "is certainly"]), s)
                 for s in d.random.sample(signs + ["racky"], d.random.randint(2, 4))]
        jobs.append("found: " + "; ".join(found))
    return "\n".join([HEAD.rstrip()] + d.lines + ["order: trunklet"] + jobs) + "\n"


def mending(number):
    """Rules of which a few faults can be mended, and jobs with records of all sorts."""
    d = Drawing(number)
    makeup(d)
    d.states(["trunklet", "lidlet", "lidlet", "peglet"], d.random.randint(5, 7))
    for place in range(1, len(d.order)):
        noun, phrase, _ = d.order[place]
        clauses = clauses_for(d, noun, place)
        for said in d.random.sample(clauses, min(len(clauses), 2)):
            unless = " unless %s" % d.pick(clauses) if d.chance(1) else ""
            d.say("If %s then it is %s %s%s.  From: house" % (
                subject_first(noun, said), d.pick(HOW_OFTEN[:5]), phrase, unless))
        if clauses and d.chance(1):
            d.say("A %s can be %s only if %s.  From: house" % (noun, phrase, d.pick(clauses)))
    faults = [x for x in d.order if x[2] == "fault"] or d.order[:1]
    mended = [d.pick(faults) for _ in range(2)] + ([d.pick(d.order)] if d.chance(4) else [])
    words, jobs = part_words(d), {}
    for job, some in zip(("press it", "square it", "true it"), (mended[:1], mended[1:2], mended[1:])):
        holds = d.pick(["", "  Holds: nearly always", "  Holds: in %d of 10 cases" % d.random.randint(5, 9)])
        d.say("Job: %s.  Takes: 2 hours  Mends: %s%s" % (
            job, ", ".join(dict.fromkeys("a %s is %s" % x[:2] for x in some)), holds))
        jobs[job] = some
    lines = [HEAD.rstrip()] + d.lines + ["order: trunklet"]
    return "\n".join(lines + ["record: " + record(d, jobs, words) for _ in range(4)]) + "\n"


def record(d, jobs, words):
    """Findings, then ticks with findings between them; most are about the same few parts."""
    few = [(noun, phrase, words(noun)) for noun, phrase, _ in d.order for _ in range(2)]
    few = d.random.sample(few, 4)
    done, out = [], []

    def find(sure):
        noun, phrase, part = d.pick(few)
        verb = d.pick(["is", "is", "is not", "is certainly", "looks", "does not look"][:6 if sure else 3])
        out.append("%s %s %s" % (part, verb, phrase))
    for _ in range(d.random.randint(1, 2)):
        find(True)
    for _ in range(d.random.randint(1, 3)):
        job = d.pick(list(jobs))
        part = d.pick([p for _, _, p in few] + [words(jobs[job][0][0])] * 3)
        tick = "%s on %s" % (job, part)
        if done and d.chance(1):
            out.append("undo: " + done.pop())
        elif d.chance(1):
            noun, phrase, _ = d.pick([x for some in jobs.values() for x in some])
            out.append("done: plane it, mends %s is %s" % (words(noun), phrase))
        elif tick not in done:
            out.append("done: " + tick)
            done.append(tick)
        for _ in range(d.random.randint(0, 2)):
            find(d.chance(7))
    return "; ".join(out)


# For each form, how it is drawn and which numbers; a number that draws nothing that can be
# said, or nothing that the bench has room for, is left out.
FORMS = {"kinds": (kinds, (3, 4, 5, 7)), "degrees": (degrees, (1, 2, 3, 4, 5, 7)),
         "worked": (worked, range(1, 8)), "times": (times, range(1, 6)),
         "so many": (so_many, range(1, 6)), "together": (together, (1, 2, 3, 5, 7, 8)),
         "one of": (one_of, range(1, 8)), "places": (places, range(1, 8)),
         "odd": (odd, range(1, 7)), "mended": (mending, range(1, 41))}


def packs():
    """Every drawn pack by its name."""
    return {"drawn %s %d" % (form, number): draw(number)
            for form, (draw, numbers) in FORMS.items() for number in numbers}
