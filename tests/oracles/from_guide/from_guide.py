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
         "inches": 1016000, "ft": 12192000, "%": 100, "per cent": 100}
SCALE = {"by definition": 1.0, "always": 0.99, "nearly always": 0.95, "usually": 0.8,
         "often": 0.6, "sometimes": 0.3, "rarely": 0.1, "hardly ever": 0.03}
LABELS = ("Ask", "How", "Takes", "Waits", "Needs", "First", "Mends", "From", "Called",
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
    """A measured number in ticks: 25 nm, or hundredths of one per cent."""
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
        self.states = {}         # (noun, phrase) -> dict(kind, start, slip)
        self.choices = {}        # (noun, attribute) -> dict(values, slip, usually)
        self.measures = {}       # (noun, word, phrase) -> dict(low, high, start, reads)
        self.names = {}          # (noun, phrase) -> dict(measure, side, marks, start)
        self.counts = {}         # (noun, part) -> dict(start)
        self.rules = []
        self.means = []
        self.only_ifs = []
        self.mends = {}          # (noun, phrase) -> usual minutes of the jobs that mend it
        self.fitted = {}         # (place, sign) -> false alarm and links
        self.missed = {}         # (noun, phrase) -> minutes that finding it late costs
        entries = [e for e in (split_entry(e) for e in entries_of(text))]
        for reader in (self.read_words, self.read_signs, self.read_rules):
            for sentence, labels in entries:
                reader(sentence, labels)
            for table in (self.states, self.choices):     # of `a piece`: of every piece
                for noun, words in list(table):
                    if noun == "piece":
                        table.update({(p, words): table[noun, words] for p in self.pieces})

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
                verb=found[2], kind="sign", start=self.default["sign"] if start is None else start, slip=slip)
            return
        found = re.match(r"you can \w+ which (.*?) an? (%s) has: (.*)$" % n, s)
        if found:
            values = re.split(r",? or |, ", found[3])
            self.choices[self.noun(found[2]), found[1]] = dict(
                values=values, slip=slip,
                usually=labels["usually"].strip().rstrip(".").lower()
                if "usually" in labels else None)
            return
        found = re.match(r"you can \w+ how (\w+) an? (%s) is(?: (.*?))?, in (.*?), "
                         r"from (\S+) to (\S+)$" % n, s)
        if found:
            reads = None
            if "reads to" in labels:
                size = re.match(r"(.*?) ?(%|mm|cm|m|in|inch|ft)\.?$", labels["reads to"].strip())
                reads = ticks(size[1], size[2])
            self.measures[self.noun(found[2]), found[1], found[3] or ""] = dict(
                low=ticks(found[5], found[4]), high=ticks(found[6], found[4]),
                start=self.default["sign"] if start is None else start, reads=reads,
                own_start=start)
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
                verb={"be": "is", "show": "shows"}[found[2]], kind="fault", start=self.default["fault"] if start is None else start, slip=0.0)
            if "missed" in labels:
                self.missed[self.noun(found[1]), found[3]] = late_cost(labels["missed"])
            return
        if s.startswith("job: ") and "mends" in labels and "takes" in labels:
            usual = job_time(labels["takes"])[1]
            for item in labels["mends"].lower().rstrip(".").split(", "):
                found = re.match(r"an? (%s) (?:is|shows) (.*)$" % n, item)
                self.mends.setdefault((self.noun(found[1]), found[2]), []).append(usual)
            return
        found = re.match(r"an? (%s) has (.*)$" % n, s)
        if found:
            self.read_makeup(self.noun(found[1]), found[2])

    def read_makeup(self, owner, text):
        """`a bottom and two runners (left, right)`."""
        n = self.noun_pattern()
        for found in re.finditer(r"(an?|\d+|%s)(?: to (\d+))? (%s)(?: \(([^)]*)\))?"
                                 % ("|".join(COUNTING[1:]), n), text):
            least = 1 if found[1] in ("a", "an") else int(number(found[1]))
            most = int(found[2]) if found[2] else least
            usual, names = most, []
            if found[4]:
                given = re.match(r"usually (\d+);? ?(.*)$", found[4])
                rest = found[4]
                if given:
                    usual, rest = int(given[1]), given[2]
                names = [w.strip() for w in rest.split(",") if w.strip()]
            self.makeup.setdefault(owner, []).append(
                (self.noun(found[3]), least, most, usual, names))

    def measured(self, noun, text):
        """`worn at least 2 mm` -> the measure, a test of (passes), and its marks in ticks.

        The test takes a function that says whether a mark is passed."""
        found = re.match(r"(?:(.*?) )?(more than|less than|at least|at most) (\S+(?: \d+/\d+)?) ?"
                         r"(mm|cm|m|inches|inch|in|ft|%|per cent)(?: (\w+))?$", text)
        if found:
            measure = self.find_measure(noun, found[1] or "", found[5])
            size = ticks(found[3], found[4])
            if found[2] == "at least":
                return measure, lambda p: p(size), [size]
            if found[2] == "more than":
                return measure, lambda p: p(size + 1), [size + 1]
            if found[2] == "less than":
                return measure, lambda p: not p(size), [size]
            return measure, lambda p: not p(size + 1), [size + 1]
        found = re.match(r"(?:(.*?) )?between (\S+) ?(\S+)? and (\S+) "
                         r"(mm|cm|m|inches|inch|in|ft|%|per cent)(?: (\w+))?$", text)
        if found:
            measure = self.find_measure(noun, found[1] or "", found[6])
            low, high = ticks(found[2], found[3] or found[5]), ticks(found[4], found[5]) + 1
            return measure, lambda p: p(low) and not p(high), [low, high]
        return None

    def find_measure(self, noun, phrase, word):
        """The measure of a noun with this phrase, or with this last word."""
        for key in self.measures:
            if key[0] == noun and key[2] == phrase and (word is None or key[1] == word):
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
        found = re.match(r"if (.*?), that (.*?) means (.*)$", s)
        if found:
            sign = Conditions(self, found[1])
            thing, state, _, _ = self.result(found[3])
            self.means.append(dict(subject=sign.subject, sign=sign, often=self.how_often(found[2]),
                                   thing=thing, state=state))
            return
        found = re.match(r"if (.*?),? then (.*?)(?:,? unless (.*))?$", s)
        if found:
            conditions = Conditions(self, found[1])
            unless = Conditions(self, found[3], conditions.subject) if found[3] else None
            thing, state, often, _ = self.result(found[2])
            self.rules.append(dict(subject=conditions.subject, conditions=conditions,
                                   unless=unless, thing=thing, state=state, often=often))

    def result(self, text):
        """`the drawer is often stiff` -> thing, phrase, strength."""
        words = "|".join(sorted(self.scale, key=len, reverse=True))
        often = r"(%s|in \d+ of \d+ cases)" % words
        for pattern in (r"^(.*?) (?:is|are) %s (.*)$" % often, r"^(.*?) %s shows? (.*)$" % often):
            found = re.match(pattern, text)
            if found:
                return Thing(self, found[1]), found[3], self.how_often(found[2]), True
        found = re.match(r"^(.*?) (?:is|are|shows?) (.*?)(?: (in \d+ of \d+ cases))?$", text)
        if found:
            often = self.how_often(found[3]) if found[3] else self.scale["always"]
            return Thing(self, found[1]), found[2], often, False
        raise Unreadable(text)


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
            entries[-1] += " " + line.strip()
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
    """Words for parts: how many of them, which noun, and of what."""

    def __init__(self, pack, text, introduces=False):
        self.pack, self.text = pack, text
        self.owner = None
        self.quantity = "one"
        self.introduced = None
        if text == "it":
            self.noun = "it"
            return
        n = pack.noun_pattern()
        found = re.match(r"(its|the same|the|an?|(any|every|each|all|both|none|no|%s)"
                         r"(?:(?: one)? of (its|the same|the))?) (%s)(?: of (.*))?$"
                         % (COUNTED, n), text)
        if not found:
            raise Unreadable("thing %r" % text)
        self.noun = pack.noun(found[6])
        self.is_plural = found[6] != self.noun
        if found[2]:
            self.quantity = found[2]
            self.how, self.wanted = found[3], found[4]
        if found[1] in ("a", "an"):
            self.introduced = self.noun
            self.noun = "it"
        if found[7]:
            self.owner = Thing(pack, found[7])
            if self.owner.introduced:
                self.introduced = self.owner.introduced
                self.owner = None

    def nodes(self, subject):
        """The parts that are meant, seen from the subject; None if it is not built in there."""
        if self.noun == "it":
            return [subject]
        owners = self.owner.nodes(subject) if self.owner else [subject]
        if owners is None:
            return None
        if self.noun == "piece":
            return [subject.root()]
        found = []
        for owner in owners:
            if self.noun in owner.children:
                found += owner.children[self.noun]
            elif self.noun in owner.kinds_below():
                found += [x for x in owner.below() if x.noun == self.noun]
            elif owner.noun == self.noun:
                found.append(owner)
            else:
                above = owner.parent
                while above is not None and above.noun != self.noun:
                    above = above.parent
                if above is None:
                    return None
                found.append(above)
        return found

    def combine(self, truths):
        """Puts together what is true of each part."""
        count = sum(bool(t) for t in truths)
        if self.quantity == "one":
            return bool(truths) and all(truths)
        if self.quantity == "any":
            return count > 0
        if self.quantity in ("every", "each", "all", "both"):
            return count == len(truths)
        if self.quantity in ("no", "none"):
            return count == 0
        return enough(self.how, int(number(self.wanted)))(count)


class Conditions:
    """Clauses joined with all `and` or all `or`; about one subject."""

    def __init__(self, pack, text, subject=None):
        self.pack = pack
        self.subject = subject
        held = text
        self.join = "all"
        text, self.also = self.pick_out(text)
        parts = self.split(text, "and")
        if len(parts) == 1:
            parts = self.split(text, "or")
            if len(parts) > 1:
                self.join = "any"
        self.clauses = [self.clause(p) for p in parts]
        self.one_plain_clause = len(parts) == 1 and not self.also and not re.search(
            r"\b(not|no|none|every|each|all|both|(at least|at most|more than|fewer than|exactly|less than) "
            r"|%s)\b" % "|".join(COUNTING[2:]), text)
        if self.subject is None:
            raise Unreadable("no subject in %r" % held)

    def split(self, text, word):
        """Splits a row at `and` or `or`, but not inside `between` or `either`."""
        parts = []
        pieces = re.split(r",? %s " % word, text)
        for piece in pieces:
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
        """One clause -> a function of a model and a subject, which gives (needs, test)."""
        pack = self.pack
        found = re.match(r"(?:its (\w[\w ]*?)|the (\w[\w ]*?) of (.*?)) (?:is|are) (not )?(?:either )?(.*)$", text)
        if found and any(attribute == (found[1] or found[2]) for _, attribute in pack.choices):
            thing = Thing(pack, "it" if found[1] else found[3])
            self.introduce(thing)
            values = re.split(r",? or |, ", found[5])
            attribute = found[1] or found[2]
            return self.choice_clause(thing, attribute, values, bool(found[4]))
        found = re.match(r"(.*?) (is not|are not|is|are|does not show|do not show|shows|show|has|have) "
                         r"(.*)$", text)
        if not found:
            raise Unreadable("clause %r" % text)
        thing, verb, rest = Thing(pack, found[1]), found[2], found[3]
        self.introduce(thing)
        negated = "not" in verb
        if verb in ("has", "have"):
            return self.has_clause(thing, rest)
        noun = self.noun_of(thing)
        measured = None
        if re.search(r"\b(more than|less than|at least|at most|between) ", rest):
            measured = pack.measured(noun, rest)
        if measured:
            key, test, _ = measured
            return self.about(thing, negated, lambda model, node: model.measure_atom(node, key, test))
        if (noun, rest) in pack.names:
            name = pack.names[noun, rest]
            return self.about(thing, negated,
                              lambda model, node: model.measure_atom(node, name["measure"], name["test"]))
        if (noun, rest) in pack.states:
            return self.about(thing, negated, lambda model, node: model.state_atom(node, rest))
        given = re.match(r"(?:an? )?(?:either )?(.*)$", rest)[1]
        given = re.sub(r" %s$" % re.escape(noun), "", given)
        values = re.split(r",? or |, ", given)
        for (owner, attribute), choice in pack.choices.items():
            if owner == noun and all(v in choice["values"] for v in values):
                return self.choice_clause(thing, attribute, values, negated)
        raise Unreadable("nothing known of %r: %r" % (noun, rest))

    def noun_of(self, thing):
        """The noun that a thing is about."""
        if thing.noun == "it":
            return thing.introduced if thing.introduced and thing.owner is None else self.subject
        return thing.noun

    def choice_clause(self, thing, attribute, values, negated):
        """`its point is blunt`."""
        def atom(model, node):
            key = (node, "choice", attribute)
            return {key}, lambda world: world[key] in values
        return self.about(thing, negated, atom)

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
            if (node.noun, part) in model.counted(node):
                key = (node, "count", part)
                return {key}, lambda world: test(world[key])
            here = test(len(node.children.get(part, [])))
            return set(), lambda world: here
        return self.about(thing, False, atom)

    def about(self, thing, negated, atom):
        """Says the atom of every part that the thing means, and puts them together."""
        def ground(model, subject):
            nodes = thing.nodes(subject)
            if nodes is None:
                return set(), lambda world: False
            atoms = [(node,) + atom(model, node) for node in nodes]
            needs = set().union(*(a[1] for a in atoms)) if atoms else set()

            def test(world):
                truths = [bool(a[2](world)) != negated for a in atoms]
                return thing.combine(truths)
            return needs, test
        return ground

    def ground(self, model, subject):
        """The conditions for one subject: what they need, and a test of a world."""
        grounds = [c(model, subject) for c in self.clauses]
        needs = set().union(*(g[0] for g in grounds))
        also = [c(model, subject) for c in self.also]
        needs = needs.union(*(g[0] for g in also))
        put = all if self.join == "all" else any
        return needs, lambda world: (put(g[1](world) for g in grounds)
                                     and all(g[1](world) for g in also))


# ---------------------------------------------------------------------------------------------
# A piece, and its worlds
# ---------------------------------------------------------------------------------------------

class Node:
    """The piece or one part of it."""

    def __init__(self, noun, index=1, parent=None, name=None):
        self.noun, self.index, self.parent, self.name = noun, index, parent, name
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

    def kinds_below(self):
        """The nouns of parts below."""
        return self.kinds | {x.noun for x in self.below()}

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
        self.root_node = Node(piece)
        self.build(self.root_node)
        self.all_nodes = [self.root_node] + list(self.root_node.below())
        self.reasons = {}
        self.only_if = {}
        self.links = {}
        self.marks_cache = {}
        self.ground_rules()

    def build(self, node):
        """Puts in the parts of a part."""
        for part, least, most, usual, names in self.pack.makeup.get(node.noun, []):
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
                child = Node(part, i + 1, node, names[i] if i < len(names) else None)
                group.append(child)
                self.build(child)

    def counted(self, node):
        """The (noun, part) pairs whose number is not settled by the order."""
        return {k for k in self.pack.counts if k[0] == node.noun and k[1] not in self.ordered}

    def instances(self, noun):
        """All parts with this noun."""
        if noun == "piece":
            return [self.root_node]
        return [x for x in self.all_nodes if x.noun == noun]

    def state_atom(self, node, phrase):
        """Whether a part is so."""
        key = (node, "state", phrase)
        return {key}, lambda world: world[key]

    def measure_atom(self, node, key, test):
        """Whether a measure passes as the test wants."""
        var = (node, "measure", key)

        def ask(world):
            band = world[var]
            marks = self.marks(key)
            measure = self.pack.measures[key]
            return test(lambda tick: passes(measure, marks, band, tick))
        return {var}, ask

    def marks(self, key):
        """All marks of a measure, rising, with the one next to the reading it begins at.

        That is one tick above the smallest reading, or, where the measure leads to less, the
        largest reading itself (the mirror image; a guess)."""
        if key not in self.marks_cache:
            measure = self.pack.measures[key]
            found = self.pack.all_marks.get(key, set())
            found = {t for t in found if measure["low"] < t <= measure["high"]}
            found.add(measure["low"] + 1 if direction(self.pack, key) > 0 else measure["high"])
            self.marks_cache[key] = sorted(found)
        return self.marks_cache[key]

    def key_of(self, node, phrase):
        """The variable that a rule's result is about."""
        if (node.noun, phrase) in self.pack.names:
            return (node, "measure", self.pack.names[node.noun, phrase]["measure"])
        return (node, "state", phrase)

    def ground_rules(self):
        """Says every rule of every part that it is about."""
        for rule in self.pack.rules:
            for subject in self.instances(rule["subject"]):
                needs, test = rule["conditions"].ground(self, subject)
                if rule["unless"]:
                    more, exception = rule["unless"].ground(self, subject)
                    needs, plain = needs | more, test
                    test = lambda w, plain=plain, ex=exception: plain(w) and not ex(w)
                alone = rule["conditions"].ground(self, subject)[0] \
                    if rule["conditions"].one_plain_clause else set()
                for target in rule["thing"].nodes(subject) or []:
                    self.reasons.setdefault((target, rule["state"]), []).append(
                        (needs, test, rule["often"], alone))
        for noun, phrase, conditions in self.pack.only_ifs:
            for node in self.instances(noun):
                self.only_if.setdefault((node, phrase), []).append(conditions.ground(self, node))
        for number_, sentence in enumerate(self.pack.means):
            for subject in self.instances(sentence["subject"]):
                phrase = sign_phrase(sentence)
                faults = sentence["thing"].nodes(subject) or []
                self.links.setdefault((subject, phrase), []).append(
                    (number_, [self.key_of(f, sentence["state"]) + (sentence["state"],)
                               for f in faults]))

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
        start = (pack.names if (node.noun, phrase) in pack.names else pack.states)[
            node.noun, phrase]["start"]
        if (node, phrase) in self.links:
            start, links = self.fit(node, phrase)
            for sentence, faults in self.links[node, phrase]:
                if links.get(sentence):
                    for f in faults:
                        reasons.append(fault_reason(self, f) + (links[sentence], set()))
        return start, reasons

    # --- chances of one thing where its causes are known -----------------------------------

    def needs(self, var):
        """What a variable's chance depends on."""
        node, kind, what = var
        out = set()
        if kind == "state":
            if (node.noun, what) not in self.pack.states:
                raise Unreadable("no state %r of %r" % (what, node.noun))
            for needs, _, _, _ in self.ways(node, what)[1]:
                out |= needs
            for needs, _ in self.only_if.get((node, what), []):
                out |= needs
        elif kind == "measure":
            for phrase, _ in self.levels(node, what):
                for needs, _, _, _ in self.ways(node, phrase)[1]:
                    out |= needs
        return out

    def levels(self, node, key):
        """The levels of a measure, rising: (phrase, mark)."""
        return measure_levels(self.pack, key)

    def spread(self, var, world):
        """The chance of each value of a variable, where what it needs is known."""
        node, kind, what = var
        if kind == "state":
            for _, test in self.only_if.get((node, what), []):
                if not test(world):
                    return [(False, 1.0)]
            start, reasons = self.ways(node, what)
            none = 1.0 - start
            for _, test, strength, _ in reasons:
                if test(world):
                    none *= 1.0 - strength
            return [(True, 1.0 - none), (False, none)]
        if kind == "choice":
            choice = self.pack.choices[node.noun, what]
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
        levels, downwards = self.levels(node, key), direction(self.pack, key) < 0
        marks = self.marks(key)
        starts = level_starts(self, node, key)
        none_from = [1.0] * (len(levels) + 1)       # no reason for this level or a further one
        for i in range(len(levels) - 1, -1, -1):
            none = 1 - starts[i]
            for _, test, strength, _ in self.ways(node, levels[i][0])[1]:
                if test(world):
                    none *= 1 - strength
            none_from[i] = none_from[i + 1] * none
        stretch = []                                 # chance of being in stretch 0, 1, … n
        passed = [1.0] + [1 - none_from[i] for i in range(len(levels))] + [0.0]
        for i in range(len(levels) + 1):
            stretch.append(passed[i] - passed[i + 1])
        out = []
        for band, (which, share) in enumerate(band_shares(self, node, key)):
            out.append((band, stretch[which] * share))
        return out

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
        """Every world of what bears on the wanted things, with its chance.

        `weights`: variable -> function of its value that says how likely the answers are."""
        weights = weights or {}
        variables = self.order(set(wanted) | set(weights))
        world = {}

        def go(i, chance):
            if i == len(variables):
                yield world, chance
                return
            var = variables[i]
            for value, p in self.spread(var, world):
                c = chance * p
                if var in weights:
                    c *= weights[var](value)
                if c:
                    world[var] = value
                    yield from go(i + 1, c)
        yield from go(0, 1.0)


def passes(measure, marks, band, tick):
    """Whether a band lies at or above a mark; marks outside the measure are settled."""
    if tick <= measure["low"]:
        return True
    if tick not in marks:
        return False
    return band > marks.index(tick)


def sign_phrase(sentence):
    """The phrase of the sign of a `that means` sentence."""
    return sentence["sign_words"]


def count_spread(pack, noun, part):
    """As usual, short, or over: the chance of each number."""
    for p, least, most, usual, _ in pack.makeup[noun]:
        if p == part:
            start = pack.counts[noun, part]["start"]
            short, over = range(least, usual), range(usual + 1, most + 1)
            out = {k: start / len(short) for k in short}
            out.update({k: start / len(over) for k in over})
            out[usual] = 1 - sum(out.values())
            return sorted(out.items())
    raise Unreadable("no number of %s" % part)


def direction(pack, key):
    """1 if the levels of a measure lead to more, -1 if to less.

    Without levels the names decide: to less if all of them do (a guess)."""
    for (noun, phrase), name in pack.names.items():
        if name["measure"] == key and phrase in pack.concluded.get(noun, ()):
            return -1 if name["test"](lambda t: False) else 1
    sides = [name["test"](lambda t: False) for name in pack.names.values()
             if name["measure"] == key and len(name["marks"]) == 1]
    return -1 if sides and all(sides) else 1


def measure_levels(pack, key):
    """The names of a measure that a rule concludes, in the direction that they lead."""
    found = [(phrase, name["marks"][0]) for (noun, phrase), name in pack.names.items()
             if name["measure"] == key and phrase in pack.concluded.get(noun, ())]
    return sorted(found, key=lambda x: x[1] * direction(pack, key))


def figures(pack, noun, key):
    """How often each name of a measure is passed: as written, but less often than the one below.

    One that is not written less often has the figure of that one, times what is left of the
    measure above its own mark, divided by what is left above the lower mark."""
    measure, sign = pack.measures[key], direction(pack, key)
    low, top = measure["low"], measure["high"] + 1
    flip = (lambda t: t) if sign > 0 else (lambda t: low + top - t)
    found = []
    for (of, phrase), name in pack.names.items():
        one_mark = name["measure"] == key and of == noun and len(name["marks"]) == 1
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
    sign = direction(pack, key)
    flip = (lambda t: t) if sign > 0 else (lambda t: low + top - t)
    levels = [(p, flip(t)) for p, t in model.levels(node, key)]
    of_name = figures(pack, node.noun, key)
    written = [of_name[p] for p, _ in levels]
    marks = sorted(flip(t) for t in model.marks(key))
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
            known[low + 1] = last = max(min(raw, 999), floor)
        else:
            known[begin] = last = 1000
        for j, t in enumerate(inside):
            if t == low + 1:
                continue
            c = names[t][0]
            raw = (c - q) / (p - q) if p > q else 0.0
            share = half_up(1000 * min(1, max(0, raw)))
            floor = sum(len(names[x]) for x in inside[j:]) + (1 if i else 0)
            last = known[t] = max(min(share, last - 1), floor)
        anchors = sorted(known)
        for t in [begin] + [x for x in marks if begin < x < end]:
            if t in known:
                above[i, t] = known[t] / 1000
            elif t == low:
                above[i, t] = 1.0
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
        return model.measure_atom(node, what, model.pack.names[node.noun, phrase]["test"])
    return model.state_atom(node, phrase)


def fit_sign(model, node, phrase):
    """The false alarm and the links that keep the promises about a sign (section 12)."""
    pack = model.pack
    level = (node.noun, phrase) in pack.names
    slip = 0.01 if level else pack.states[node.noun, phrase]["slip"]
    ordinary = list(model.reasons.get((node, phrase), []))
    if level:                          # each level is passed whenever the next is
        key = pack.names[node.noun, phrase]["measure"]
        order = [p for p, _ in model.levels(node, key)]
        here = order.index(phrase)
        for higher in order[here + 1:]:
            ordinary += model.ways(node, higher)[1]
        for start in level_starts(model, node, key, order[:here + 1])[here + 1:]:
            ordinary.append((set(), lambda world: True, start, set()))
    sentences = [(n, faults) for n, faults in model.links[node, phrase] if faults]
    wanted = set()
    for needs, _, _, _ in ordinary:
        wanted |= needs
    for needs, _ in model.only_if.get((node, phrase), []):
        wanted |= needs
    tests = []
    for _, faults in sentences:
        reasons = [fault_reason(model, f) for f in faults]
        for needs, _ in reasons:
            wanted |= needs
        tests.append([t for _, t in reasons])
    table = {}
    for world, chance in model.worlds(wanted):
        able = all(t(world) for _, t in model.only_if.get((node, phrase), []))
        k = 1.0
        for _, test, strength, _ in ordinary:
            if test(world):
                k *= 1 - strength
        truths = tuple((bool(t[0](world)), sum(bool(x(world)) for x in t)) for t in tests)
        table[able, k, truths] = table.get((able, k, truths), 0.0) + chance
    # A rule counts as "from that fault" if that is its only clause, said of it or of any; it may
    # have an `unless` (a guess).
    by_rule = [any(f[:3] in alone for f in faults[:1] for _, _, _, alone in ordinary)
               for _, faults in sentences]
    promises = [pack.means[n]["often"] for n, _ in sentences]

    def kept(j, a, links):
        """How far the promise of sentence j is out: share of yes that has the fault, less w."""
        yes = yes_fault = 0.0
        for (able, k, truths), chance in table.items():
            none = (1 - a) * k
            for (_, count), b in zip(truths, links):
                none *= (1 - b) ** count
            s = 1 - none if able else 0.0
            y = chance * ((1 - slip) * s + slip * (1 - s))
            yes += y
            if truths[j][0]:
                yes_fault += y
        return yes_fault / yes - promises[j]

    def root(f, low, high):
        """Where a monotone function crosses nought; an end if it does not."""
        at_low, at_high = f(low), f(high)
        if at_low * at_high > 0:
            return low if abs(at_low) < abs(at_high) else high
        for _ in range(60):
            middle = (low + high) / 2
            if (f(middle) > 0) == (at_low > 0):
                low = middle
            else:
                high = middle
        return (low + high) / 2

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
            if re.search(r" has ", line):
                node, part, count = self.counted(line)
                numbers[node.address(), part] = count
        if numbers:                    # there are as many parts as were counted (a guess)
            self.model = Model(pack, pack.noun(found[1]), ordered, numbers)
        self.weights = {}
        latest = {}
        for line in findings:
            for var, tag, weight in self.finding(line):
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
            found = re.match(r"(every|each|all|no)? ?(?:the )?(?:(\w+) )?(%s)(?: (\d+))?$"
                             % pack.noun_pattern(), step)
            if not found:
                raise Unreadable("part %r" % text)
            noun = pack.noun(found[3])
            if nodes == [model.root_node] and noun == model.root_node.noun:
                continue
            nodes = [c for n in nodes for c in (n.children.get(noun, []) or
                                                [x for x in n.below() if x.noun == noun])]
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
        reading = re.match(r"(?:(.*?) )?(\d\S*(?: \d+/\d+)?) ?(mm|cm|m|inches|inch|in|ft|%)(?: (\w+))?$", rest)
        if reading:
            key = pack.find_measure(node.noun, reading[1] or "", reading[4])
            return self.weigh_reading(node, key, ticks(reading[2], reading[3]))
        for (noun, attribute), choice in pack.choices.items():
            if noun == node.noun and rest in choice["values"]:
                slip, n = choice["slip"], len(choice["values"])
                return (node, "choice", attribute), "choice", \
                    lambda v: 1 - slip if v == rest else slip / (n - 1)
        if (node.noun, rest) in pack.names:
            name = pack.names[node.noun, rest]
            var = (node, "measure", name["measure"])
            needs, test = model.measure_atom(node, name["measure"], name["test"])
            truth = lambda v: test({var: v})
            slip, fault = 0.01, False
        else:
            state = pack.states[node.noun, rest]
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

    def weigh_reading(self, node, key, at):
        """How likely a reading is in each band."""
        measure = self.pack.measures[key]
        marks = self.model.marks(key)
        var = (node, "measure", key)
        if measure["reads"] is None:
            band = sum(at >= t for t in marks)
            return var, "reading", lambda v: float(v == band)
        # In the mirror image a mark stands at the last reading that passes it: one tick lower.
        back = 1 if direction(self.pack, key) < 0 else 0
        edges = [None] + [m - back for m in marks] + [None]
        out = []
        shares = band_shares(self.model, node, key)
        for i, (_, share) in enumerate(shares):
            low, high = edges[i], edges[i + 1]
            mass = (1.0 if high is None else normal_below((high - at) / measure["reads"])) - \
                (0.0 if low is None else normal_below((low - at) / measure["reads"]))
            mass = max(mass, 2.0 ** -50)
            out.append(mass / share if share > 0 else 0.0)
        return var, "reading", lambda v: out[v]

    def chances(self, questions):
        """The chance of each question (`drawer 1 is stiff`) after all findings."""
        asked = []
        for question in questions:
            words, verb, rest = re.match(r"(.*?) (is|shows) (.*)$", question).groups()
            node = self.part(words)[0]
            if (node.noun, rest) in self.pack.names:
                name = self.pack.names[node.noun, rest]
                asked.append(self.model.measure_atom(node, name["measure"], name["test"]))
            else:
                asked.append(self.model.state_atom(node, rest))
        wanted = set().union(*(a[0] for a in asked))
        total, sums = 0.0, [0.0] * len(asked)
        for world, chance in self.model.worlds(wanted, self.weights):
            total += chance
            for i, (_, test) in enumerate(asked):
                if test(world):
                    sums[i] += chance
        return [s / total if total else None for s in sums]


def savings(job, var):
    """What a check saves: the losses of all faults now, less what is expected after its answer."""
    pack, model = job.pack, job.model
    node, kind, what = var
    faults = [(x, p) for x in model.all_nodes for (noun, p), state in pack.states.items()
              if noun == x.noun and state["kind"] == "fault"]
    asked = [((x, "state", p), pack.missed.get((x.noun, p), 0.0),
              min(pack.mends.get((x.noun, p), [60.0]))) for x, p in faults]
    table = {}                    # answer -> [chance, chance with each fault]
    for world, chance in model.worlds({var} | {a[0] for a in asked}, job.weights):
        if kind == "state":
            slip = pack.states[node.noun, what]["slip"]
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
    pack.concluded = {}
    for rule in pack.rules:
        noun = rule["thing"].noun if rule["thing"].noun != "it" else rule["subject"]
        pack.concluded.setdefault(noun, set()).add(rule["state"])
    pack.all_marks = {}

    def add(measured):
        pack.all_marks.setdefault(measured[0], set()).update(measured[2])
    for name in pack.names.values():
        pack.all_marks.setdefault(name["measure"], set()).update(name["marks"])
    for sentence, _ in (split_entry(e) for e in entries_of(text)):
        found = re.match(r"if (.*?), that (.*?) means", sentence)
        if found:
            phrase = re.match(r"an? (%s) (?:is|shows) (.*)$" % pack.noun_pattern(), found[1])
            for m in pack.means:
                if "sign_words" not in m:
                    m["sign_words"] = phrase[2]
                    pack.concluded.setdefault(m["subject"], set()).add(phrase[2])
                    break
        if re.search(r"\b(more than|less than|at least|at most|between) [\d.]", sentence) \
                and not sentence.startswith("you can"):
            for clause in re.split(r",? (?:and(?! \d)|or|then|unless|only if) |^if ", sentence):
                found = re.match(r".*? (?:is|are) (?:not )?((?:\w+ )*?(?:more than|less than|at least|at most|between) .*)$", clause)
                if not found:
                    continue
                for noun in {k[0] for k in pack.measures}:
                    try:
                        measured = pack.measured(noun, found[1])
                    except Unreadable:
                        continue
                    if measured:
                        add(measured)
    return pack
