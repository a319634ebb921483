"""Chances of a small house-rule pack, worked out from the guide by going through all worlds.

Reads a small part of the rule language (LANGUAGE.md, sections 2 to 4 and 11) and works out the
chance of a state after findings as section 12, "What a figure comes to", says.  Nothing is
clever here: every world of what bears on a question is visited, so only small packs will do.
Sums are in floating point.
"""

import itertools
import math
import re

# ---------------------------------------------------------------------------------------------
# Words and numbers
# ---------------------------------------------------------------------------------------------

COUNTING = ("no one two three four five six seven eight nine ten eleven twelve").split()
TICKS = {"mm": 40000, "cm": 400000, "m": 40000000, "in": 1016000, "inch": 1016000,
         "inches": 1016000, "ft": 12192000, "%": 100, "per cent": 100,
         "day": 16, "week": 112, "month": 487, "year": 5844}
UNIT = r"(mm|cm|m|inches|inch|in|ft|%|per cent|days?|weeks?|months?|years?)"
BEYOND = r"(more than|less than|at least|at most)"
ORDINALS = ("first second third fourth fifth sixth seventh eighth ninth tenth eleventh "
            "twelfth").split()
# A place at the end of a row of parts -> the end of the row, by where it is counted from.
ENDS = {"highest": ("top", "bottom"), "top": ("top", "bottom"), "lowest": ("bottom", "top"),
        "bottom": ("bottom", "top"), "leftmost": ("left", "right"), "rightmost": ("right", "left"),
        "foremost": ("front", "back"), "hindmost": ("back", "front")}
SCALE = {"by definition": 1.0, "always": 0.99, "nearly always": 0.95, "usually": 0.8,
         "often": 0.6, "sometimes": 0.3, "rarely": 0.1, "hardly ever": 0.03}
HOLDS = 49 / 50                  # how often a mend holds, if nothing is said
LABELS = ("Ask", "How", "Takes", "Waits", "Needs", "First", "Then", "Mends", "Holds", "From", "Called",
          "On its own", "Slip", "Disturbs", "Reads to", "Missed", "Evidence", "Stage",
          "Usually", "Note")
LABEL = re.compile(r"(?:(?<=\s)|^)(%s):" % "|".join(LABELS), re.I)


class Unreadable(Exception):
    """A sentence or finding is outside the subset that is read here."""


def number(text):
    """A number as the guide writes it: 2, 1.5, 3/32, 1 1/2, or a word up to twelve."""
    text = text.strip().replace("½", " 1/2")
    if text in COUNTING:
        return COUNTING.index(text)
    total = 0.0
    for piece in text.split():
        if "/" in piece:
            top, below = piece.split("/")
            total += float(top) / float(below)
        else:
            total += float(piece)
    return total


def ticks(amount, unit):
    """A measured number in ticks: 25 nm, hundredths of one per cent, or sixteenths of a day."""
    if amount in ("a", "an"):
        amount = "1"
    if re.match(r"(day|week|month|year)s$", unit):
        unit = unit[:-1]
    return int(round(number(amount) * TICKS[unit]))


def plural(name):
    """The plural of a name, formed by the rule of section 2."""
    found = re.search(r" (?:of|in|on|for|with) ", name)
    head, tail = (name[:found.start()], name[found.start():]) if found else (name, "")
    if re.search(r"(s|x|z|ch|sh)$", head):
        head += "es"
    elif re.search(r"[^aeiou]y$", head):
        head = head[:-1] + "ies"
    else:
        head += "s"
    return head + tail


def normal_below(x):
    """The part of the normal curve that lies below x standard deviations."""
    return 0.5 * math.erfc(-x / math.sqrt(2))


# ---------------------------------------------------------------------------------------------
# Reading a pack
# ---------------------------------------------------------------------------------------------

class Pack:
    """Everything that the sentences of one pack declare."""

    def __init__(self, text):
        self.scale = dict(SCALE)
        self.default = {"fault": 0.1, "sign": 0.03}
        self.nouns = {}          # every form of a name -> the house word
        self.plurals = {}        # house word -> plural
        self.pieces = []
        self.makeup = {}         # noun -> list of (part, least, most, usual, names)
        self.kind_of = {}        # a kind -> what it is a kind of
        self.none_of = set()     # (noun, part) that it has none of
        self.counted_from = {}   # (noun, part) -> from where parts are counted
        self.places = set()      # names of single parts, and the words of these
        self.states = {}         # (noun, phrase) -> dict(verb, kind, start, slip), as said
        self.choices = {}        # (noun, attribute) -> dict(values, slip, usually)
        self.measures = {}       # (noun, word, phrase) -> dict(low, high, start, reads)
        self.degrees = {}        # (noun, phrase) -> (measure, degrees)
        self.workings = {}       # measure -> (what is done, operands)
        self.names = {}          # (noun, phrase) -> dict(measure, side, marks, start)
        self.counts = {}         # (noun, part) -> dict(start)
        self.groups = []         # (noun, phrases that exclude one another)
        self.measured_clauses = []
        self.rules = []
        self.means = []
        self.joint = []          # `that means` of several signs
        self.joint_links = {}    # (path of the subject, number) -> link
        self.only_ifs = []
        self.mends = {}          # (noun, phrase) -> usual minutes of the jobs that mend it
        self.jobs = {}           # job -> dict(mends, holds): what it mends, how often that holds
        self.fitted = {}         # (place, sign) -> false alarm and links
        self.missed = {}         # (noun, phrase) -> minutes that finding it late costs
        entries = [e for e in (split_entry(e) for e in entries_of(text))]
        for reader in (self.read_words, self.read_kinds, self.read_measures, self.read_signs,
                       self.read_rules):
            for sentence, labels in entries:
                reader(sentence, labels)
        for key in self.workings:
            self.measures[key].update(working_range(self, key))

    # --- kinds ---------------------------------------------------------------------------

    def lineage(self, noun):
        """A noun, what it is a kind of, and so on; a piece is `a piece` as well."""
        out = [noun]
        while out[-1] in self.kind_of:
            out.append(self.kind_of[out[-1]])
        if out[-1] in self.pieces:
            out.append("piece")
        return out

    def isa(self, noun, general):
        """Whether a noun is another or a kind of it."""
        return general in self.lineage(noun)

    def state_of(self, noun, phrase):
        """What is said of a yes or no; what a kind does not say stays."""
        out = None
        for n in reversed(self.lineage(noun)):
            said = self.states.get((n, phrase))
            if said:
                out = dict(out or said)
                out.update({k: v for k, v in said.items() if v is not None})
        if out is None:
            return None
        if out["start"] is None:
            out["start"] = self.default[out["kind"]]
        if out["slip"] is None:
            out["slip"] = 0.01 if out["kind"] == "sign" else 0.0
        return out

    def look_up(self, table, noun, words):
        """What a table has of a noun or of what it is a kind of."""
        for n in self.lineage(noun):
            if (n, words) in table:
                return table[n, words]
        return None

    def count_of(self, noun, part):
        """The count sign of a part of something, or of what it is a kind of."""
        for n in self.lineage(noun):
            for p in self.lineage(part):
                if (n, p) in self.counts:
                    return self.counts[n, p]
        return None

    def makeup_of(self, noun):
        """What a part or piece has: (part, least, most, usual, names, counted from)."""
        general = self.kind_of.get(noun)
        out = list(self.makeup_of(general)) if general else []
        own = [m + (self.counted_from.get((noun, m[0])),) for m in self.makeup.get(noun, [])]
        said = {m[0] for m in own} | {p for n, p in self.none_of if n == noun}
        gone = {p for n, p in self.none_of if n == noun}
        out = [m for m in out if not any(self.isa(m[0], p) or p not in gone and self.isa(p, m[0])
                                         for p in said)]
        return out + own

    def could_have(self, noun, part):
        """Whether a noun, or what it is a kind of, is said to have a part, at any depth."""
        return any(self.isa(m[0], part) or self.could_have(m[0], part)
                   for n in self.lineage(noun) for m in self.makeup.get(n, []))

    def concluded_of(self, noun):
        """Every phrase that a rule concludes of a noun."""
        return set().union(*(self.concluded.get(n, set()) for n in self.lineage(noun)))

    # --- names ---------------------------------------------------------------------------

    def read_words(self, s, labels):
        """Titles, lists, what has what, the scale."""
        found = re.match(r"(pieces|parts): (.*)", s)
        if found:
            for item in re.split(r", | and ", found[2]):
                given = re.match(r"(.*?) \(plural (.*)\)$", item)
                name = given[1] if given else item
                many = given[2] if given else plural(name)
                self.nouns[name] = self.nouns[many] = name
                self.plurals[name] = many
                if found[1] == "pieces":
                    self.pieces.append(name)
            return
        found = re.match(r"by (.*) we mean (\d+) (?:in|of) (\d+)$", s)
        if found:
            self.scale[found[1]] = int(found[2]) / int(found[3])
            return
        found = re.match(r"unless we say otherwise, an? (fault|sign) is there$", s)
        if found:
            self.default[found[1]] = self.how_often(labels["on its own"])
            return

    def read_kinds(self, s, labels):
        """`A bureau is a kind of chest`, `For top we also say …`, `A drawer has …`."""
        n = self.noun_pattern()
        found = re.match(r"an? (%s) is a kind of (%s)$" % (n, n), s)
        if found:
            self.kind_of[self.noun(found[1])] = self.noun(found[2])
            return
        found = re.match(r"for (%s) we also say (.*)$" % n, s)
        if found:
            for word in re.split(r", | or ", found[2]):
                self.nouns[word] = self.nouns[plural(word)] = self.noun(found[1])
            return
        found = re.match(r"an? (%s) has (.*)$" % n, s)
        if found:
            self.read_makeup(self.noun(found[1]), found[2])

    def read_measures(self, s, labels):
        """Measures, times, degrees, and what is worked out."""
        n = self.noun_pattern()
        start = self.how_often(labels["on its own"]) if "on its own" in labels else None
        slip = self.how_often(labels["slip"]) if "slip" in labels else 0.01
        found = re.match(r"you can \w+ how (?:(?P<word>\w+) an? (?P<noun>%s) is(?: (?P<phrase>.*?))?"
                         r"|long ago an? (?P<ago>%s) was (?P<was>.*?)"
                         r"|long an? (?P<since>%s) has (?P<has>.*?))"
                         r", in (?P<unit>.*?), from (?P<low>\S+) to (?P<high>\S+)$" % (n, n, n), s)
        reads = None
        if "reads to" in labels:
            size = re.match(r"(.*?) ?%s\.?$" % UNIT, labels["reads to"].strip())
            reads = ticks(size[1], size[2])
        if found:
            if found["noun"]:
                key = self.noun(found["noun"]), found["word"], found["phrase"] or ""
            elif found["ago"]:
                key = self.noun(found["ago"]), "ago", found["was"]
            else:
                key = self.noun(found["since"]), "for", found["has"]
            self.measures[key] = dict(
                low=ticks(found["low"], found["unit"]), high=ticks(found["high"], found["unit"]),
                start=self.default["sign"] if start is None else start, reads=reads,
                own_start=start)
            return
        found = re.match(r"you can \w+ how (\w+) an? (%s) is(?: (.*?))?: (.*)$" % n, s)
        if found:
            self.read_degrees(self.noun(found[2]), found[1], found[3] or "",
                              re.split(r",? or |, ", found[4]), start, slip)
            return
        found = re.match(r"how (\w+) an? (%s) is (.*?) is (the (?:difference|sum|larger|largest"
                         r"|smaller|smallest)|how) (.*)$" % n, s)
        if found:
            key = self.noun(found[2]), found[1], found[3]
            done, rest = found[4].split()[-1], re.sub(r"^(between|of) ", "", found[5])
            if done == "how":
                done = "share"
                operands = re.split(r", as a share of ", "how " + rest)
            else:
                operands = re.split(r" and (?=how )", rest)
            self.workings[key] = done, operands
            self.measures[key] = dict(
                low=0, high=0, start=self.default["sign"] if start is None else start,
                reads=reads, own_start=start)

    def read_degrees(self, noun, word, phrase, degrees, start, slip):
        """Degrees are marks at 1, 2, …; each has a name, which is passed less often."""
        start, n = self.default["sign"] if start is None else start, len(degrees)
        key = noun, word, phrase
        self.measures[key] = dict(low=0, high=n, start=start, reads=None, own_start=start,
                                  degrees=degrees, slip=slip)
        self.degrees[noun, phrase or word] = key, degrees
        for i, degree in enumerate(degrees):
            self.names[noun, "%s %s" % (degree, phrase or word)] = dict(
                measure=key, marks=[i + 1], start=start * (n - i) / n, degree=i + 1,
                test=lambda p, mark=i + 1: p(mark))

    def degree_range(self, noun, text):
        """`at least noticeably stained` -> (measure, lowest, highest degree); or None."""
        for n in self.lineage(noun):
            for (owner, phrase), (key, degrees) in self.degrees.items():
                if owner != n:
                    continue
                if text == phrase:
                    return key, 1, len(degrees)
                found = re.match(r"(?:%s )?(%s) %s$" % (BEYOND, "|".join(degrees), phrase), text)
                if found:
                    k = degrees.index(found[2]) + 1
                    return (key,) + {"at least": (k, len(degrees)), "more than": (k + 1, len(degrees)),
                                     "at most": (0, k), "less than": (0, k - 1)}.get(found[1], (k, k))
        return None

    def concludes(self, noun, phrase):
        """The name of what a rule concludes: `stained` is the lowest degree of it."""
        found = self.look_up(self.degrees, noun, phrase)
        return "%s %s" % (found[1][0], phrase) if found else phrase

    def noun_pattern(self):
        """A pattern for any form of any name, longest first."""
        forms = sorted(self.nouns, key=len, reverse=True) + ["pieces", "piece"]
        return "(?:%s)" % "|".join(re.escape(f) for f in forms)

    def noun(self, form):
        """The house word of a form; `piece` stands for whichever piece it is."""
        return "piece" if form in ("piece", "pieces") else self.nouns[form]

    def how_often(self, words):
        """The figure of a word for how often, or of `in 7 of 10 cases`, `2 in 100`."""
        words = words.strip().rstrip(".").lower()
        found = re.match(r"in (\d+) of (\d+) cases$", words) or \
            re.match(r"(\d+) in (\d+)$", words)
        if found:
            return int(found[1]) / int(found[2])
        return self.scale[words]

    # --- signs and faults ----------------------------------------------------------------

    def read_signs(self, s, labels):
        """Signs, hidden faults, names of marks, what has what."""
        n = self.noun_pattern()
        start = self.how_often(labels["on its own"]) if "on its own" in labels else None
        slip = self.how_often(labels["slip"]) if "slip" in labels else 0.01
        found = re.match(r"you can (?:see|feel|hear|smell|ask|measure) whether an? (%s) "
                         r"(is|shows) (.*)$" % n, s)
        if found:
            self.states[self.noun(found[1]), found[3]] = dict(
                verb=found[2], kind="sign", start=start, slip=slip if "slip" in labels else None)
            return
        found = re.match(r"you can \w+ which (.*?) an? (%s) has: (.*)$" % n, s)
        if found:
            values = re.split(r",? or |, ", found[3])
            self.choices[self.noun(found[2]), found[1]] = dict(
                values=values, slip=slip,
                usually=labels["usually"].strip().rstrip(".").lower()
                if "usually" in labels else None)
            return
        found = re.match(r"you can count the (%s) of an? (%s)$" % (n, n), s)
        if found:
            self.counts[self.noun(found[2]), self.noun(found[1])] = dict(
                start=self.default["sign"] if start is None else start)
            return
        found = re.match(r"an? (%s) counts as (.*?) when it is (.*)$" % n, s)
        if found:
            noun = self.noun(found[1])
            measure, test, marks = self.measured(noun, found[3])
            self.names[noun, found[2]] = dict(
                measure=measure, test=test, marks=marks,
                start=self.default["sign"] if start is None else start)
            return
        found = re.match(r"an? (%s) may (be|show) (.*?) without showing it$" % n, s)
        if found:
            self.states[self.noun(found[1]), found[3]] = dict(
                verb={"be": "is", "show": "shows"}[found[2]], kind="fault", start=start, slip=None)
            if "missed" in labels:
                self.missed[self.noun(found[1]), found[3]] = late_cost(labels["missed"])
            return
        found = re.match(r"(?:job:|.*\bplan to) (.*?)(?:, once for each .*)?$", s)
        if found and "mends" in labels:
            self.read_mends(found[1], labels)
            return
        found = re.match(r"an? (%s) (?:is|shows?) at most one of (.*)$" % n, s)
        if found:
            self.groups.append((self.noun(found[1]), re.split(r",? or |, ", found[2])))

    def read_mends(self, job, labels):
        """What a job puts right, how often that holds, and how long the job takes."""
        mends = []
        for item in labels["mends"].lower().rstrip(".").split(", "):
            found = re.match(r"an? (%s) (?:is|shows) (.*)$" % self.noun_pattern(), item)
            mends.append((self.noun(found[1]), found[2]))
            if "takes" in labels:
                self.mends.setdefault(mends[-1], []).append(job_time(labels["takes"])[1])
        holds = self.how_often(labels["holds"]) if "holds" in labels else HOLDS
        self.jobs[job] = dict(mends=mends, holds=holds)

    def read_makeup(self, owner, text):
        """`a bottom and two runners (left, right)`."""
        n = self.noun_pattern()
        for found in re.finditer(r"(an?|no|\d+|%s)(?: to (\d+))? (%s)(?: \(([^)]*)\))?"
                                 % ("|".join(COUNTING[1:]), n), text):
            part = self.noun(found[3])
            if found[1] == "no":
                self.none_of.add((owner, part))
                continue
            least = 1 if found[1] in ("a", "an") else int(number(found[1]))
            most = int(found[2]) if found[2] else least
            usual, names = most, []
            if found[4]:
                rest = found[4]
                given = re.match(r"usually (\d+)[;,]? ?(.*)$", rest)
                if given:
                    usual, rest = int(given[1]), given[2]
                given = re.match(r"from the (\w+)[;,]? ?(.*)$", rest)
                if given:
                    self.counted_from[owner, part], rest = given[1], given[2]
                names = [w.strip() for w in rest.split(",") if w.strip()]
                self.places.update(names)
                self.places.update(w for name in names for w in name.split())
            self.makeup.setdefault(owner, []).append((part, least, most, usual, names))

    def measured(self, noun, text):
        """`worn at least 2 mm` -> the measure, a test of (passes), and its marks in ticks.

        The test takes a function that says whether a mark is passed."""
        found = re.match(r"(?:(.*?) )?%s (\S+(?: \d+/\d+)?) ?%s(?: (\w+))?$" % (BEYOND, UNIT), text)
        if found:
            measure = self.find_measure(noun, found[1] or "", found[5])
            return (measure,) + compared(found[2], ticks(found[3], found[4]))
        found = re.match(r"(?:(.*?) )?between (\S+) ?(\S+)? and (\S+) %s(?: (\w+))?$" % UNIT, text)
        if found:
            measure = self.find_measure(noun, found[1] or "", found[6])
            low, high = ticks(found[2], found[3] or found[5]), ticks(found[4], found[5]) + 1
            return measure, lambda p: p(low) and not p(high), [low, high]
        return None

    def timed(self, noun, verb, text):
        """`moved less than 6 weeks ago`, `moved within the last year`, `stood open for …`."""
        if verb == "was":
            found = re.match(r"(.*?) %s (\S+) %s ago$" % (BEYOND, UNIT), text)
            within = re.match(r"(.*?) within the last (?:(\S+) )?%s$" % UNIT, text)
            if within:
                key = self.find_measure(noun, within[1], "ago")
                return (key,) + compared("at most", ticks(within[2] or "1", within[3]))
            between = re.match(r"(.*?) between (\S+) and (\S+) %s ago$" % UNIT, text)
        else:
            found = re.match(r"(.*?) for %s (\S+) %s$" % (BEYOND, UNIT), text)
            between = re.match(r"(.*?) for between (\S+) and (\S+) %s$" % UNIT, text)
        word = "ago" if verb == "was" else "for"
        if between:
            key = self.find_measure(noun, between[1], word)
            low, high = ticks(between[2], between[4]), ticks(between[3], between[4]) + 1
            return key, lambda p: p(low) and not p(high), [low, high]
        if not found:
            return None
        key = self.find_measure(noun, found[1], word)
        return (key,) + compared(found[2], ticks(found[3], found[4]))

    def find_measure(self, noun, phrase, word):
        """The measure of a noun with this phrase, or with this last word."""
        for n in self.lineage(noun):
            for key in self.measures:
                if key[0] == n and key[2] == phrase and (word is None or key[1] == word):
                    return key
        raise Unreadable("no measure %r %r of %r" % (phrase, word, noun))

    # --- rules ---------------------------------------------------------------------------

    def read_rules(self, s, labels):
        """`If … then …`, `If …, that … means …`, `… can be … only if …`."""
        n = self.noun_pattern()
        found = re.match(r"an? (%s) can (?:be|show) (.*?) only if (.*)$" % n, s)
        if found:
            noun = self.noun(found[1])
            self.only_ifs.append((noun, found[2], Conditions(self, found[3], noun)))
            return
        found = re.match(r"if (.*?)(?:,|»),? that (.*?) means (.*)$", s)
        if found:
            sign = Conditions(self, found[1])
            thing, states, _, _ = self.result(found[3], sign.subject)
            sentence = dict(subject=sign.subject, sign=sign, often=self.how_often(found[2]),
                            thing=thing, state=states[0])
            if sign.is_single():
                sentence["sign_words"] = self.concludes(sign.subject, sign.clauses[0].phrase)
                self.means.append(sentence)
            else:
                self.joint.append(sentence)
            return
        found = re.match(r"if (.*?)(?:,|»)? then (.*?)(?:,? unless (.*?)»?)?$", s)
        if found:
            conditions = Conditions(self, found[1])
            unless = Conditions(self, found[3], conditions.subject) if found[3] else None
            thing, states, often, _ = self.result(found[2], conditions.subject)
            self.rules.append(dict(subject=conditions.subject, conditions=conditions,
                                   unless=unless, thing=thing, states=states, often=often))

    def result(self, text, subject):
        """`the drawer is often stiff or loose` -> thing, phrases, strength."""
        words = "|".join(sorted(self.scale, key=len, reverse=True))
        often = r"(%s|in \d+ of \d+ cases)" % words
        thing = None
        for pattern in (r"^(.*?) (?:is|are) %s (.*)$" % often, r"^(.*?) %s shows? (.*)$" % often):
            found = re.match(pattern, text)
            if found:
                thing, rest, figure, said = found[1], found[3], self.how_often(found[2]), True
                break
        else:
            found = re.match(r"^(.*?) (?:is|are|shows?) (.*?)(?: (in \d+ of \d+ cases))?$", text)
            if not found:
                raise Unreadable(text)
            thing, rest, said = found[1], found[2], False
            figure = self.how_often(found[3]) if found[3] else self.scale["always"]
        thing = Thing(self, thing)
        noun = subject if thing.noun == "it" else thing.noun
        phrases = [self.concludes(noun, p) for p in re.split(r",? or |, ", rest)]
        return thing, phrases, figure, said


def compared(how, size):
    """A test of a measure (it takes a function that says whether a mark is passed), its marks."""
    if how == "at least":
        return lambda p: p(size), [size]
    if how == "more than":
        return lambda p: p(size + 1), [size + 1]
    if how == "less than":
        return lambda p: not p(size), [size]
    return lambda p: not p(size + 1), [size + 1]


def late_cost(text):
    """What a fault costs that is found late, in minutes: `4 hours, risk 3`."""
    found = re.match(r"\s*(.*?), risk (\d)", text)
    return minutes(found[1]) + (0, 30, 120, 480, 2400)[int(found[2]) - 1]


def minutes(text):
    """`1 hour 30 minutes` in minutes."""
    total = 0.0
    for found in re.finditer(r"([\d.]+) (hour|minute)", text):
        total += float(found[1]) * (60 if found[2] == "hour" else 1)
    return total


def job_time(text):
    """`2 to 4 hours, mostly 3` -> quickest, usual, slowest, mean, standard deviation; minutes."""
    text = text.strip().rstrip(".").lower()
    found = re.match(r"(.*?)(?:, mostly (.*))?$", text)
    ends = re.split(r" to ", found[1])
    unit = re.search(r"hour|minute", ends[-1])[0]
    a, b = (minutes(e if re.search("hour|minute", e) else "%s %s" % (e, unit))
            for e in (ends[0], ends[-1]))
    m = (a + b) / 2
    if found[2]:
        m = minutes(found[2] if re.search("hour|minute", found[2]) else "%s %s" % (found[2], unit))
    mean = (a + 4 * m + b) / 6
    return a, m, b, mean, math.sqrt((mean - a) * (b - mean) / 7)


def entries_of(text):
    """The sentences of a file, each with what is moved in under it, on one line."""
    entries = []
    for line in text.splitlines():
        line = line.split("#")[0].rstrip()
        if not line:
            continue
        if line[0] in " \t" and entries:
            line, depth = line.strip(), len(line) - len(line.lstrip())
            if line.startswith("- "):
                entries[-1] += " «%d|%s" % (depth, line[2:])
            else:                       # what follows a list ends it
                open_list = "«" in entries[-1].rsplit("»", 1)[-1]
                entries[-1] += ("» " if open_list else " ") + line
        else:
            entries.append(line.strip())
    return entries


def split_entry(entry):
    """A sentence in small letters without its full stop, and its labels."""
    labels = {}
    places = [m for m in LABEL.finditer(entry) if m.start() > 0]
    for i, found in enumerate(places):
        end = places[i + 1].start() if i + 1 < len(places) else len(entry)
        labels[found[1].lower()] = entry[found.end():end].strip()
    sentence = entry[:places[0].start()] if places else entry
    return re.sub(r"\s+", " ", sentence.strip().rstrip(".").lower()), labels


# ---------------------------------------------------------------------------------------------
# Clauses
# ---------------------------------------------------------------------------------------------

COUNTED = (r"(?:(at least|at most|more than|fewer than|less than|exactly) )?(\d+|%s)"
           % "|".join(COUNTING[1:]))


def enough(how, wanted):
    """A test of a number of parts: `at least 2`, `fewer than 3`, a bare number is exact."""
    return {"at least": lambda k: k >= wanted, "at most": lambda k: k <= wanted,
            "more than": lambda k: k > wanted, "fewer than": lambda k: k < wanted,
            "less than": lambda k: k < wanted}.get(how, lambda k: k == wanted)


class Thing:
    """Words for parts: how many of them, which, which noun, and of what."""

    def __init__(self, pack, text):
        self.pack, self.text = pack, text
        self.owner = self.place = self.introduced = None
        self.quantity = "one"
        if text == "it":
            self.noun = "it"
            return
        places = sorted(pack.places | set(ORDINALS) | set(ENDS) | {"other", "last"}, key=len,
                        reverse=True)
        found = re.match(
            r"(?P<det>its|the same|the|another|an?|(?P<many>any|every|each|all|both|none|no|%s)"
            r"(?:(?: one)? of (?:its|the same|the)| the)?) (?:(?P<place>%s) )?(?P<noun>%s)"
            r"(?: of (?P<owner>.*))?$"
            % (COUNTED.replace("(at", "(?P<how>at").replace("(\\d", "(?P<wanted>\\d"),
               "|".join(places), pack.noun_pattern()), text)
        if not found:
            raise Unreadable("thing %r" % text)
        self.noun, self.place = pack.noun(found["noun"]), found["place"]
        self.is_plural = found["noun"] != self.noun
        if found["many"]:
            self.quantity = found["many"]
            self.how, self.wanted = found["how"], found["wanted"]
        if found["det"] == "another":
            self.quantity, self.place = "any", "other"
        if found["det"] in ("a", "an"):
            self.introduced = self.noun
            self.noun = "it"
        if found["owner"]:
            self.owner = Thing(pack, found["owner"])
            if self.owner.introduced:
                self.introduced = self.owner.introduced
                if not self.owner.place:
                    self.owner = None

    def nodes(self, subject):
        """The parts that are meant, seen from the subject; None if it is not built in there."""
        if self.noun == "it":
            return [subject] if self.is_placed(subject) else None
        if self.noun == "piece":
            return [subject.root()]
        if self.place == "other":
            return subject.others(self.noun)
        owners = self.owner.nodes(subject) if self.owner else [subject]
        if owners is None:
            return None
        found = []
        for owner in owners:
            here = owner.meant(self.noun)
            if here is None:
                return None
            found += [x for x in here if self.is_placed(x)]
        return found

    def is_placed(self, node):
        """Whether a part stands where the words say."""
        return self.place is None or node.stands(self.place)

    def combine(self, truths):
        """Puts together what is true of each part."""
        count = sum(bool(t) for t in truths)
        if self.quantity in ("one", "any"):    # of a kind that has several, `its bottom` is any
            return count > 0
        if self.quantity == "both" and not truths:
            return False
        if self.quantity in ("every", "each", "all", "both"):
            return count == len(truths)
        if self.quantity in ("no", "none"):
            return count == 0
        return enough(self.how, int(number(self.wanted)))(count)


class Clause:
    """One clause: what it says of which parts."""

    def __init__(self, thing, negated, atom, phrase=None):
        """`phrase`: the sign or fault, where that is all that the clause says."""
        self.thing, self.negated, self.atom, self.phrase = thing, negated, atom, phrase

    def ground(self, model, subject):
        """What the clause needs for one subject, and a test of a world."""
        nodes = self.thing.nodes(subject)
        if nodes is None:
            return set(), lambda world: False
        atoms = [self.atom(model, node) for node in nodes]
        needs = set().union(*(a[0] for a in atoms)) if atoms else set()

        def test(world):
            return self.thing.combine([bool(t(world)) != self.negated for _, t in atoms])
        return needs, test

    def size(self, nodes):
        """How many of so many parts must be so at least, for a promise about their signs."""
        if self.thing.quantity in ("every", "each", "all", "both"):
            return nodes
        if self.thing.quantity in ("one", "any"):
            return 1
        wanted = int(number(self.thing.wanted))
        return wanted + 1 if self.thing.how == "more than" else wanted


class Conditions:
    """Clauses joined with all `and` or all `or`, or a list; about one subject."""

    def __init__(self, pack, text, subject=None):
        self.pack = pack
        self.subject = subject
        self.clauses, self.also, self.nested = [], [], []
        text = text.strip().rstrip("»").strip()
        if "«" in text:
            self.read_list(text)
        else:
            self.read_row(text)
        if self.subject is None:
            raise Unreadable("no subject in %r" % text)

    def read_list(self, text):
        """`all of these are true of a leaf: «4|… «4|…`."""
        head, *items = re.split(r" ?«", text)
        found = re.match(r"(all|any|at least (\w+)) of these (?:are|is) true"
                         r"(?: of an? (%s))?:$" % self.pack.noun_pattern(), head)
        if not found:
            raise Unreadable("list %r" % head)
        if found[3]:
            self.subject = self.pack.noun(found[3])
        self.enough = int(number(found[2])) if found[2] else 1 if found[1] == "any" else None
        depth, rows = None, []
        for item in items:
            indent, words = item.split("|", 1)
            depth = depth or indent
            if indent == depth:
                rows.append(words.strip())
            else:
                rows[-1] += " «%s|%s" % (indent, words)
        for row in rows:
            self.nested.append(Conditions(self.pack, row, self.subject))
        if self.enough is None:
            self.enough = len(rows)

    def read_row(self, text):
        """Clauses joined with all `and` or all `or`."""
        text, self.also = self.pick_out(text)
        parts, self.enough = self.split(text, "and"), None
        if len(parts) == 1:
            parts = self.split(text, "or")
            if len(parts) > 1:
                self.enough = 1
        self.clauses = [self.clause(p) for p in parts]
        if self.enough is None:
            self.enough = len(parts)

    def is_single(self):
        """Whether this is one sign of the part itself."""
        return (not self.nested and not self.also and len(self.clauses) == 1
                and self.clauses[0].thing.noun == "it")

    def all_clauses(self):
        """Every clause, lists and all."""
        return self.clauses + self.also + [c for n in self.nested for c in n.all_clauses()]

    def plain(self, subject):
        """(part, phrase) if the one clause is that a sign or fault is there, on it or on any."""
        if self.nested or self.also or len(self.clauses) != 1:
            return set()
        clause = self.clauses[0]
        if clause.negated or not clause.phrase or clause.thing.quantity not in ("one", "any"):
            return set()
        return {(node, clause.phrase) for node in clause.thing.nodes(subject) or []}

    def split(self, text, word):
        """Splits a row at `and` or `or`, but not inside `between` or `either`."""
        parts = []
        for piece in re.split(r",? %s " % word, text):
            if parts and (word == "and" and re.search(r"between \S+( \S+)?$", parts[-1])
                          or word == "or" and re.search(r"either [^,]*$", parts[-1])
                          and not re.search(r" (is|are|has|have|shows?) ", " " + piece)):
                parts[-1] += " %s %s" % (word, piece)
            else:
                parts.append(piece)
        return parts

    def pick_out(self, text):
        """`a bluntish peglet` -> `a peglet`, and the clause that it is bluntish."""
        for (noun, attribute), choice in self.pack.choices.items():
            values = "|".join(re.escape(v) for v in choice["values"])
            found = re.search(r"\ban? (%s) %s\b" % (values, re.escape(noun)), text)
            if found and not re.search(r"(is|are) (not )?$", text[:found.start()]):
                clause = self.choice_clause(Thing(self.pack, "it"), attribute, [found[1]], False)
                return text.replace(found[0], "a " + noun, 1), [clause]
        return text, []

    def introduce(self, thing):
        """Notes what the first `a` is about."""
        if thing.introduced and self.subject is None:
            self.subject = thing.introduced

    def clause(self, text):
        """One clause."""
        pack = self.pack
        found = re.match(r"(?:its (\w[\w ]*?)|the (\w[\w ]*?) of (.*?)) (?:is|are) (not )?(?:either )?(.*)$", text)
        if found and any(attribute == (found[1] or found[2]) for _, attribute in pack.choices):
            thing = Thing(pack, "it" if found[1] else found[3])
            self.introduce(thing)
            values = re.split(r",? or |, ", found[5])
            attribute = found[1] or found[2]
            return self.choice_clause(thing, attribute, values, bool(found[4]))
        found = re.match(r"(.*?) (is not|are not|is|are|was not|was|has not|have not|does not show"
                         r"|do not show|shows|show|has|have) (.*)$", text)
        if not found:
            raise Unreadable("clause %r" % text)
        thing, verb, rest = Thing(pack, found[1]), found[2], found[3]
        self.introduce(thing)
        negated = "not" in verb
        noun = self.noun_of(thing)
        verb = verb.replace(" not", "")
        if verb == "was" or verb in ("has", "have") and re.search(
                r" for (between|%s) " % BEYOND, rest):
            timed = pack.timed(noun, verb, rest)
            return self.measured_clause(thing, negated, timed)
        if verb in ("has", "have"):
            return self.has_clause(thing, rest)
        if verb in ("is", "are"):
            placed = self.place_clause(thing, negated, rest)
            if placed:
                return placed
        degrees = pack.degree_range(noun, rest)
        if degrees:
            return self.degree_clause(thing, negated, rest, *degrees)
        measured = None
        if re.search(r"\b(more than|less than|at least|at most|between) ", rest):
            measured = pack.measured(noun, rest)
        if measured:
            return self.measured_clause(thing, negated, measured)
        name = pack.look_up(pack.names, noun, rest)
        if name:
            return Clause(thing, negated,
                          lambda model, node: model.measure_atom(node, name["measure"], name["test"]),
                          rest)
        if pack.state_of(noun, rest):
            return Clause(thing, negated, lambda model, node: model.state_atom(node, rest), rest)
        given = re.match(r"(?:an? )?(?:either )?(.*)$", rest)[1]
        given = re.sub(r" %s$" % re.escape(noun), "", given)
        values = re.split(r",? or |, ", given)
        for (owner, attribute), choice in pack.choices.items():
            if pack.isa(noun, owner) and all(v in choice["values"] for v in values):
                return self.choice_clause(thing, attribute, values, negated)
        raise Unreadable("nothing known of %r: %r" % (noun, rest))

    def noun_of(self, thing):
        """The noun that a thing is about."""
        if thing.noun == "it":
            return thing.introduced if thing.introduced and thing.owner is None else self.subject
        return thing.noun

    def measured_clause(self, thing, negated, measured):
        """`is worn more than 2 mm`."""
        key, test, _ = measured
        self.pack.measured_clauses.append(measured)
        return Clause(thing, negated, lambda model, node: model.measure_atom(node, key, test))

    def degree_clause(self, thing, negated, text, key, low, high):
        """`is badly stained` is just that; `is not badly stained` is less."""
        phrase = None
        if low >= 1 and high == self.pack.measures[key]["high"]:
            words = [p for (_, p), found in self.pack.degrees.items() if found[0] == key][0]
            if text in (words, self.pack.degrees[key[0], words][1][-1] + " " + words):
                phrase = self.pack.concludes(self.subject, text)
        elif negated and low == high:
            high = self.pack.measures[key]["high"]       # not so far
        return Clause(thing, negated, lambda model, node: model.degree_atom(node, key, low, high),
                      phrase)

    def place_clause(self, thing, negated, rest):
        """`it is the left runner of its drawer`."""
        found = re.match(r"(?:the|its) (.+?) (%s)(?: of .*)?$" % self.pack.noun_pattern(), rest)
        if not found:
            return None
        noun, place = self.pack.noun(found[2]), found[1]
        return Clause(thing, negated, lambda model, node: (
            set(), lambda world: self.pack.isa(node.noun, noun) and node.stands(place)))

    def choice_clause(self, thing, attribute, values, negated):
        """`its point is blunt`."""
        def atom(model, node):
            key = (node, "choice", attribute)
            return {key}, lambda world: world[key] in values
        return Clause(thing, negated, atom)

    def has_clause(self, thing, rest):
        """`has no supports`, `has at least 2 supports`."""
        n = self.pack.noun_pattern()
        found = re.match(r"(?:(no|an?)|%s) (%s)$" % (COUNTED, n), rest)
        part = self.pack.noun(found[4])
        if found[1] == "no":
            test = lambda k: k == 0
        elif found[1]:
            test = lambda k: k >= 1
        else:
            test = enough(found[2], int(number(found[3])))

        def atom(model, node):
            counted = [p for p in model.counted(node) if self.pack.isa(p, part)]
            keys = {(node, "count", p) for p in counted}
            here = sum(len(group) for p, group in node.children.items()
                       if self.pack.isa(p, part) and p not in counted)
            return keys, lambda world: test(here + sum(world[k] for k in keys))
        return Clause(thing, False, atom)

    def ground(self, model, subject):
        """The conditions for one subject: what they need, and a test of a world."""
        grounds = [c.ground(model, subject) for c in self.clauses + self.nested]
        also = [c.ground(model, subject) for c in self.also]
        needs = set().union(*(g[0] for g in grounds + also))
        return needs, lambda world: (sum(bool(g[1](world)) for g in grounds) >= self.enough
                                     and all(g[1](world) for g in also))


# ---------------------------------------------------------------------------------------------
# A piece, and its worlds
# ---------------------------------------------------------------------------------------------

class Node:
    """The piece or one part of it."""

    def __init__(self, pack, noun, index=1, parent=None, name=None, counted_from=None):
        self.pack = pack
        self.noun, self.index, self.parent, self.name = noun, index, parent, name
        self.counted_from = counted_from
        self.children = {}
        self.kinds = set()

    def root(self):
        """The piece."""
        return self if self.parent is None else self.parent.root()

    def below(self):
        """Every part below, nearest first."""
        for group in self.children.values():
            for child in group:
                yield child
                yield from child.below()

    def meant(self, noun):
        """Its parts with this noun or a kind of it, or what it is built into; None if neither."""
        isa = self.pack.isa
        if any(isa(kind, noun) for kind in self.kinds):
            return [x for kind, group in self.children.items() if isa(kind, noun) for x in group]
        below = [x for x in self.below() if isa(x.noun, noun)]
        if below:
            return below
        above = self
        while above is not None and not isa(above.noun, noun):
            above = above.parent
        if above is not None:
            return [above]
        return [] if self.pack.could_have(self.noun, noun) else None

    def others(self, noun):
        """The parts beside it, of the same owner."""
        one = self
        while one is not None and not self.pack.isa(one.noun, noun):
            one = one.parent
        if one is None or one.parent is None:
            return None
        return [x for x in one.parent.meant(noun) if x is not one]

    def stands(self, place):
        """Whether it stands in this place: a name, a word of one, a number, an end."""
        if self.name and (place == self.name or place in self.name.split()):
            return True
        if place in ORDINALS:
            return self.index == ORDINALS.index(place) + 1
        last = self.parent is not None and self.index == len(self.parent.children[self.noun])
        if place == "last":
            return last
        first_from, last_from = ENDS.get(place, (None, None))
        if self.counted_from is None:
            return False
        return self.index == 1 if self.counted_from == first_from else \
            last and self.counted_from == last_from

    def address(self):
        """Which part it is: nouns and numbers from the piece down."""
        return (self.parent.address() if self.parent else ()) + ((self.noun, self.index),)

    def path(self):
        """The kind of place: the nouns from the piece down to here."""
        return ((self.parent.path() if self.parent else ()) + (self.noun,))

    def __repr__(self):
        return "%s %d" % (self.noun, self.index) + (" of %r" % self.parent if self.parent else "")


class Model:
    """One piece by one pack: what there is, and what bears on what."""

    def __init__(self, pack, piece, ordered=None, numbers=None, at_least_one=False):
        """`ordered`: numbers the piece was ordered with; `numbers`: counts found, by part."""
        self.pack = pack
        self.ordered = ordered or {}
        self.numbers = numbers or {}
        self.at_least_one = at_least_one
        self.root_node = Node(pack, piece)
        self.build(self.root_node)
        self.all_nodes = [self.root_node] + list(self.root_node.below())
        self.reasons = {}
        self.only_if = {}
        self.links = {}
        self.joint = {}
        self.picks = {}
        self.marks_cache = {}
        self.ground_rules()
        if pack.joint and not at_least_one:
            fit_joint(pack, piece)

    def build(self, node):
        """Puts in the parts of a part."""
        for part, _, _, usual, names, counted_from in self.pack.makeup_of(node.noun):
            count = usual
            if self.at_least_one:
                count = max(count, 1)
            if part in self.ordered:
                count = self.ordered[part]
            count = self.numbers.get((node.address(), part), count)
            group = node.children.setdefault(part, [])
            node.kinds.add(part)
            for _ in range(count):
                i = len(group)
                child = Node(self.pack, part, i + 1, node, names[i] if i < len(names) else None,
                             counted_from)
                group.append(child)
                self.build(child)

    def counted(self, node):
        """The parts whose number is counted, and not settled by the order."""
        return {m[0] for m in self.pack.makeup_of(node.noun) if m[0] not in self.ordered
                and self.pack.count_of(node.noun, m[0])}

    def instances(self, noun):
        """All parts with this noun, or a kind of it."""
        return [x for x in self.all_nodes if self.pack.isa(x.noun, noun)]

    def state_atom(self, node, phrase):
        """Whether a part is so."""
        key = (node, "state", phrase)
        return {key}, lambda world: world[key]

    def degree_atom(self, node, key, low, high):
        """Whether a judgement lies between two degrees."""
        var = (node, "measure", key)
        return {var}, lambda world: low <= world[var] <= high

    def measure_atom(self, node, key, test):
        """Whether a measure passes as the test wants."""
        var = (node, "measure", key)

        def ask(world):
            band = world[var]
            marks = self.marks(node, key)
            measure = self.pack.measures[key]
            return test(lambda tick: passes(measure, marks, band, tick))
        return {var}, ask

    def marks(self, node, key):
        """All marks of a measure, rising, with the one next to the reading it begins at.

        That is one tick above the smallest reading, or, where the measure leads to less, the
        largest reading itself (the mirror image; a guess)."""
        if (node.noun, key) not in self.marks_cache:
            measure = self.pack.measures[key]
            found = self.pack.all_marks.get(key, set())
            found = {t for t in found if measure["low"] < t <= measure["high"]}
            down = direction(self.pack, key, node.noun) < 0
            found.add(measure["high"] if down else measure["low"] + 1)
            self.marks_cache[node.noun, key] = sorted(found)
        return self.marks_cache[node.noun, key]

    def key_of(self, node, phrase):
        """The variable that a rule's result is about."""
        name = self.pack.look_up(self.pack.names, node.noun, phrase)
        return (node, "measure", name["measure"]) if name else (node, "state", phrase)

    def group_of(self, node, phrase):
        """The states that exclude one another, this one among them."""
        for noun, phrases in self.pack.groups:
            if self.pack.isa(node.noun, noun) and phrase in phrases:
                return tuple(phrases)
        return None

    def ground_rules(self):
        """Says every rule of every part that it is about."""
        for number_, rule in enumerate(self.pack.rules):
            for subject in self.instances(rule["subject"]):
                needs, test = rule["conditions"].ground(self, subject)
                if rule["unless"]:
                    more, exception = rule["unless"].ground(self, subject)
                    needs, plain = needs | more, test
                    test = lambda w, plain=plain, ex=exception: plain(w) and not ex(w)
                alone = rule["conditions"].plain(subject)
                for target in rule["thing"].nodes(subject) or []:
                    self.add_reason(target, number_, subject, rule, (needs, test, alone))
        for noun, phrase, conditions in self.pack.only_ifs:
            for node in self.instances(noun):
                self.only_if.setdefault((node, phrase), []).append(conditions.ground(self, node))
        for number_, sentence in enumerate(self.pack.means):
            for subject in self.instances(sentence["subject"]):
                faults = sentence["thing"].nodes(subject) or []
                self.links.setdefault((subject, sentence["sign_words"]), []).append(
                    (number_, [self.key_of(f, sentence["state"]) + (sentence["state"],)
                               for f in faults]))
        for number_, sentence in enumerate(self.pack.joint):
            for subject in self.instances(sentence["subject"]):
                faults = [self.key_of(f, sentence["state"]) + (sentence["state"],)
                          for f in sentence["thing"].nodes(subject) or []]
                for clause in sentence["sign"].all_clauses():
                    for node in clause.thing.nodes(subject) or []:
                        self.joint.setdefault((node, clause.phrase), []).append(
                            ((subject.path(), number_), faults))

    def add_reason(self, target, number_, subject, rule, condition):
        """A reason for one state; or, of several, for one of them at a time."""
        needs, test, alone = condition
        states = rule["states"]
        if len(states) == 1:
            self.reasons.setdefault((target, states[0]), []).append(
                (needs, test, rule["often"], alone))
            return
        var = (target, "pick", (number_, subject))
        self.picks[var] = needs, test, rule["often"], len(states)
        for i, state in enumerate(states):
            self.reasons.setdefault((target, state), []).append(
                ({var}, lambda world, i=i: world[var] == i, 1.0, alone))

    # --- what that means -----------------------------------------------------------------

    def fit(self, node, phrase):
        """False alarm and links of a sign in this kind of place: (a, {sentence: link})."""
        key = (node.path(), phrase)
        fitted = self.pack.fitted
        if key not in fitted:
            usual = Model(self.pack, self.root_node.noun, at_least_one=True)
            here = usual.root_node
            for noun in node.path()[1:]:
                here = here.children[noun][0]
            fitted[key] = fit_sign(usual, here, phrase)
        return fitted[key]

    def ways(self, node, phrase):
        """Start and reasons of a state or level, with what `that means` adds."""
        reasons = list(self.reasons.get((node, phrase), []))
        pack = self.pack
        name = pack.look_up(pack.names, node.noun, phrase)
        start = (name or pack.state_of(node.noun, phrase))["start"]
        if (node, phrase) in self.links:
            start, links = self.fit(node, phrase)
            for sentence, faults in self.links[node, phrase]:
                if links.get(sentence):
                    for f in faults:
                        reasons.append(fault_reason(self, f) + (links[sentence], set()))
        return start, reasons + self.joint_reasons(node, phrase)

    def joint_reasons(self, node, phrase):
        """The reasons that a sign has from faults that it means together with others."""
        return [fault_reason(self, f) + (self.pack.joint_links.get(place, 0.0), set())
                for place, faults in self.joint.get((node, phrase), []) for f in faults]

    # --- chances of one thing where its causes are known -----------------------------------

    def state_needs(self, node, phrase):
        """What the reasons of a state depend on."""
        if not self.pack.state_of(node.noun, phrase):
            raise Unreadable("no state %r of %r" % (phrase, node.noun))
        out = set()
        for needs, _, _, _ in self.ways(node, phrase)[1]:
            out |= needs
        for needs, _ in self.only_if.get((node, phrase), []):
            out |= needs
        return out

    def needs(self, var):
        """What a variable's chance depends on."""
        node, kind, what = var
        out = set()
        if kind == "state":
            group = self.group_of(node, what)
            return {(node, "group", group)} if group else self.state_needs(node, what)
        if kind == "group":
            for phrase in what:
                out |= self.state_needs(node, phrase)
        elif kind == "pick":
            out = self.picks[var][0]
        elif kind == "measure":
            for phrase, _ in self.levels(node, what):
                for needs, _, _, _ in self.ways(node, phrase)[1]:
                    out |= needs
        return out

    def levels(self, node, key):
        """The levels of a measure, rising: (phrase, mark)."""
        return measure_levels(self.pack, key, node.noun)

    def reason_for(self, node, phrase, world):
        """The chance that there is a reason for a state, its own start among them."""
        if not all(test(world) for _, test in self.only_if.get((node, phrase), [])):
            return 0.0
        start, reasons = self.ways(node, phrase)
        none = 1.0 - start
        for _, test, strength, _ in reasons:
            if test(world):
                none *= 1.0 - strength
        return 1.0 - none

    def spread(self, var, world):
        """The chance of each value of a variable, where what it needs is known."""
        node, kind, what = var
        if kind == "state":
            group = self.group_of(node, what)
            if group:
                return [(world[node, "group", group] == what, 1.0)]
            chance = self.reason_for(node, what, world)
            return [(True, chance), (False, 1.0 - chance)]
        if kind == "group":
            return one_of(what, [self.reason_for(node, p, world) for p in what])
        if kind == "pick":
            _, test, often, n = self.picks[var]
            often = often if test(world) else 0.0
            return [(i, often / n) for i in range(n)] + [(None, 1.0 - often)]
        if kind == "choice":
            choice = self.pack.look_up(self.pack.choices, node.noun, what)
            values = choice["values"]
            if choice["usually"]:
                most = self.pack.scale["usually"]
                rest = (1 - most) / (len(values) - 1)
                return [(v, most if v == choice["usually"] else rest) for v in values]
            return [(v, 1 / len(values)) for v in values]
        if kind == "count":
            return count_spread(self.pack, node.noun, what)
        return self.measure_spread(node, what, world)

    def measure_spread(self, node, key, world):
        """The chance of every band of a measure."""
        levels = self.levels(node, key)
        starts = level_starts(self, node, key)
        none_from = [1.0] * (len(levels) + 1)       # no reason for this level or a further one
        for i in range(len(levels) - 1, -1, -1):
            none = 1 - starts[i]
            for _, test, strength, _ in self.ways(node, levels[i][0])[1]:
                if test(world):
                    none *= 1 - strength
            none_from[i] = none_from[i + 1] * none
        return self.bands_from(node, key, none_from)

    def bands_from(self, node, key, none_from):
        """The chance of every band, from the chance that no level from each one on is passed."""
        passed = [1.0] + [1 - none for none in none_from[:-1]] + [0.0]
        stretch = [p - q for p, q in zip(passed, passed[1:])]
        return [(band, stretch[which] * share)
                for band, (which, share) in enumerate(band_shares(self, node, key))]

    # --- worlds ----------------------------------------------------------------------------

    def order(self, wanted):
        """Everything that bears on what is wanted, causes first."""
        seen, done = [], set()

        def visit(var, trail):
            if var in done:
                return
            if var in trail:
                raise Unreadable("circle at %r" % (var,))
            for need in sorted(self.needs(var), key=repr):
                visit(need, trail | {var})
            done.add(var)
            seen.append(var)
        for var in sorted(wanted, key=repr):
            visit(var, frozenset())
        return seen

    def worlds(self, wanted, weights=None):
        """Every world of the wanted things, with its chance; what else bears on it is summed over.

        `weights`: variable -> function of its value that says how likely the answers are."""
        weights = weights or {}
        variables = self.order(set(wanted) | set(weights))
        needs = {var: sorted(self.needs(var), key=repr) for var in variables}
        last = {var: i for i, var in enumerate(variables)}
        for i, var in enumerate(variables):
            for need in needs[var]:
                last[need] = i
        live, table = [], {(): 1.0}
        for i, var in enumerate(variables):
            places = [live.index(n) for n in needs[var]]
            spreads = {}
            both = live + [var]
            kept = [j for j, v in enumerate(both) if v in wanted or last[v] > i]
            after = {}
            for values, chance in table.items():
                given = tuple(values[j] for j in places)
                if given not in spreads:
                    spreads[given] = [
                        (v, p * weights[var](v) if var in weights else p)
                        for v, p in self.spread(var, dict(zip(needs[var], given)))]
                for value, p in spreads[given]:
                    if p:
                        all_values = values + (value,)
                        key = tuple(all_values[j] for j in kept)
                        after[key] = after.get(key, 0.0) + chance * p
            live, table = [both[j] for j in kept], after
        for values, chance in table.items():
            yield dict(zip(live, values)), chance


def passes(measure, marks, band, tick):
    """Whether a band lies at or above a mark; marks outside the measure are settled."""
    if tick <= measure["low"]:
        return True
    if tick not in marks:
        return False
    return band > marks.index(tick)


def one_of(phrases, chances):
    """Of those for which there are reasons, each is so with one chance in so many."""
    out = dict.fromkeys(phrases, 0.0)
    out[None] = 0.0
    for there in itertools.product((True, False), repeat=len(phrases)):
        chance = 1.0
        for t, c in zip(there, chances):
            chance *= c if t else 1 - c
        some = [p for p, t in zip(phrases, there) if t] or [None]
        for p in some:
            out[p] += chance / len(some)
    return list(out.items())


def count_spread(pack, noun, part):
    """As usual, short, or over: the chance of each number."""
    for p, least, most, usual, _, _ in pack.makeup_of(noun):
        if p == part:
            start = pack.count_of(noun, part)["start"]
            short, over = range(least, usual), range(usual + 1, most + 1)
            out = {k: start / len(short) for k in short}
            out.update({k: start / len(over) for k in over})
            out[usual] = 1 - sum(out.values())
            return sorted(out.items())
    raise Unreadable("no number of %s" % part)


def direction(pack, key, noun):
    """1 if the levels of a measure lead to more, -1 if to less.

    Without levels the names decide: to less if all of them do (a guess)."""
    names = [(phrase, name) for (_, phrase), name in pack.names.items() if name["measure"] == key]
    for phrase, name in names:
        if phrase in pack.concluded_of(noun):
            return -1 if name["test"](lambda t: False) else 1
    sides = [name["test"](lambda t: False) for _, name in names if len(name["marks"]) == 1]
    return -1 if sides and all(sides) else 1


def measure_levels(pack, key, noun):
    """The names of a measure that a rule concludes, in the direction that they lead."""
    found = [(phrase, name["marks"][0]) for (_, phrase), name in pack.names.items()
             if name["measure"] == key and phrase in pack.concluded_of(noun)]
    return sorted(found, key=lambda x: x[1] * direction(pack, key, noun))


def figures(pack, noun, key):
    """How often each name of a measure is passed: as written, but less often than the one below.

    One that is not written less often has the figure of that one, times what is left of the
    measure above its own mark, divided by what is left above the lower mark."""
    measure, sign = pack.measures[key], direction(pack, key, noun)
    low, top = measure["low"], measure["high"] + 1
    flip = (lambda t: t) if sign > 0 else (lambda t: low + top - t)
    found = []
    for (_, phrase), name in pack.names.items():
        one_mark = name["measure"] == key and len(name["marks"]) == 1
        if one_mark and name["test"](lambda t: False) == (sign < 0):
            found.append((flip(name["marks"][0]), name["start"], phrase))
    out, below = {}, None
    for mark, start, phrase in sorted(found, key=lambda x: x[0]):
        if below and start >= below[1]:
            start = below[1] * (top - mark) / (top - below[0])
        out[phrase], below = start, (mark, start)
    return out


def level_starts(model, node, key, written_only=()):
    """The start of each level itself, as far as it is not passed with a higher one.

    A false alarm takes the place of the level's own start (a guess), but not of those in
    `written_only`."""
    levels = model.levels(node, key)
    of_name = figures(model.pack, node.noun, key)
    said = [of_name[phrase] for phrase, _ in levels] + [0.0]
    out = []
    for i, (phrase, _) in enumerate(levels):
        if (node, phrase) in model.links and phrase not in written_only:
            out.append(model.ways(node, phrase)[0])
        else:
            out.append((said[i] - said[i + 1]) / (1 - said[i + 1]) if said[i + 1] < 1 else 0.0)
    return out


def band_shares(model, node, key):
    """For every band from the lowest: the stretch it lies in, and its share of that."""
    cache = model.__dict__.setdefault("shares_cache", {})
    place = (node.path(), key)
    if place not in cache:
        cache[place] = work_out_shares(model, node, key)
    return cache[place]


def half_up(x):
    """Rounds to the nearest whole, halves up."""
    return math.floor(x + 0.5)


def work_out_shares(model, node, key):
    """The shares of the bands; a measure that leads to less is done as in a mirror (a guess)."""
    pack = model.pack
    measure = pack.measures[key]
    low, top = measure["low"], measure["high"] + 1
    sign = direction(pack, key, node.noun)
    flip = (lambda t: t) if sign > 0 else (lambda t: low + top - t)
    levels = [(p, flip(t)) for p, t in model.levels(node, key)]
    of_name = figures(pack, node.noun, key)
    written = [of_name[p] for p, _ in levels]
    marks = sorted(flip(t) for t in model.marks(node, key))
    names = {}
    for (noun, phrase), name in pack.names.items():
        if name["measure"] == key and len(name["marks"]) == 1:
            if name["test"](lambda t: False) == (sign < 0):
                names.setdefault(flip(name["marks"][0]), []).append(of_name[phrase])
    ends = [low] + [t for _, t in levels] + [top]
    above = {}                        # (stretch, mark) -> share above it
    for i in range(len(ends) - 1):
        begin, end = ends[i], ends[i + 1]
        p = 1.0 if i == 0 else written[i - 1]
        q = written[i] if i < len(written) else 0.0
        inside = sorted(t for t in names if begin < t < end)
        known = {end: 0}
        if i == 0:
            lowest = inside[0] if inside else (end if levels else None)
            even = 0.0
            if lowest is not None:
                start = names[lowest][0] if inside else written[0]
                even = start / ((top - lowest) / (top - low))
            m = max(measure["start"], even)
            # The smallest reading keeps room for itself (a guess).
            floor = sum(len(names[t]) for t in inside) + 1
            raw = half_up(1000 * min(1, max(0, (m - q) / (1 - q) if q < 1 else 0)))
            last = 1000                # of degrees, there is nothing below the lowest
            if "degrees" not in measure:
                known[low] = last = max(min(raw, 999), floor)
        else:
            known[begin] = last = 1000
        for j, t in enumerate(inside):
            c = names[t][0]
            raw = (c - q) / (p - q) if p > q else 0.0
            share = half_up(1000 * min(1, max(0, raw)))
            floor = sum(len(names[x]) for x in inside[j:]) + (1 if i else 0)
            last = known[t] = max(min(share, last - 1), floor)
        anchors = sorted(known)
        for t in [begin] + [x for x in marks if begin < x < end]:
            if t == low:
                above[i, t] = 1.0
            elif t in known:
                above[i, t] = known[t] / 1000
            else:
                lower = max(x for x in anchors if x <= t)
                upper = min(x for x in anchors if x > t)
                part = (upper - t) / (upper - lower)
                above[i, t] = (known[upper] + (known[lower] - known[upper]) * part) / 1000
        above[i, end] = 0.0
    edges = [low] + marks + [top]
    bands = []
    for lower, upper in zip(edges, edges[1:]):
        which = max(i for i in range(len(ends) - 1) if ends[i] <= lower)
        bands.append((which, above[which, lower] - above[which, min(upper, ends[which + 1])]))
    if sign < 0:
        bands.reverse()
    return bands


def fault_reason(model, fault):
    """What a link from a fault needs, and its test."""
    node, kind, what, phrase = fault
    if kind == "measure":
        return model.measure_atom(node, what, model.pack.look_up(
            model.pack.names, node.noun, phrase)["test"])
    return model.state_atom(node, phrase)


def slip_of(model, node, phrase):
    """How often an ordinary yes to a sign is a slip."""
    name = model.pack.look_up(model.pack.names, node.noun, phrase)
    if name is None:
        return model.pack.state_of(node.noun, phrase)["slip"]
    if "degree" in name:
        return model.pack.measures[name["measure"]]["slip"] / 2
    return 0.01


def is_highest(model, node, phrase):
    """Whether this is the highest of several degrees."""
    name = model.pack.look_up(model.pack.names, node.noun, phrase)
    return bool(name and "degree" in name and
                name["degree"] == model.pack.measures[name["measure"]]["high"])


def highest_yes(measure, degree):
    """How often the highest degree is said where another is so."""
    e, n = measure["slip"], measure["high"]
    return (1 - e / 2) * (e / (2 - e)) ** (n - degree)


def fit_sign(model, node, phrase):
    """The false alarm and the links that keep the promises about a sign."""
    if not is_highest(model, node, phrase):
        return fit_alone(model, node, phrase)
    key = model.pack.look_up(model.pack.names, node.noun, phrase)["measure"]
    lower = [p for p, _ in model.levels(node, key)[:-1] if (node, p) in model.links]
    fitted, place = model.pack.fitted, (node.path(), phrase)
    fitted[place] = model.pack.look_up(model.pack.names, node.noun, phrase)["start"], {}
    for _ in range(12):                # both sorts in turn, until both come true (a guess)
        for p in lower:
            fitted[node.path(), p] = fit_alone(model, node, p)
        before, fitted[place] = fitted[place], fit_alone(model, node, phrase)
        if not lower or before == fitted[place]:
            break
    return fitted[place]


def fit_alone(model, node, phrase):
    """The false alarm and the links of one sign, with what is fitted already."""
    pack = model.pack
    name = pack.look_up(pack.names, node.noun, phrase)
    slip = slip_of(model, node, phrase)
    ordinary = list(model.reasons.get((node, phrase), [])) + model.joint_reasons(node, phrase)
    highest, below = is_highest(model, node, phrase), []
    if name:                           # each level is passed whenever the next is
        key = name["measure"]
        order = [p for p, _ in model.levels(node, key)]
        here = order.index(phrase)
        starts = level_starts(model, node, key, order[:here + 1])
        for higher in order[here + 1:]:
            ordinary += model.ways(node, higher)[1]
        for start in starts[here + 1:]:
            ordinary.append((set(), lambda world: True, start, set()))
        if highest:                    # lower degrees may be so as well
            starts = level_starts(model, node, key, [phrase])
            below = [(starts[i], model.ways(node, p)[1]) for i, p in enumerate(order[:here])]
    sentences = [(n, faults) for n, faults in model.links[node, phrase] if faults]
    wanted = set()
    for needs, _, _, _ in ordinary + [r for _, reasons in below for r in reasons]:
        wanted |= needs
    for needs, _ in model.only_if.get((node, phrase), []):
        wanted |= needs
    tests = []
    for _, faults in sentences:
        reasons = [fault_reason(model, f) for f in faults]
        for needs, _ in reasons:
            wanted |= needs
        tests.append([t for _, t in reasons])

    def none_of(world, start, reasons):
        """The chance that nothing gives a reason."""
        k = 1.0 - start
        for _, test, strength, _ in reasons:
            if test(world):
                k *= 1 - strength
        return k
    table = {}
    for world, chance in model.worlds(wanted):
        able = all(t(world) for _, t in model.only_if.get((node, phrase), []))
        k = none_of(world, 0.0, ordinary)
        lower = tuple(none_of(world, start, reasons) for start, reasons in below)
        truths = tuple((bool(t[0](world)), sum(bool(x(world)) for x in t)) for t in tests)
        table[able, k, lower, truths] = table.get((able, k, lower, truths), 0.0) + chance
    # A rule counts as "from that fault" if that is its only clause, said of it or of any; it may
    # have an `unless`.
    by_rule = [any((f[0], f[3]) in alone for f in faults[:1] for _, _, _, alone in ordinary)
               for _, faults in sentences]
    promises = [pack.means[n]["often"] for n, _ in sentences]

    def says_yes(s, lower):
        """How likely an ordinary yes is, where the sign is there with this chance."""
        if not highest:
            return (1 - slip) * s + slip * (1 - s)
        none_from = [1 - s]
        for none in reversed(lower):
            none_from.insert(0, none_from[0] * none)
        return sum(chance * highest_yes(pack.measures[key], band) for band, chance in
                   model.bands_from(node, key, none_from + [1.0]))

    def kept(j, a, links):
        """How far the promise of sentence j is out: share of yes that has the fault, less w."""
        yes = yes_fault = 0.0
        for (able, k, lower, truths), chance in table.items():
            none = (1 - a) * k
            for (_, count), b in zip(truths, links):
                none *= (1 - b) ** count
            s = 1 - none if able else 0.0
            y = chance * says_yes(s, lower)
            yes += y
            if truths[j][0]:
                yes_fault += y
        return yes_fault / yes - promises[j]

    def fit_links(a):
        """The free links that keep the promises with this false alarm."""
        links = [0.0] * len(sentences)
        for _ in range(200):
            before = list(links)
            for j in range(len(links)):
                if not by_rule[j]:
                    links[j] = root(lambda b: kept(j, a, links[:j] + [b] + links[j + 1:]), 0.0, 0.99)
            if max(abs(x - y) for x, y in zip(before, links)) < 1e-10:
                break
        return links

    free = [j for j in range(len(sentences)) if not by_rule[j]]
    low, high = 0.0005, 0.9
    if any(by_rule):
        first = by_rule.index(True)
        a = 0.5
        for _ in range(60):
            links = fit_links(a)
            a_next = root(lambda x: kept(first, x, links), low, high)
            if abs(a - a_next) < 1e-12:
                break
            a = a_next
    elif len(free) == 1:
        a = root(lambda x: kept(0, x, [0.8]), low, high)
        links = [0.8]
        if a in (low, high) and abs(kept(0, a, links)) > 1e-9:
            links = fit_links(a)
    else:
        if max(fit_links(low)) >= 0.8:
            a = low
        elif max(fit_links(high)) <= 0.8:
            a = high
        else:
            a = root(lambda x: max(fit_links(x)) - 0.8, low, high)
        links = fit_links(a)
    a = round(a, 6)
    links = {n: round(b, 6) for (n, _), b in zip(sentences, links)}
    return a, links


def root(f, low, high):
    """Where a monotone function crosses nought; an end if it does not."""
    at_low, at_high = f(low), f(high)
    if at_low * at_high > 0:
        return low if abs(at_low) < abs(at_high) else high
    for _ in range(50):
        middle = (low + high) / 2
        if (f(middle) > 0) == (at_low > 0):
            low = middle
        else:
            high = middle
    return (low + high) / 2


def fit_joint(pack, piece):
    """The links of signs that mean something together; and with them the signs' own, in turn."""
    if piece in pack.joint_done:
        return
    pack.joint_done.add(piece)
    usual = Model(pack, piece, at_least_one=True)
    places = {}
    for number_, sentence in enumerate(pack.joint):
        for subject in usual.instances(sentence["subject"]):
            if sentence["thing"].nodes(subject):
                places.setdefault((subject.path(), number_), (sentence, subject))
                pack.joint_links.setdefault((subject.path(), number_), 0.0)
    for _ in range(40):
        before = dict(pack.joint_links)
        pack.fitted.clear()
        for node, phrase in usual.links:
            usual.fit(node, phrase)
        for place, (sentence, subject) in places.items():
            kept = joint_promise(usual, place, sentence, subject)
            pack.joint_links[place] = root(kept, 0.0, 0.99)
        if max(abs(pack.joint_links[p] - before[p]) for p in places) < 1e-8:
            break
    for place in places:
        pack.joint_links[place] = round(pack.joint_links[place], 6)


def joint_promise(model, place, sentence, subject):
    """How far a promise of several signs is out with a given link."""
    pack = model.pack
    says, wanted, enough_ = [], set(), sentence["sign"].enough
    for clause in sentence["sign"].all_clauses():
        nodes = clause.thing.nodes(subject) or []
        if len(sentence["sign"].all_clauses()) == 1:
            enough_ = clause.size(len(nodes))
        for node in nodes:
            needs, test = clause.atom(model, node)
            wanted |= needs
            says.append(says_of(model, node, clause.phrase, test))
    faults = [fault_reason(model, model.key_of(f, sentence["state"]) + (sentence["state"],))
              for f in sentence["thing"].nodes(subject)]
    wanted |= faults[0][0]

    def kept(link):
        pack.joint_links[place] = link
        yes = yes_fault = 0.0
        for world, chance in model.worlds(wanted):
            many = [1.0]               # the chance of each number of yeses
            for say in says:
                p = say(world)
                many = [a * (1 - p) + b * p for a, b in zip(many + [0.0], [0.0] + many)]
            y = chance * sum(many[enough_:])
            yes += y
            if faults[0][1](world):
                yes_fault += y
        return yes_fault / yes - sentence["often"]
    return kept


def says_of(model, node, phrase, test):
    """How likely an ordinary yes to a sign is in a world."""
    slip = slip_of(model, node, phrase)
    if is_highest(model, node, phrase):
        key = model.pack.look_up(model.pack.names, node.noun, phrase)["measure"]
        return lambda w: highest_yes(model.pack.measures[key], w[node, "measure", key])
    return lambda w: 1 - slip if test(w) else slip


# ---------------------------------------------------------------------------------------------
# What is worked out
# ---------------------------------------------------------------------------------------------

def operands_of(pack, key):
    """The operands of what is worked out: (measure's word, part, phrase)."""
    out = []
    for text in pack.workings[key][1]:
        found = re.match(r"how (\w+) (.*?) (?:is|are)(?: (.*))?$", text)
        thing = Thing(pack, found[2])
        noun = key[0] if thing.noun == "it" else thing.noun
        out.append((pack.find_measure(noun, found[3] or "", found[1]), thing))
    return out


def working_range(pack, key):
    """The smallest and the largest that can come out."""
    done = pack.workings[key][0]
    ranges = []
    for measure, thing in operands_of(pack, key):
        if measure in pack.workings:
            pack.measures[measure].update(working_range(pack, measure))
        m = pack.measures[measure]
        least = most = 1
        if thing.noun != "it" and thing.is_plural:
            least = most = 0
            for part, fewest, at_most, _, _, _ in pack.makeup_of(key[0]):
                if pack.isa(part, thing.noun):
                    least, most = least + fewest, most + at_most
        ranges.append((m["low"], m["high"], least, most))
    lows, highs = [r[0] for r in ranges], [r[1] for r in ranges]
    if done == "difference":
        return dict(low=0, high=max(highs[0] - lows[-1], highs[-1] - lows[0]))
    if done == "sum":
        return dict(low=sum(r[0] * r[2] for r in ranges), high=sum(r[1] * r[3] for r in ranges))
    if done == "share":
        high = 10000 * highs[0] / lows[-1] if lows[-1] else 100000
        return dict(low=0, high=min(half_up(high), 100000))
    if done in ("largest", "larger"):
        return dict(low=max(lows), high=max(highs))
    return dict(low=min(lows), high=min(highs))


def working_spread(pack, key):
    """The standard deviation of what is worked out; None if it is exact."""
    measure = pack.measures[key]
    if measure["reads"] is not None or key not in pack.workings:
        return measure["reads"]
    done = pack.workings[key][0]
    if done == "share":
        return None
    spreads = []
    for operand, thing in operands_of(pack, key):
        many = 1
        if thing.noun != "it" and thing.is_plural:
            many = sum(usual for part, _, _, usual, _, _ in pack.makeup_of(key[0])
                       if pack.isa(part, thing.noun))
        spreads += [working_spread(pack, operand) or 0.0] * many
    out = max(spreads) if done not in ("sum", "difference") else \
        math.sqrt(sum(x * x for x in spreads))
    return out or None


def worked_out(job, node, key):
    """The reading that is worked out for a part, or None."""
    values = []
    for operand, thing in operands_of(job.pack, key):
        nodes = thing.nodes(node)
        if not nodes:
            return None
        values += [job.readings.get((n, operand)) if operand not in job.pack.workings
                   else worked_out(job, n, operand) for n in nodes]
    if any(v is None for v in values):
        return None
    done = job.pack.workings[key][0]
    if done == "difference":
        return abs(values[0] - values[1])
    if done == "share":
        return min(half_up(10000 * values[0] / values[1]), 100000) if values[1] else None
    return {"sum": sum, "largest": max, "larger": max, "smallest": min, "smaller": min}[done](values)


# ---------------------------------------------------------------------------------------------
# Findings
# ---------------------------------------------------------------------------------------------

class Job:
    """A piece as ordered, and what was found on it."""

    def __init__(self, pack, order, findings):
        self.pack = pack
        found = re.match(r"(?:an? )?(%s)(?: with (.*))?$" % pack.noun_pattern(), order)
        ordered = {}
        if found[2]:
            for item in re.split(r", | and ", found[2]):
                count, noun = re.match(r"(\S+) (.*)$", item).groups()
                ordered[pack.noun(noun)] = 1 if count in ("a", "an") else int(number(count))
        self.model = Model(pack, pack.noun(found[1]), ordered)
        numbers = {}
        for line in findings:
            if re.search(r" has (?!.* for )", line):
                node, part, count = self.counted(line)
                numbers[node.address(), part] = count
        if numbers:                    # there are as many parts as were counted (a guess)
            self.model = Model(pack, pack.noun(found[1]), ordered, numbers)
        self.weights = {}
        self.readings = {}
        latest = {}
        for line in findings:
            for var, tag, weight in self.finding(line.lower()):
                latest[var, tag] = weight
        for node in self.model.all_nodes:
            for key in pack.workings:
                if pack.isa(node.noun, key[0]):
                    at = worked_out(self, node, key)
                    if at is not None:
                        var, tag, weight = self.weigh_reading(node, key, at)
                        latest[var, tag] = weight
        for (var, tag), weight in latest.items():
            held = self.weights.get(var)
            self.weights[var] = weight if held is None else \
                (lambda v, a=held, b=weight: a(v) * b(v))

    def part(self, text):
        """The parts that a finding names."""
        model, pack = self.model, self.pack
        text = re.sub(r"^the ", "", text.strip())
        if text in ("it", "piece"):
            return [model.root_node]
        steps = re.split(r" of (?:the )?", text)
        nodes = [model.root_node]
        for step in reversed(steps):
            found = re.match(r"(every|each|all|no)? ?(?:the )?(?:(%s) )?(%s)(?: (\d+))?$"
                             % ("|".join(sorted(pack.places, key=len, reverse=True)) or "-",
                                pack.noun_pattern()), step)
            if not found:
                raise Unreadable("part %r" % text)
            noun = pack.noun(found[3])
            if nodes == [model.root_node] and pack.isa(model.root_node.noun, noun):
                continue
            nodes = [c for n in nodes for c in n.meant(noun) or []]
            if not found[1] and any(x.noun == noun for x in nodes):
                nodes = [x for x in nodes if x.noun == noun]
            if found[2]:
                nodes = [x for x in nodes if x.name == found[2]]
            if found[4]:
                nodes = [x for x in nodes if x.index == int(found[4])]
        if not nodes:
            raise Unreadable("no part %r" % text)
        return nodes

    def counted(self, line):
        """`leaf 1 has no supports` -> part, noun, number."""
        words, count, noun = re.match(r"(.*) has (?:exactly )?(\S+) (.*)$", line).groups()
        count = 1 if count in ("a", "an") else int(number(count))
        return self.part(words)[0], self.pack.noun(noun), count

    def finding(self, line):
        """One finding -> (variable, tag, weight of each value)."""
        pack = self.pack
        found = re.match(r"cannot |have not ", line)
        if found or line.endswith("cannot be seen"):
            return []
        found = re.match(r"(.*?) was (.*) (\S+) %s ago$" % UNIT, line) or \
            re.match(r"(.*?) has (.*) for (\S+) %s$" % UNIT, line)
        if found:
            word = "ago" if line.endswith(" ago") else "for"
            out = []
            for node in self.part(found[1]):
                key = pack.find_measure(node.noun, found[2], word)
                self.readings[node, key] = ticks(found[3], found[4])
                out.append(self.weigh_reading(node, key, self.readings[node, key]))
            return out
        found = re.match(r"(.*?) (is not certainly|is certainly not|is certainly|is not|is|are"
                         r"|does not certainly show|certainly shows|does not show|shows|show"
                         r"|does not look as if it shows|looks as if it shows"
                         r"|does not look|looks|has) (.*)$", line)
        words, verb, rest = found.groups()
        if words.startswith("no "):
            words, verb = words[3:], verb.replace("is", "is not")
        choice = re.match(r"(?:the )?(\w+) of (.*)$", words)
        if choice and any(a == choice[1] for _, a in pack.choices):
            words = choice[2]
        out = []
        for node in self.part(words):
            out.append(self.weigh(node, verb, rest))
        return out

    def weigh(self, node, verb, rest):
        """How likely one finding about one part is for each value of what it is about."""
        pack, model = self.pack, self.model
        negated, certain, looks = "not" in verb, "certainly" in verb, "look" in verb
        if verb == "has":
            _, noun, count = self.counted("it has " + rest)
            return (node, "count", noun), "count", lambda v: float(v == count)
        reading = re.match(r"(?:(.*?) )?(\d\S*(?: \d+/\d+)?) ?%s(?: (\w+))?$" % UNIT, rest)
        if reading:
            key = pack.find_measure(node.noun, reading[1] or "", reading[4])
            self.readings[node, key] = ticks(reading[2], reading[3])
            return self.weigh_reading(node, key, self.readings[node, key])
        for (noun, attribute), choice in pack.choices.items():
            if pack.isa(node.noun, noun) and rest in choice["values"]:
                slip, n = choice["slip"], len(choice["values"])
                return (node, "choice", attribute), "choice", \
                    lambda v: 1 - slip if v == rest else slip / (n - 1)
        judged = pack.degree_range(node.noun, rest)
        if judged:
            return self.weigh_judgement(node, negated, certain, looks, *judged)
        name = pack.look_up(pack.names, node.noun, rest)
        if name:
            var = (node, "measure", name["measure"])
            needs, test = model.measure_atom(node, name["measure"], name["test"])
            truth = lambda v: test({var: v})
            slip, fault = 0.01, False
        else:
            state = pack.state_of(node.noun, rest)
            if state is None:
                raise Unreadable("nothing known of %r: %r" % (node.noun, rest))
            var, truth = (node, "state", rest), bool
            slip, fault = state["slip"], state["kind"] == "fault"
        if looks:
            yes, no = 4.0, 1.0
        elif certain or fault:
            yes, no = 1.0, 0.0
        else:
            yes, no = 1 - slip, slip
        if negated:
            yes, no = no, yes
        return var, rest, lambda v: yes if truth(v) else no

    def weigh_judgement(self, node, negated, certain, looks, key, low, high):
        """How likely a judgement is at each degree."""
        measure = self.pack.measures[key]
        var, n, slip = (node, "measure", key), measure["high"], measure["slip"]
        if negated and (low, high) == (1, n):      # none of it
            low, high, negated = 0, 0, False
        elif negated and low == high:              # less than so far
            high, exact = n, False
        exact = low == high and not negated
        if exact and (low > 0 or not certain):
            r = slip / (2 - slip) if not looks else 1 / 4
            if certain:
                return var, "judgement", lambda v: float(v == low)
            return var, "judgement", lambda v: r ** abs(v - low)
        yes, no = (4.0, 1.0) if looks else (1.0, 0.0) if certain else (1 - slip / 2, slip / 2)
        if negated:
            yes, no = no, yes
        return var, "judgement", lambda v: yes if low <= v <= high else no

    def weigh_reading(self, node, key, at):
        """How likely a reading is in each band."""
        marks, reads = self.model.marks(node, key), working_spread(self.pack, key)
        var = (node, "measure", key)
        if reads is None:
            band = sum(at >= t for t in marks)
            return var, "reading", lambda v: float(v == band)
        # In the mirror image a mark stands at the last reading that passes it: one tick lower.
        back = 1 if direction(self.pack, key, node.noun) < 0 else 0
        edges = [None] + [m - back for m in marks] + [None]
        out = []
        shares = band_shares(self.model, node, key)
        for i, (_, share) in enumerate(shares):
            low, high = edges[i], edges[i + 1]
            mass = (1.0 if high is None else normal_below((high - at) / reads)) - \
                (0.0 if low is None else normal_below((low - at) / reads))
            mass = max(mass, 2.0 ** -50)
            out.append(mass / share if share > 0 else 0.0)
        return var, "reading", lambda v: out[v]

    def chances(self, questions):
        """The chance of each question (`drawer 1 is stiff`) after all findings."""
        asked = []
        for question in questions:
            words, verb, rest = re.match(r"(.*?) (is|shows) (.*)$", question).groups()
            node = self.part(words)[0]
            name = self.pack.look_up(self.pack.names, node.noun, rest)
            judged = self.pack.degree_range(node.noun, rest)
            if judged:
                asked.append(self.model.degree_atom(node, *judged))
            elif name:
                asked.append(self.model.measure_atom(node, name["measure"], name["test"]))
            else:
                asked.append(self.model.state_atom(node, rest))
        out = []
        for needs, test in asked:
            total = so = 0.0
            for world, chance in self.model.worlds(needs, self.weights):
                total += chance
                if test(world):
                    so += chance
            out.append(so / total if total else None)
        return out


def chance_of_findings(pack, order, findings):
    """The chance that all of these are found, but for a factor that goes with each finding."""
    job = Job(pack, order, findings)
    return sum(chance for _, chance in job.model.worlds(set(), job.weights))


def times_as_frequent(pack, order, finding, others):
    """How many times as frequent a finding is beside others as by itself."""
    both = chance_of_findings(pack, order, others + [finding])
    return both / chance_of_findings(pack, order, others) / \
        (chance_of_findings(pack, order, [finding]) / chance_of_findings(pack, order, []))


def slip_after_all(pack, order, finding, findings):
    """How likely an ordinary answer about a yes or no is a slip, with all that was found."""
    found = re.match(r"(.*) (is not|is|does not show|shows) (?!certainly)(.*)$", finding)
    if not found or re.search("look|certainly", finding):
        return None
    job = Job(pack, order, findings)
    node = job.part(found[1])[0]
    state = pack.state_of(node.noun, found[3])
    if not state or state["kind"] == "fault":
        return None
    chance = job.chances(["%s is %s" % (found[1], found[3])])[0]
    return chance if "not" in found[2] else 1 - chance


def how_odd(pack, order, finding, others):
    """How many times as frequent, how likely a slip, and whether that is odd."""
    times = times_as_frequent(pack, order, finding, others)
    slip = slip_after_all(pack, order, finding, others + [finding])
    return times, slip, times <= 1 / 20 or times <= 1 / 2 and slip is not None and slip > 1 / 2


def odd_findings(pack, order, findings):
    """For each finding that is odd: how many times as frequent, how likely a slip, and beside how
    many others it is odd at least."""
    out = {}
    for finding in findings:
        others = [f for f in findings if f != finding]
        times, slip, odd = how_odd(pack, order, finding, others)
        if odd:
            fewest = min(n for n in range(1, len(others) + 1)
                         for some in itertools.combinations(others, n)
                         if how_odd(pack, order, finding, list(some))[2])
            out[finding] = times, slip, fewest
    return out


def savings(job, var):
    """What a check saves: the losses of all faults now, less what is expected after its answer."""
    pack, model = job.pack, job.model
    node, kind, what = var
    faults = [(x, p) for x in model.all_nodes for (noun, p), state in pack.states.items()
              if pack.isa(x.noun, noun) and state["kind"] == "fault"]
    asked = [((x, "state", p), pack.missed.get((x.noun, p), 0.0),
              min(pack.mends.get((x.noun, p), [60.0]))) for x, p in faults]
    table = {}                    # answer -> [chance, chance with each fault]
    for world, chance in model.worlds({var} | {a[0] for a in asked}, job.weights):
        if kind == "state":
            slip = pack.state_of(node.noun, what)["slip"]
            answers = [(True, 1 - slip if world[var] else slip),
                       (False, slip if world[var] else 1 - slip)]
        else:
            answers = [(world[var], 1.0)]
        for answer, p in answers:
            row = table.setdefault(answer, [0.0] * (1 + len(asked)))
            row[0] += chance * p
            for i, (fault, _, _) in enumerate(asked):
                row[1 + i] += chance * p * world[fault]
    total = sum(row[0] for row in table.values())
    saved = 0.0
    for i, (_, late, nothing) in enumerate(asked):
        have = sum(row[1 + i] for row in table.values())
        saved += min(have * late, (total - have) * nothing)
        saved -= sum(min(row[1 + i] * late, (row[0] - row[1 + i]) * nothing)
                     for row in table.values())
    return saved / total


# ---------------------------------------------------------------------------------------------
# Dates
# ---------------------------------------------------------------------------------------------

WEIGHTS = {"bound": {"strong": 1 / 500, "fair": 1 / 20, "weak": 1 / 4},
           "usually": {"strong": 1 / 20, "fair": 3 / 20, "weak": 2 / 5}}


class Date:
    """When a piece and the parts straight below it were made; findings as weights of decades.

    `parts`: name -> (weight of each decade, weight where it is as old as the piece)."""

    def __init__(self, present):
        self.decades = list(range(1500, present + 1, 10))
        self.present = present

    def weight(self, evidence, kind, first=None, last=None):
        """The weight of each decade: 1 for each year that fits, less for each that does not."""
        less = WEIGHTS[kind][evidence]
        out = {}
        for d in self.decades:
            fit = sum((first is None or y >= first) and (last is None or y <= last)
                      for y in range(d, d + 10))
            out[d] = (fit + (10 - fit) * less) / 10
        return out

    def least(self, *weights):
        """Several sentences with one condition: in each decade the smallest counts."""
        return {d: min(w[d] for w in weights) for d in self.decades}

    def work_out(self, piece, parts, together=()):
        """Chance of each decade for the piece, and of each part's being original.

        `together`: (names of parts, weight where all of them are as old as the piece)."""
        total, when = 0.0, dict.fromkeys(self.decades, 0.0)
        original = dict.fromkeys(parts, 0.0)
        for d in self.decades:
            start = (4 if 1650 <= d < 1930 else 1)
            for w in piece:
                start *= w[d]
            ways = {}
            for name, (weights, same_age) in parts.items():
                def weigh(x):
                    out = 1.0
                    for w in weights:
                        out *= w[x]
                    return out
                later = [x for x in self.decades if x >= d]
                same = 0.833 * same_age * weigh(d)
                other = 0.167 * sum(weigh(x) for x in later) / len(later)
                ways[name] = same, other
            # Every way in which each part is as old as the piece, or is not.
            names = list(ways)
            for as_old in itertools.product((True, False), repeat=len(names)):
                way = start
                for name, same_age in zip(names, as_old):
                    way *= ways[name][0 if same_age else 1]
                old = {name for name, same_age in zip(names, as_old) if same_age}
                for group, weight in together:
                    if old.issuperset(group):
                        way *= weight
                total += way
                when[d] += way
                for name in old:
                    original[name] += way
        return ({d: x / total for d, x in when.items()},
                {n: x / total for n, x in original.items()})


def read_pack(text):
    """Reads a pack, and gathers what its rules conclude and all marks."""
    pack = Pack(text)
    pack.concluded, pack.joint_done = {}, set()
    for rule in pack.rules:
        noun = rule["thing"].noun if rule["thing"].noun != "it" else rule["subject"]
        pack.concluded.setdefault(noun, set()).update(rule["states"])
    for sentence in pack.means:
        pack.concluded.setdefault(sentence["subject"], set()).add(sentence["sign_words"])
    for sentence in pack.joint:
        for clause in sentence["sign"].all_clauses():
            noun = clause.thing.noun if clause.thing.noun != "it" else sentence["subject"]
            pack.concluded.setdefault(noun, set()).add(clause.phrase)
    pack.all_marks = {}

    def add(measured):
        pack.all_marks.setdefault(measured[0], set()).update(measured[2])
    for name in pack.names.values():
        pack.all_marks.setdefault(name["measure"], set()).update(name["marks"])
    for measured in pack.measured_clauses:
        add(measured)
    return pack
