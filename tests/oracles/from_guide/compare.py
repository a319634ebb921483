"""Compares figures worked out from the guide with the program's, pack by pack.

Build the program first, then:  python3 compare.py [-v] [--every N] [word in a pack's name]
With --every 3, one in three of the packs that are drawn by lot are compared, and all others.
Another program than target/debug/tellmark may be named:  TELLMARK=path python3 compare.py
Each pack is text: rules, then lines `order: …` and `found: …; …` (one line is one job).
A line `record: …; …` is a job whose findings and ticks stand in order (see mended.py).
`differs: …; …` is such a job too, of which it is known that the program says otherwise; it is
told when that is no longer so.
"""

import argparse
import contextlib
import io
import itertools
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
from concurrent import futures

import draw
import forms
import from_guide
import mended

HERE = os.path.dirname(os.path.abspath(__file__))
BUILT = os.path.join(HERE, "..", "..", "..", "target", "debug", "tellmark")
PROGRAM = os.path.abspath(os.environ.get("TELLMARK", BUILT))


def run(*words, typed=None):
    """Runs the program; gives back its exit code and what it printed."""
    # The packs bring their own pieces.
    words = [PROGRAM, "--families", "none", *words]
    done = subprocess.run(words, capture_output=True, text=True, input=typed)
    return done.returncode, done.stdout, done.stderr


def questions_of(job):
    """Every state and named mark of every part, as a question."""
    out = []
    for node in job.model.all_nodes:
        where, x = [], node
        while x.parent is not None:
            where.append("%s %d" % (x.noun, x.index))
            x = x.parent
        words = " of ".join(where) or node.noun
        pack, phrases = job.pack, []
        for noun, phrase in list(pack.states) + list(pack.names):
            if pack.isa(node.noun, noun) and phrase not in phrases:
                phrases.append(phrase)
        for phrase in phrases:
            verb = (pack.state_of(node.noun, phrase) or {}).get("verb", "is")
            out.append("%s %s %s" % (words, verb, phrase))
        for (noun, phrase), (_, degrees) in pack.degrees.items():
            if pack.isa(node.noun, noun):
                out.append("%s is %s" % (words, phrase))
                out += ["%s is at least %s %s" % (words, d, phrase) for d in degrees[1:]]
    return out


def split(text):
    """Rules, and jobs as (order, lines, which sort of job)."""
    rules, jobs, order = [], [], None
    for line in text.strip().splitlines():
        if line.startswith("order:"):
            order = line[6:].strip()
        elif line.startswith(("found:", "record:", "differs:")):
            kind, words = line.split(":", 1)
            jobs.append((order, [f.strip() for f in words.split(";") if f.strip()], kind))
        else:
            rules.append(line)
    return "\n".join(rules) + "\n", jobs


class Tally:
    """What was compared so far."""

    def __init__(self):
        self.compared = 0
        self.apart = []
        self.worst = 0.0
        self.close = 0          # within 1 in a million
        self.unread = []
        self.known = 0          # in jobs of which it is known that the two differ
        self.packs = 0

    def add(self, other):
        """Adds what another process compared."""
        self.compared += other.compared
        self.apart += other.apart
        self.worst = max(self.worst, other.worst)
        self.close += other.close
        self.unread += other.unread
        self.known += other.known
        self.packs += other.packs


def compare_alone(name, text, verbose):
    """Compares one pack in a process of its own; what it had to say, and its tally."""
    tally = Tally()
    with contextlib.redirect_stdout(io.StringIO()) as said:
        compare(name, text, tally, verbose)
    return said.getvalue(), tally


def compare(name, text, tally, verbose=False):
    """Compares one pack; tells each figure that is more than 2 in 100,000 apart."""
    rules, jobs = split(text)
    folder = tempfile.mkdtemp(prefix="compare-")
    with open(os.path.join(folder, "a.rules.txt"), "w") as out:
        out.write(rules)
    code, said, error = run("check", "--rules", folder)
    if code:
        print("%s: the program refuses it\n%s%s" % (name, said[:1500], error[:500]))
        tally.unread.append((name, "refused"))
        shutil.rmtree(folder)
        return
    if verbose:
        for note in re.findall(r"\n(?!No round)(?!Add)([A-Z][^\n]*)\n[^\n]*\n *look, message (?!49)", said):
            print("   told:", note)
    pack = from_guide.read_pack(rules)
    tally.packs += 1
    compare_records(name, pack, [(order, lines, kind == "differs") for order, lines, kind in jobs
                                 if kind != "found"], folder, tally, verbose)
    jobs = [(order, lines) for order, lines, kind in jobs if kind == "found"]
    for number, (order, findings) in enumerate(jobs):
        job_folder = os.path.join(folder, "job%d" % number)
        code, said, error = run("open", order, "--name", "job%d" % number, "--in", folder,
                                "--rules", folder)
        if code:
            print(name, order, said, error)
            continue
        for finding in findings:
            code, said, error = run("note", job_folder, finding, "--rules", folder)
            if code or "lash" in said:
                print("%s: note %r: %s%s" % (name, finding, said.strip(), error.strip()))
        if "odd" in name.split():
            compare_odd(name, pack, (order, findings), (job_folder, folder), tally)
            continue
        job = from_guide.Job(pack, order, findings)
        asked = []
        for question in questions_of(job):
            code, said, error = run("why", "--json", job_folder, question, "--rules", folder)
            if code or '"chance"' not in said:
                if verbose:
                    print("   %s: %r: %s" % (name, question, (said + error).strip()[:200]))
                continue
            theirs = json.loads(said)
            if theirs["chance"] is not None:
                asked.append((question, theirs["chance"]))
            elif verbose:
                print("   %s: %r has no chance (found: %s)" % (name, question, theirs.get("found")))
        mine = job.chances([q for q, _ in asked]) if asked else []
        for (question, theirs), ours in zip(asked, mine):
            tell(name, findings, question, ours, theirs, tally, verbose)
    shutil.rmtree(folder)


def compare_odd(name, pack, job, folders, tally):
    """Compares which findings sit oddly together, how odd they are, and how likely a slip each."""
    order, findings = job
    theirs = {}
    said = json.loads(run("triage", "--json", folders[0], "--rules", folders[1])[1])
    if said["clash"]:
        return
    ours = from_guide.odd_findings(pack, order, findings)
    for together in said["sit_oddly"]:
        for finding in together:
            if finding["times_as_frequent"] is not None:
                text, beside = finding["text"], len(together) - 1
                if text in theirs and theirs[text][2] == ours.get(text, (0, 0, 0))[2]:
                    beside = theirs[text][2]       # it stands in several of these
                theirs[text] = finding["times_as_frequent"], finding["slip"], beside
    for finding in sorted(set(ours) | set(theirs)):
        mine, other = ours.get(finding, (9, 9, 9)), theirs.get(finding, (9, 9, 9))
        for what, a, b in zip(("times", "slip", "others"), mine, other):
            if a is None or b is None:
                continue
            tally.compared += 1
            tally.close += abs(a - b) <= 1e-6
            if abs(a - b) > 2e-5:
                tally.apart.append((name, findings, finding, a, b))
                print("APART %-14s %-44s %s, %s: guide %.6f, program %.6f" % (
                    name, "; ".join(findings), finding, what, a, b))


def compare_records(name, pack, records, folder, tally, verbose):
    """Compares the jobs of one pack on which something was mended, as found and now.

    `records`: (order, lines, whether the program is known to say otherwise)."""
    histories = [mended.History(pack, order, lines) for order, lines, _ in records]
    with futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        answers = list(pool.map(
            lambda n: ask_record(records[n], "record%d" % n, histories[n], folder),
            range(len(records))))
    for (_, lines, differs), history, (theirs, refused) in zip(records, histories, answers):
        for words in refused:
            print("%s: %s" % (name, words))
            tally.apart.append((name, lines, words, None, None))
        otherwise, mine = differs or history.is_open(), ours_for(history, theirs)
        own = Tally() if otherwise else tally
        with contextlib.redirect_stdout(io.StringIO() if otherwise else sys.stdout):
            for question in theirs:
                tell(name, lines, ": ".join(question), mine[question], theirs[question], own, verbose)
        if otherwise:
            tally.known += len(own.apart)
            if differs and not own.apart:
                print("%s: no longer apart, so say `record:`: %s" % (name, "; ".join(lines)))
                tally.apart.append((name, lines, "", 0, 0))


def ours_for(history, theirs):
    """The guide's figure for each question that the program answered."""
    out = {}
    for view in ("as found", "now"):
        asked = [q for v, q in theirs if v == view]
        out.update(zip([(view, q) for q in asked], history.chances(asked, view == "as found")))
    doubts = [q for v, q in theirs if v == "in doubt"]
    out.update(zip([("in doubt", q) for q in doubts], history.in_doubt(doubts)))
    return out


def ask_record(job, job_name, history, folder):
    """Writes a record by the commands; gives back the program's chances, as found and now, and
    what it refused."""
    order, record, _ = job
    here, rules = os.path.join(folder, job_name), ("--rules", folder)
    refused = []

    def do(*words, **typed):
        code, said, error = run(*words, *rules, **typed)
        if code:
            refused.append("%s: %s%s" % (" ".join(words), said.strip(), error.strip()))
        return said
    do("open", order, "--name", job_name, "--in", folder)
    for is_work, lines in itertools.groupby(record, lambda x: x.startswith(("done:", "undo:"))):
        if not is_work:
            do("note", here, "-", typed="\n".join(lines) + "\n")
            continue
        for line in lines:
            own = re.match(r"done: (.*), mends (.*)$", line)
            if own:
                do("done", here, own[1], "--mends", own[2])
                continue
            what, work, part, showed, fault = re.match(
                r"(done|undo): (.*?) on (.*?)(?:, (not found|found) (.*))?$", line).groups()
            do("done", here, work, "--part", part, "--undo" if what == "undo" else "--anyway",
               *(["--" + showed.replace(" ", "-"), fault] if showed else []))
    theirs = {}
    for view, flags in (("as found", ["--as-found"]), ("now", [])):
        said = json.loads(do("triage", "--json", "--all", here, *flags))
        listed = {(str(part["part"]), fault["fault"]): fault["chance"]
                  for part in said["parts"] for fault in part["faults"]}
        known = {(tuple(history.part(part)), fault): chance
                 for (part, fault), chance in listed.items()}
        for question in questions_of(history):
            part, verb, phrase = re.match(r"(.*?) (is|shows) (.*)$", question).groups()
            chance = known.get((tuple(history.part(part)), "%s %s" % (verb, phrase)))
            if chance is None:
                code, answer, _ = run("why", "--json", here, question, *flags, *rules)
                chance = json.loads(answer).get("chance") if not code else None
            if chance is not None:
                theirs[view, question] = chance
        for mend in said["mended"] if view == "now" else []:
            question = mend["mended"].replace(": ", " is ")
            theirs["now", question] = mend["chance"]
            theirs["in doubt", question] = float(mend["in_doubt"])
    return theirs, refused


def tell(name, found, question, ours, theirs, tally, verbose):
    """Counts one figure, and tells it where it is more than 2 in 100,000 apart."""
    tally.compared += 1
    gap = abs(theirs - ours) if ours is not None else 9
    tally.close += gap <= 1e-6
    tally.worst = max(tally.worst, gap if gap <= 2e-5 else 0)
    if gap > 2e-5:
        tally.apart.append((name, found, question, ours, theirs))
        print("APART %-14s %-44s %s: guide %s, program %.6f" % (
            name, "; ".join(found) or "nothing", question,
            "none" if ours is None else "%.6f" % ours, theirs))
    elif verbose:
        print("same  %-14s %-44s %s: %.6f (%.1e)" % (
            name, "; ".join(found) or "nothing", question, theirs, gap))


HEAD = """House rules for a trial, version 1.
Unless we say otherwise, a fault is there on its own: rarely.
Unless we say otherwise, a sign is there on its own: hardly ever.
"""

PACKS = {}

PACKS["reasons"] = HEAD + """
By often we mean 58 in 100.
Pieces: trunklet.
Parts: lidlet, clasplet (plural claspen).
A trunklet has 1 to 3 lidlets (usually 2).
A lidlet has two claspen (left, right).
You can see whether a lidlet is lopped.  On its own: in 2 of 10 cases  Slip: 3 in 100
You can feel whether a clasplet shows grit.
A clasplet may be sprung without showing it.  On its own: sometimes
A lidlet may be torpid without showing it.
A trunklet may be askew without showing it.  On its own: in 15 of 100 cases
If a clasplet is sprung then its lidlet is often lopped.  From: house
If a lidlet is torpid and it is not lopped then its claspen sometimes show grit.  From: house
If a trunklet is askew then the lidlets are usually torpid.  From: house
If any clasplet of a lidlet is sprung then the lidlet is sometimes torpid unless its trunklet is askew.  From: house
If every one of the claspen of a lidlet is sprung or its trunklet is askew then it is always lopped.  From: house
order: trunklet
found:
found: lidlet 1 is lopped
found: lidlet 1 is lopped; left clasplet of lidlet 1 is not sprung; lidlet 2 is not lopped
found: lidlet 1 is certainly lopped; clasplet 2 of lidlet 1 does not show grit; clasplet 1 of lidlet 2 looks as if it shows grit
found: lidlet 2 does not look lopped; lidlet 1 is certainly not lopped; trunklet is not askew
order: trunklet with 1 lidlet
found: lidlet 1 is lopped
found: no lidlet is lopped; the claspen of lidlet 1 show grit
"""

PACKS["choices"] = HEAD + """
Pieces: trunklet.
Parts: peglet.
A trunklet has 1 to 2 peglets (usually 2).
You can see which tiplet a peglet has: bluntish, gimletty, cuttish or flattish.  Slip: 4 in 100  Usually: cuttish
You can see which hue a trunklet has: reddish, greenish or bluish.
You can see whether a peglet is oldish.  On its own: in 1 of 10 cases
A peglet may be crumbly without showing it.
A trunklet may be odd without showing it.
If a peglet is gimletty then it is usually oldish.  From: house
If the tiplet of a peglet is either bluntish or flattish then it is often crumbly.  From: house
If a trunklet is reddish then its peglets are sometimes crumbly.  From: house
If any peglet of a trunklet is crumbly and its hue is greenish then it is often odd.  From: house
If a peglet is not cuttish then it is sometimes oldish unless it is crumbly.  From: house
order: trunklet
found:
found: peglet 1 is gimletty
found: peglet 1 is cuttish; hue of trunklet is greenish
found: trunklet is reddish; peglet 2 is oldish; peglet 1 is flattish
found: peglet 1 is oldish; peglet 2 looks oldish
"""

PACKS["counts"] = HEAD + """
Pieces: trunklet.
Parts: leaflet, propling.
A trunklet has 2 leaflets.
A leaflet has 0 to 4 proplings (usually 1).
You can count the proplings of a leaflet.  On its own: in 6 of 100 cases
You can see whether a leaflet is droopy.
A leaflet may be strained without showing it.
A trunklet may be odd without showing it.
If a leaflet has no proplings then it is usually droopy.  From: house
If a leaflet has fewer than 2 proplings then it is sometimes strained.  From: house
If a leaflet has more than 2 proplings then it is often strained.  From: house
If a leaflet has exactly 1 propling and it is strained then its trunklet is often odd.  From: house
If a leaflet has at least 3 proplings or it is droopy then its trunklet is sometimes odd.  From: house
order: trunklet
found:
found: leaflet 1 is droopy
found: leaflet 1 has no proplings; leaflet 2 is not droopy
found: leaflet 1 has 3 proplings; trunklet is odd
found: trunklet is odd; leaflet 2 is certainly not droopy
order: trunklet with 2 proplings
found: leaflet 1 is droopy
"""

PACKS["countparts"] = HEAD + """
Pieces: trunklet.
Parts: propling.
A trunklet has 0 to 3 proplings (usually 2).
You can count the proplings of a trunklet.  On its own: in 6 of 100 cases
You can see whether a propling is droopy.  On its own: in 2 of 10 cases
A trunklet may be strained without showing it.
A trunklet may be odd without showing it.
A trunklet may be even without showing it.
If any propling of a trunklet is droopy then it is often strained.  From: house
If every propling of a trunklet is droopy then it is often odd.  From: house
If at least two proplings of a trunklet are droopy then it is often even.  From: house
order: trunklet
found:
found: trunklet has 1 propling
found: trunklet has no proplings
found: trunklet has 3 proplings
found: trunklet is strained
found: propling 2 is droopy
"""

PACKS["levels"] = HEAD + """
Pieces: basin.
You can measure how much a basin is wetted, in %, from 6 to 60.  Reads to: 2 %  On its own: in 2 of 10 cases
A basin counts as wettish when it is wetted at least 20 %.  On its own: in 1 of 10 cases
A basin counts as soakish when it is wetted at least 30 %.  On its own: in 5 of 100 cases
A basin counts as dampish when it is wetted more than 12 %.  On its own: in 15 of 100 cases
A basin counts as streaming when it is wetted at least 45 %.  On its own: in 2 of 100 cases
A basin may be soggy without showing it.  On its own: in 2 of 10 cases
A basin may be leaky without showing it.
A basin may be odd without showing it.  On its own: in 0 of 10 cases
A basin may be even without showing it.  On its own: in 0 of 10 cases
If a basin is soggy then it is usually wettish.  From: house
If a basin is leaky then it is sometimes soakish.  From: house
If a basin is wetted between 15 and 25 % then it is by definition odd.  From: house
If a basin is wetted less than 35 % and it is not dampish then it is often even.  From: house
order: basin
found:
found: basin is wetted 24 %
found: basin is wettish
found: basin is wetted 7 %; basin looks odd
found: basin is wetted 50 %; basin is not leaky
found: basin is not soakish; basin is wetted 29 %
found: basin is wetted 32 %; basin is wetted 18 %
found: basin is certainly dampish; basin does not look wettish
found: basin is even; basin is wetted 16 %
"""

PACKS["exact"] = HEAD + """
Pieces: railet.
You can measure how thick a railet is, in mm, from 5 to 60.
You can measure how wide a railet is split, in mm, from 0 to 12.  Reads to: 0.5 mm
A railet counts as gappy when it is split at least 1/8 in wide.  On its own: in 8 of 100 cases
A railet counts as thinnish when it is at most 12 mm thick.  On its own: in 1 of 10 cases
A railet may be weakish without showing it.
A railet may be strong without showing it.
If a railet is weakish then it is often gappy.  From: house
If a railet is at least 25 mm thick then it is usually strong.  From: house
If a railet is strong and it is split more than 5 mm wide then it is sometimes weakened.  From: house
You can see whether a railet is weakened.
order: railet
found:
found: railet is 30 mm thick
found: railet is 20 mm thick
found: railet is strong
found: railet is split 3 mm wide
found: railet is split 6 mm wide; railet is weakened
found: railet is split 0 mm wide; railet is weakened
"""

PACKS["onlyif"] = HEAD + """
Pieces: trunklet.
Parts: lidlet.
A trunklet has 2 lidlets.
You can see whether a lidlet is groovy.  On its own: in 4 of 10 cases
You can see whether a lidlet is creaky.  On its own: in 1 of 10 cases  Slip: 5 in 100
You can ask whether a trunklet is heated.  On its own: in 3 of 10 cases
A lidlet may be held without showing it.  On its own: in 2 of 10 cases
A lidlet can be held only if it is groovy.  From: house
A lidlet can be creaky only if it is held or its trunklet is heated.  From: house
A lidlet can be held only if its trunklet is heated.  From: house
If a trunklet is heated then its lidlets are sometimes held.  From: house
If a lidlet is held then it is usually creaky.  From: house
order: trunklet
found:
found: lidlet 1 is groovy
found: lidlet 1 is certainly not groovy
found: lidlet 1 is creaky; trunklet is not heated
found: lidlet 1 is not creaky; trunklet is certainly heated; lidlet 2 looks groovy
found: lidlet 1 is not creaky; lidlet 1 is certainly not groovy
found: lidlet 1 looks creaky; lidlet 2 is certainly creaky
found: lidlet 1 is held; lidlet 2 does not look creaky
"""

PACKS["means"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet.
A trunklet has a lidlet.
A lidlet has 2 peglets.
You can hear whether a lidlet is creaky.  On its own: in 1 of 10 cases
You can see whether a lidlet is bowed.  Slip: 3 in 100
You can see whether a lidlet is tipsy.  Slip: 2 in 100
You can ask whether a trunklet is heated.  On its own: in 3 of 10 cases
A lidlet may be racky without showing it.  On its own: in 2 of 10 cases
A lidlet may be torpid without showing it.  On its own: in 15 of 100 cases
A peglet may be sprung without showing it.
If a trunklet is heated then its lidlets are sometimes torpid.  From: house
If a lidlet is creaky, that usually means it is racky.  From: house
If a lidlet is bowed, that sometimes means it is racky.  From: house
If a lidlet is bowed, that often means it is torpid.  From: house
If a lidlet is tipsy, that sometimes means its peglets are sprung.  From: house
If a trunklet is heated then the lidlet is sometimes bowed.  From: house
order: trunklet
found:
found: lidlet is creaky
found: lidlet is bowed
found: lidlet is tipsy
found: lidlet is not creaky; lidlet is bowed
found: lidlet is certainly bowed; trunklet is not heated; lidlet looks tipsy
found: lidlet is certainly not racky; lidlet is creaky
found: lidlet is not racky; lidlet is not torpid; trunklet is certainly not heated
found: peglet 1 of lidlet is not sprung; peglet 2 of lidlet is not sprung
"""

PACKS["meansrule"] = HEAD + """
Pieces: trunklet.
You can hear whether a trunklet is creaky.  On its own: in 1 of 10 cases
You can see whether a trunklet is bowed.  Slip: 3 in 100
A trunklet may be racky without showing it.  On its own: in 2 of 10 cases
A trunklet may be torpid without showing it.  On its own: in 15 of 100 cases
A trunklet may be sour without showing it.
If a trunklet is creaky, that often means it is racky.  From: house
If a trunklet is racky then it is often creaky.  From: house
If a trunklet is torpid then it is sometimes creaky.  From: house
If a trunklet is bowed, that sometimes means it is torpid.  From: house
If a trunklet is bowed, that in 4 of 10 cases means it is racky.  From: house
If a trunklet is torpid then it is usually bowed.  From: house
If a trunklet is sour then it is sometimes bowed.  From: house
order: trunklet
found:
found: trunklet is creaky
found: trunklet is bowed
found: trunklet is not racky; trunklet is not torpid; trunklet is not sour
found: trunklet is racky; trunklet is not torpid; trunklet is not sour
found: trunklet is torpid; trunklet is not racky; trunklet is not sour
found: trunklet is bowed; trunklet is creaky
"""

PACKS["downward"] = HEAD + """
Pieces: railet.
You can measure how much a railet is proud, in mm, from 0 to 20.  Reads to: 1 mm  On its own: in 3 of 10 cases
A railet counts as scant when it is proud at most 12 mm.  On its own: in 1 of 10 cases
A railet counts as bare when it is proud less than 8 mm.  On its own: in 4 of 100 cases
A railet counts as meagre when it is proud at most 15 mm.  On its own: in 2 of 10 cases
A railet may be shrunk without showing it.  On its own: in 2 of 10 cases
You can see whether a railet is dull.  On its own: in 0 of 10 cases
You can see whether a railet is rubbed.  On its own: in 0 of 10 cases
You can see whether a railet is ragged.  On its own: in 0 of 10 cases
You can see whether a railet is matt.  On its own: in 0 of 10 cases
If a railet is shrunk then it is usually scant.  From: house
If a railet is shrunk then it is sometimes bare.  From: house
If a railet is proud at least 18 mm then it is by definition dull.  From: house
If a railet is proud at most 10 mm then it is by definition rubbed.  From: house
If a railet is proud less than 3 mm then it is by definition ragged.  From: house
If a railet is proud less than 14 mm then it is by definition matt.  From: house
order: railet
found:
found: railet is proud 9 mm
found: railet is proud 13 mm
found: railet is proud 19 mm
found: railet is proud 1 mm
found: railet is scant
found: railet is certainly meagre; railet is dull
"""


PACKS["down2"] = HEAD + """
Pieces: railet.
You can measure how thick a railet is, in mm, from 5 to 40.  Reads to: 0.5 mm
You can measure how much a railet is proud, in mm, from 0 to 20.  Reads to: 1 mm
A railet counts as thinnish when it is at most 12 mm thick.
A railet counts as fattish when it is at least 30 mm thick.  On its own: in 3 of 10 cases
A railet counts as middling when it is between 20 and 25 mm thick.
A railet counts as scant when it is proud at most 12 mm.  On its own: in 1 of 10 cases
A railet counts as tall when it is proud at least 16 mm.
A railet counts as medium when it is proud between 13 and 15 mm.
A railet may be shrunk without showing it.  On its own: in 2 of 10 cases
You can see whether a railet is dull.  On its own: in 0 of 10 cases
You can see whether a railet is rubbed.  On its own: in 0 of 10 cases
You can see whether a railet is ragged.  On its own: in 0 of 10 cases
If a railet is shrunk then it is usually scant.  From: house
If a railet is proud at least 18 mm then it is by definition dull.  From: house
If a railet is tall then it is by definition rubbed.  From: house
If a railet is fattish then it is by definition ragged.  From: house
order: railet
found:
found: railet is proud 9 mm
found: railet is tall
found: railet is 28 mm thick
found: railet is 10 mm thick; railet is thinnish
"""

PACKS["up2"] = HEAD + """
Pieces: railet.
You can measure how thick a railet is, in mm, from 5 to 40.  Reads to: 0.5 mm
You can measure how much a railet is proud, in mm, from 0 to 20.  Reads to: 1 mm
A railet counts as fattish when it is at least 30 mm thick.  On its own: in 3 of 10 cases
A railet counts as scant when it is proud at most 2 mm.
A railet counts as tall when it is proud at least 16 mm.  On its own: in 2 of 10 cases
A railet counts as taller when it is proud more than 18 mm.  On its own: in 15 of 100 cases
A railet counts as tallest when it is proud more than 19 mm.  On its own: in 1 of 100 cases
A railet counts as medium when it is proud between 13 and 15 mm.
A railet may be shrunk without showing it.  On its own: in 2 of 10 cases
You can see whether a railet is dull.  On its own: in 0 of 10 cases
You can see whether a railet is rubbed.  On its own: in 0 of 10 cases
You can see whether a railet is ragged.  On its own: in 0 of 10 cases
If a railet is shrunk then it is usually tall.  From: house
If a railet is proud at least 18 mm then it is by definition dull.  From: house
If a railet is scant then it is by definition rubbed.  From: house
If a railet is at least 20 mm thick then it is by definition ragged.  From: house
order: railet
found:
found: railet is proud 9 mm
found: railet is tall
found: railet is scant
found: railet is proud 17 mm
found: railet is 28 mm thick; railet is proud 0 mm
found: railet is ragged
"""

PACKS["meanslevel"] = HEAD + """
Pieces: railet.
You can measure how much a railet is proud, in mm, from 0 to 20.  Reads to: 1 mm
A railet counts as tallish when it is proud at least 10 mm.  On its own: in 2 of 10 cases
A railet counts as tall when it is proud at least 16 mm.  On its own: in 1 of 100 cases
A railet may be shrunk without showing it.  On its own: in 2 of 10 cases
A railet may be swollen without showing it.  On its own: in 15 of 100 cases
If a railet is tallish, that usually means it is swollen.  From: house
If a railet is shrunk then it is in 1 of 20 cases tall.  From: house
order: railet
found:
found: railet is tallish
found: railet is proud 12 mm
found: railet is not swollen; railet is not shrunk
found: railet is swollen; railet is not shrunk
"""

PACKS["meanslevel1"] = HEAD + """
Pieces: railet.
You can measure how much a railet is proud, in mm, from 0 to 20.  Reads to: 1 mm
A railet counts as tallish when it is proud at least 10 mm.  On its own: in 2 of 10 cases
A railet may be swollen without showing it.  On its own: in 15 of 100 cases
If a railet is tallish, that usually means it is swollen.  From: house
You can see whether a railet is dull.
If a railet is proud more than 5 mm then it is often dull.
order: railet
found:
found: railet is tallish
found: railet is proud 12 mm
found: railet is not swollen
found: railet is dull; railet is proud 4 mm
"""

PACKS["meansonly"] = HEAD + """
Pieces: trunklet.
You can ask whether a trunklet is heated.  On its own: in 3 of 10 cases
You can hear whether a trunklet is creaky.  On its own: in 1 of 10 cases
You can hear whether a trunklet is bowed.  On its own: in 1 of 10 cases  Slip: 2 in 100
A trunklet may be racky without showing it.  On its own: in 2 of 10 cases
A trunklet may be torpid without showing it.  On its own: in 2 of 10 cases
A trunklet can be racky only if it is heated.  From: house
A trunklet can be bowed only if it is heated.  From: house
If a trunklet is creaky, that often means it is racky.  From: house
If a trunklet is bowed, that often means it is torpid.  From: house
order: trunklet
found:
found: trunklet is creaky
found: trunklet is bowed
found: trunklet is heated; trunklet is creaky; trunklet is bowed
found: trunklet is not bowed; trunklet looks creaky
found: trunklet is certainly heated; trunklet is not torpid; trunklet is not racky
"""

PACKS["meanscount"] = HEAD + """
Pieces: trunklet, boxlet.
Parts: leaflet, propling.
A trunklet has 2 leaflets.
A boxlet has 1 to 2 leaflets (usually 1).
A leaflet has 0 to 2 proplings (usually 0).
You can count the proplings of a leaflet.  On its own: in 2 of 10 cases
You can see whether a leaflet is droopy.  Slip: 2 in 100
You can see whether a propling is bent.  On its own: in 2 of 10 cases
A leaflet may be strained without showing it.
A trunklet may be odd without showing it.
If a trunklet is odd then its leaflets are usually strained.  From: house
If a leaflet has at least 1 propling then it is sometimes strained.  From: house
If any propling of a leaflet is bent then it is in 2 of 10 cases droopy.  From: house
If a leaflet is droopy, that often means it is strained.  From: house
If a propling is bent, that sometimes means its leaflet is strained.  From: house
order: trunklet
found:
found: leaflet 1 is droopy
found: leaflet 1 has 2 proplings; leaflet 1 is droopy
found: leaflet 1 has 1 propling; propling 1 of leaflet 1 is bent
order: boxlet
found:
found: leaflet 1 is droopy
found: leaflet 1 has 1 propling; propling 1 of leaflet 1 is bent
order: boxlet with 2 leaflets and 1 propling
found: leaflet 2 is droopy; propling 1 of leaflet 1 looks bent
"""

PACKS["ends"] = HEAD + """
Pieces: trunklet.
You can hear whether a trunklet is creaky.
You can hear whether a trunklet is bowed.  Slip: 10 in 100
You can hear whether a trunklet is loud.
You can hear whether a trunklet is meek.
A trunklet may be racky without showing it.  On its own: in 2 of 100 cases
A trunklet may be torpid without showing it.  On its own: in 5 of 10 cases
A trunklet may be sour without showing it.  On its own: in 5 of 100 cases
If a trunklet is creaky, that in 66 of 100 cases means it is racky.  From: house
If a trunklet is bowed, that usually means it is torpid.  From: house
If a trunklet is loud, that in 55 of 100 cases means it is torpid.  From: house
If a trunklet is meek, that in 75 of 100 cases means it is sour.  From: house
If a trunklet is meek, that in 55 of 100 cases means it is torpid.  From: house
order: trunklet
found:
found: trunklet is creaky
found: trunklet is bowed
found: trunklet is loud
found: trunklet is meek
found: trunklet is racky; trunklet is not torpid; trunklet is sour
found: trunklet is not racky; trunklet is torpid; trunklet is not sour
found: trunklet is not racky; trunklet is not torpid; trunklet is not sour
"""

PACKS["usually2"] = HEAD + """
By usually we mean 78 in 100.
Pieces: trunklet.
Parts: peglet.
A trunklet has 2 peglets.
You can see which tiplet a peglet has: bluntish or gimletty.  Usually: gimletty  Slip: 0 in 100
You can see which hue a trunklet has: reddish, greenish, bluish, greyish, whitish.  Usually: greyish
You can see whether a peglet shows rust.  On its own: in 1 of 10 cases
A trunklet may be odd without showing it.
If a bluntish peglet shows rust then its trunklet is sometimes odd.  From: house
If the hue of a trunklet is either reddish or bluish or greyish then its peglets usually show rust.  From: house
order: trunklet
found:
found: peglet 1 is bluntish
found: trunklet is greenish; peglet 1 shows rust
found: trunklet is odd; peglet 2 does not show rust
"""

PACKS["edges"] = HEAD + """
Pieces: railet.
You can measure how much a railet is proud, in mm, from 0 to 20.  Reads to: 1 mm  On its own: in 0 of 10 cases
You can measure how thick a railet is, in mm, from 5 to 40.  Reads to: 0.5 mm
You can measure how wide a railet is split, in mm, from 0 to 12.  Reads to: 0.5 mm
A railet counts as tall when it is proud at least 16 mm.  On its own: in 20 of 100 cases
A railet counts as lofty when it is proud more than 16 mm.  On its own: in 10 of 100 cases
A railet counts as tower when it is proud at least 18 mm.  On its own: in 30 of 100 cases
A railet counts as tiptop when it is proud at least 19 mm.  On its own: in 0 of 100 cases
A railet counts as topmost when it is proud at least 20 mm.  On its own: in 1 of 1000 cases
A railet counts as fattish when it is more than 30 mm thick.  On its own: in 30 of 100 cases
A railet counts as fatter when it is at least 31 mm thick.  On its own: in 20 of 100 cases
A railet counts as gaping when it is split at least 1/4 in wide.  On its own: in 7 of 100 cases
A railet may be shrunk without showing it.  On its own: in 2 of 10 cases
You can see whether a railet is dull.  On its own: in 0 of 10 cases
You can see whether a railet is rubbed.  On its own: in 0 of 10 cases
You can see whether a railet is ragged.  On its own: in 0 of 10 cases
You can see whether a railet is torn.  On its own: in 0 of 10 cases
If a railet is shrunk then it is usually tall.  From: house
If a railet is shrunk then it is sometimes gaping.  From: house
If a railet is proud more than 0 mm then it is by definition dull.  From: house
If a railet is proud at least 19 mm then it is by definition rubbed.  From: house
If a railet is more than 32 mm thick then it is by definition ragged.  From: house
If a railet is split more than 0 mm wide then it is by definition torn.  From: house
order: railet
found:
found: railet is proud 0 mm
found: railet is proud 20 mm
found: railet is proud 3 mm; railet is dull
found: railet is lofty
found: railet is tower; railet is split 1/4 in wide
found: railet is 40 mm thick; railet is split 0 mm wide
found: railet is 5 mm thick; railet looks torn
found: railet is certainly fatter; railet does not look topmost
"""

PACKS["zero"] = HEAD + """
Pieces: railet.
You can measure how much a railet is proud, in mm, from 0 to 20.  On its own: in 0 of 10 cases
You can measure how thick a railet is, in mm, from 5 to 40.  Reads to: 0.5 mm  On its own: in 0 of 10 cases
You can see whether a railet is dull.  On its own: in 0 of 10 cases
You can see whether a railet is rubbed.  On its own: in 0 of 10 cases
You can see whether a railet is ragged.  On its own: in 1 of 10 cases
If a railet is proud more than 0 mm then it is by definition dull.  From: house
If a railet is proud more than 10 mm then it is usually ragged.  From: house
If a railet is more than 5 mm thick then it is by definition rubbed.  From: house
If a railet is more than 12 mm thick then it is usually ragged.  From: house
order: railet
found:
found: railet is proud 0 mm
found: railet is proud 3 mm
found: railet is 20 mm thick
found: railet is ragged
"""

PACKS["strange1"] = HEAD + """
Pieces: railet.
You can measure how much a railet is proud, in mm, from 0 to 20.  Reads to: 1 mm
A railet counts as tall when it is proud at least 16 mm.  On its own: in 2 of 10 cases
A railet counts as medium when it is proud between 13 and 15 mm.
A railet may be shrunk without showing it.  On its own: in 2 of 10 cases
If a railet is shrunk then it is usually tall.  From: house
order: railet
found:
found: railet is medium
found: railet is certainly medium
found: railet is proud 14 mm; railet is medium
"""

PACKS["strange2"] = HEAD + """
Pieces: trunklet.
You can ask whether a trunklet is heated.  On its own: in 3 of 10 cases
You can hear whether a trunklet is creaky.  On its own: in 1 of 10 cases
A trunklet may be racky without showing it.  On its own: in 2 of 10 cases
If a trunklet is heated then it is often racky.  From: house
A trunklet can be creaky only if it is heated.  From: house
order: trunklet
found:
found: trunklet is creaky
found: trunklet is certainly creaky
"""

PACKS["inches"] = HEAD + """
Pieces: railet, boardlet.
Parts: topling (plural toplingen).
A railet has 2 toplingen.
A boardlet has 1 to 4 toplingen (usually 3).
You can measure how thick a topling is, in in, from 1/4 to 2.  Reads to: 1/32 in
You can ask whether a piece is sunned.  On its own: sometimes
You can see whether a topling shows paleness.  Slip: 5 in 1000
A topling counts as thinlike when it is at most 1/2 in thick.  On its own: in 1 of 8 cases
A topling may be warpy without showing it.  Missed: 2 hours, risk 2
If a piece is sunned then its toplingen sometimes show paleness.  From: house
If a topling is thinlike and its piece is sunned then it is often warpy.  From: house
If a topling is between 5/8 and 3/4 in thick or it shows paleness then it is sometimes warpy.  From: house
order: railet
found:
found: topling 1 is 5/8 in thick
found: topling 2 is 12 mm thick; topling 1 shows paleness; topling 2 is warpy
found: piece is sunned; topling 1 is not warpy; topling 1 looks thinlike
order: boardlet with 1 topling
found: topling 1 is 1.25 in thick; topling 1 does not show paleness
found: topling 1 is certainly thinlike; it looks sunned
"""

PACKS["meanslevel2"] = HEAD + """
Pieces: railet.
You can measure how much a railet is proud, in mm, from 0 to 20.  Reads to: 1 mm
A railet counts as tallish when it is proud at least 10 mm.  On its own: in 3 of 10 cases
A railet counts as tall when it is proud at least 16 mm.  On its own: in 2 of 10 cases
A railet counts as tower when it is proud at least 18 mm.  On its own: in 1 of 100 cases
A railet may be shrunk without showing it.  On its own: in 2 of 10 cases
A railet may be swollen without showing it.  On its own: in 15 of 100 cases
If a railet is tall, that usually means it is swollen.  From: house
If a railet is shrunk then it is sometimes tallish.  From: house
If a railet is shrunk then it is in 1 of 100 cases tower.  From: house
order: railet
found:
found: railet is tallish
found: railet is proud 12 mm
found: railet is tall
found: railet is not swollen; railet is not shrunk
found: railet is swollen; railet is not shrunk
"""

PACKS["floor"] = HEAD + """
Pieces: railet.
You can measure how much a railet is proud, in mm, from 0 to 20.  Reads to: 0.5 mm
A railet counts as slackish when it is proud at least 5 mm.  On its own: in 5 of 10 cases
A railet counts as tall when it is proud at least 15 mm.  On its own: in 2 of 10 cases
A railet may be shrunk without showing it.  On its own: in 2 of 10 cases
You can see whether a railet is dull.  On its own: in 0 of 10 cases
You can see whether a railet is flush.  On its own: in 0 of 10 cases
If a railet is shrunk then it is usually tall.  From: house
If a railet is proud more than 0 mm then it is by definition dull.  From: house
If a railet is proud at least 10 mm then it is by definition flush.  From: house
order: railet
found: railet is certainly not tall; railet is proud 19 mm
found: railet is certainly not tall; railet is proud 16 mm
found: railet is certainly tall; railet is proud 2 mm
found: railet is not tall; railet is proud 18 mm
"""

PACKS["notbuilt"] = HEAD + """
Pieces: railet, boardlet.
Parts: topling, footling.
A railet has a topling.
A boardlet has a topling and 2 footlings.
A topling has 0 to 2 footlings (usually 1).
You can count the footlings of a topling.  On its own: rarely
A topling may be warpy without showing it.
You can see whether a footling is chippy.  On its own: in 2 of 10 cases
You can see whether a boardlet is dingy.  On its own: in 3 of 10 cases
You can see whether a railet is dingy.  On its own: in 3 of 10 cases
If a topling has no footlings or its boardlet is dingy then it is often warpy.  From: house
If a topling has a footling and its railet is not dingy then it is sometimes warpy.  From: house
If a footling is chippy then its topling is sometimes warpy.  From: house
If a footling is chippy and its boardlet is not dingy then its boardlet is often poor.  From: house
If every footling of a topling is chippy then the topling is usually poor.  From: house
A boardlet may be poor without showing it.
A topling may be poor without showing it.
order: railet
found:
found: topling has no footlings
found: topling is warpy; topling has 2 footlings
order: boardlet
found:
found: footling 2 is chippy; boardlet is dingy
found: footling 1 of topling is chippy; boardlet is not dingy
"""

PACKS["between"] = HEAD + """
Pieces: railet.
You can measure how much a railet is proud, in mm, from 0 to 20.  Reads to: 1 mm  On its own: in 5 of 10 cases
A railet counts as medium when it is proud between 13 and 15 mm.
A railet counts as tall when it is proud at least 16 mm.  On its own: in 2 of 10 cases
A railet may be shrunk without showing it.  On its own: in 2 of 10 cases
You can see whether a railet is dull.  On its own: in 1 of 10 cases
If a railet is medium then it is usually dull.  From: house
If a railet is shrunk then it is usually tall.  From: house
order: railet
found:
found: railet is medium
found: railet is certainly not medium
found: railet looks medium; railet is proud 17 mm; railet is dull
"""


# Random packs.
PACKS["drawn 175"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has a lidlet.
A lidlet has 2 peglets (left, right).
A lidlet has 0 to 1 proplings (usually 1).
You can count the proplings of a lidlet.  On its own: in 17 of 100 cases
A lidlet may be mossy without showing it.
You can see whether a peglet is tipsy.  On its own: rarely
You can hear whether a peglet is racky.  On its own: in 47 of 100 cases  Slip: 6 in 100
A lidlet may be dented without showing it.  On its own: rarely
A trunklet may be flabby without showing it.
You can hear whether a trunklet is torpid.  On its own: in 14 of 100 cases
You can ask whether a trunklet is bowed.  On its own: rarely  Slip: 1 in 100
If a lidlet has exactly 1 propling or all of its peglets are racky then its peglets are always tipsy.  From: house
If a lidlet is dented and its trunklet is bowed and at least two peglets are racky then its trunklet is often flabby unless all of its peglets are racky.  From: house
If a trunklet is torpid and any of the peglets of its lidlets is tipsy then its lidlets are usually mossy unless any of the peglets of its lidlets is tipsy.  From: house
If a lidlet is dented and it has a propling and every one of its peglets is tipsy then its trunklet is in 6 of 20 cases bowed.  From: house
If a trunklet is not bowed or all of its lidlets are dented or it is torpid then it is by definition flabby.  From: house
If a trunklet is bowed, that sometimes means its lidlets are dented.  From: house
A trunklet can be bowed only if any of the peglets of its lidlets is racky.  From: house
order: trunklet
found:
found: peglet 1 of lidlet 1 does not look tipsy
found: lidlet 1 has 1 proplings; lidlet 1 looks mossy
found: peglet 2 of lidlet 1 is certainly not racky
found: trunklet is not flabby; lidlet 1 is not dented; trunklet does not look bowed
"""

PACKS["drawn 176"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has a lidlet.
A lidlet has 0 to 1 proplings (usually 1).
You can count the proplings of a lidlet.  On its own: in 21 of 100 cases
You can ask whether a lidlet is sticky-ish.  Slip: 4 in 100
A lidlet may be creaky without showing it.  On its own: rarely
A lidlet may be lopped without showing it.  On its own: in 3 of 100 cases
You can ask whether a lidlet is pallid.
You can feel whether a lidlet is hollow-ish.  On its own: rarely  Slip: 5 in 100
You can see which hue a trunklet has: reddish, greenish, bluish, greyish.  Slip: 0 in 100
You can measure how much a trunklet is worn, in %, from 6 to 60.  Reads to: 1.5 %  On its own: sometimes
A trunklet counts as torpid when it is worn at least 7 %.  On its own: in 40 of 100 cases
A trunklet counts as gritty when it is worn at least 23 %.
A trunklet counts as flabby when it is worn at least 37 %.
A trunklet counts as sour when it is worn at least 42 %.  On its own: in 11 of 100 cases
If a trunklet is not greenish and it is not greenish then its lidlets are often hollow-ish.  From: house
If a trunklet is worn at most 30 % and any of its lidlets is creaky then its lidlets are usually pallid.  From: house
If a lidlet is lopped then it is nearly always sticky-ish unless it is hollow-ish.  From: house
If a trunklet is not greenish and its hue is bluish then its lidlets are usually sticky-ish.  From: house
If a trunklet is not greyish and it is worn between 54 and 58 % then its lidlets are often hollow-ish.  From: house
If a lidlet is pallid, that often means it is creaky.  From: house
A lidlet can be hollow-ish only if it is lopped.  From: house
order: trunklet
found:
found: lidlet 1 is creaky; trunklet is worn 49 %
found: lidlet 1 is creaky; lidlet 1 has 1 proplings
found: trunklet is worn 6 %; trunklet is greenish
found: lidlet 1 is certainly pallid; lidlet 1 is not creaky; lidlet 1 is certainly hollow-ish
"""

PACKS["drawn 178"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has 2 lidlets.
You can hear whether a trunklet is sour.  On its own: in 18 of 100 cases
A lidlet may be sprung without showing it.  On its own: rarely
You can feel whether a trunklet is sticky-ish.  Slip: 9 in 100
You can feel whether a lidlet is hollow-ish.  On its own: rarely
You can see which hue a trunklet has: reddish, greenish, bluish.  Slip: 2 in 100  Usually: bluish
You can measure how thick a trunklet is, in mm, from 0 to 12.  On its own: rarely
A trunklet counts as bowed when it is more than 5 mm thick.  On its own: in 49 of 100 cases
A trunklet counts as tipsy when it is more than 7 mm thick.  On its own: in 47 of 100 cases
A trunklet counts as pallid when it is more than 8 mm thick.
A trunklet counts as creaky when it is at least 10 mm thick.  On its own: in 8 of 100 cases
If a trunklet is not bluish then it is sometimes bowed.  From: house
If a trunklet is between 5 and 8 mm thick then its lidlets are sometimes sprung.  From: house
If a trunklet is not reddish then its lidlets are in 15 of 20 cases hollow-ish.  From: house
A trunklet can be sticky-ish only if it is not bluish.  From: house
order: trunklet
found:
found: lidlet 2 is not sprung; trunklet is greenish
found: trunklet does not look creaky; trunklet is 4 mm thick; trunklet is certainly not sour
found: trunklet is greenish; lidlet 2 looks sprung; trunklet is creaky; trunklet is certainly sticky-ish
found: trunklet is sour
"""

PACKS["drawn 189"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has 2 lidlets.
A lidlet has a peglet.
You can see whether a lidlet is hollow-ish.  On its own: sometimes
You can ask whether a peglet is creaky.  On its own: in 45 of 100 cases  Slip: 0 in 100
You can see whether a lidlet is dented.  On its own: in 3 of 100 cases  Slip: 8 in 100
A trunklet may be flabby without showing it.  On its own: rarely
If a peglet is creaky or it is creaky then its lidlet is always dented.  From: house
If a trunklet is flabby and it is flabby then its lidlets are nearly always dented.  From: house
A lidlet can be hollow-ish only if no peglet is creaky.  From: house
order: trunklet
found:
found: lidlet 1 is hollow-ish
found: trunklet looks flabby
found: lidlet 1 is certainly not hollow-ish
found: lidlet 1 is dented; lidlet 2 is certainly hollow-ish; peglet 1 of lidlet 2 is creaky; trunklet is flabby
"""

PACKS["drawn 198"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has 2 lidlets.
You can feel whether a trunklet is creaky.  On its own: sometimes  Slip: 8 in 100
You can see whether a lidlet is sticky-ish.  On its own: in 19 of 100 cases  Slip: 5 in 100
You can feel whether a lidlet is mossy.  On its own: sometimes
You can hear whether a lidlet is lopped.  On its own: sometimes  Slip: 7 in 100
You can hear whether a lidlet is racky.
You can see which hue a trunklet has: reddish, greenish, bluish, greyish.  Slip: 0 in 100  Usually: greenish
You can measure how wide a trunklet is split, in mm, from 5 to 60.
A trunklet counts as hollow-ish when it is split less than 46 mm wide.
A trunklet counts as pallid when it is split less than 26 mm wide.  On its own: in 40 of 100 cases
A trunklet counts as askew when it is split less than 12 mm wide.
A trunklet counts as bowed when it is split at most 10 mm wide.  On its own: in 18 of 100 cases
If a trunklet is not greenish then its lidlets are in 7 of 20 cases sticky-ish.  From: house
If a trunklet is not creaky and it is not bluish then it is usually pallid.  From: house
If a lidlet is not sticky-ish and its trunklet is not creaky then it is in 9 of 20 cases racky.  From: house
If a trunklet is split more than 10 mm wide then its lidlets are in 9 of 20 cases mossy.  From: house
If a trunklet is not greenish then it is in 3 of 20 cases creaky unless its hue is greenish.  From: house
order: trunklet
found:
found: lidlet 1 is mossy
found: trunklet is certainly creaky; lidlet 2 is certainly not mossy; trunklet is split 50 mm wide
found: trunklet is split 54 mm wide; trunklet is greyish; trunklet is not pallid
found: lidlet 2 is certainly lopped; trunklet is greyish; trunklet is not creaky
"""

PACKS["drawn 219"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has a lidlet.
A lidlet has 2 peglets (left, right).
A lidlet may be creaky without showing it.
You can ask whether a peglet is torpid.  On its own: rarely  Slip: 5 in 100
You can see whether a trunklet is wonky.  On its own: rarely  Slip: 8 in 100
You can see whether a peglet is gritty.  On its own: rarely  Slip: 5 in 100
You can see whether a trunklet is hollow-ish.  On its own: in 50 of 100 cases  Slip: 5 in 100
A trunklet may be sour without showing it.  On its own: in 8 of 100 cases
If a trunklet is wonky or any of the peglets of its lidlets is torpid then it is in 15 of 20 cases sour unless it is wonky.  From: house
If a peglet is torpid or its lidlet is creaky then it is sometimes gritty unless its lidlet is not creaky.  From: house
If a lidlet is not creaky or it is creaky then its peglets are sometimes gritty unless it is not creaky.  From: house
A trunklet can be hollow-ish only if any of the peglets of its lidlets is torpid.  From: house
order: trunklet
found:
found: peglet 2 of lidlet 1 is certainly not torpid; trunklet is wonky; lidlet 1 is creaky
found: trunklet looks hollow-ish
found: trunklet is sour; trunklet is not wonky; trunklet is not hollow-ish
found: trunklet does not look sour; peglet 2 of lidlet 1 is not torpid
"""

PACKS["drawn 233"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has a lidlet.
A lidlet has a peglet.
A lidlet may be sticky-ish without showing it.  On its own: sometimes
A peglet may be askew without showing it.
A peglet may be bowed without showing it.  On its own: rarely
You can ask whether a lidlet is wonky.  On its own: sometimes
You can measure how thick a trunklet is, in %, from 6 to 60.  Reads to: 1.5 %
A trunklet counts as tipsy when it is at least 14 % thick.  On its own: in 45 of 100 cases
A trunklet counts as hollow-ish when it is at least 29 % thick.  On its own: in 43 of 100 cases
A trunklet counts as creaky when it is more than 51 % thick.  On its own: in 7 of 100 cases
A trunklet counts as lopped when it is at least 52 % thick.
If a peglet is askew or its lidlet is not wonky or its lidlet is not sticky-ish then it is usually bowed.  From: house
If a lidlet is wonky and it is wonky and it is sticky-ish then its trunklet is always lopped.  From: house
If a peglet is askew or it is askew then it is often bowed.  From: house
If a trunklet is lopped, that usually means its lidlets are sticky-ish.  From: house
A peglet can be askew only if its lidlet is wonky.  From: house
order: trunklet
found:
found: trunklet is 52 % thick; trunklet is creaky; trunklet does not look lopped
found: lidlet 1 is wonky
found: peglet 1 of lidlet 1 is askew; trunklet is 30 % thick
found: trunklet is 38 % thick; lidlet 1 does not look wonky; trunklet is not lopped; trunklet is certainly creaky
"""

PACKS["drawn 237"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has a lidlet.
A lidlet has a peglet.
A lidlet has 0 to 4 proplings (usually 0).
You can count the proplings of a lidlet.
A peglet may be foxed without showing it.  On its own: sometimes
You can ask whether a lidlet is wonky.  On its own: rarely
A lidlet may be lopped without showing it.  On its own: in 35 of 100 cases
You can ask whether a lidlet is sour.  On its own: sometimes  Slip: 2 in 100
You can see which hue a trunklet has: reddish, greenish.
You can measure how thick a peglet is, in mm, from 0 to 15.  On its own: sometimes
A peglet counts as torpid when it is at most 13 mm thick.  On its own: in 39 of 100 cases
A peglet counts as tipsy when it is less than 10 mm thick.  On its own: in 33 of 100 cases
A peglet counts as flabby when it is at most 1 mm thick.  On its own: in 15 of 100 cases
If a peglet is foxed then its lidlet is in 16 of 20 cases lopped.  From: house
If a trunklet is not reddish and no lidlet is sour then its lidlets are always lopped unless every one of its lidlets is sour.  From: house
If a lidlet has exactly 1 propling or it is sour or it has no proplings then its peglets are sometimes foxed.  From: house
If a trunklet is not reddish or any of the peglets of its lidlets is foxed or it is not greenish then its lidlets are nearly always lopped.  From: house
If a lidlet is not sour and it is sour and it is not sour then it is often wonky.  From: house
If a trunklet is not reddish and any of the peglets of its lidlets is foxed then its lidlets are usually wonky.  From: house
If a lidlet is wonky, that usually means its peglets are foxed.  From: house
order: trunklet
found:
found: peglet 1 of lidlet 1 is 5 mm thick
found: lidlet 1 is not sour; peglet 1 of lidlet 1 is 12 mm thick
found: lidlet 1 has 4 proplings; trunklet is greenish; lidlet 1 does not look lopped
found: peglet 1 of lidlet 1 is 2 mm thick
"""

PACKS["drawn 1007"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has a lidlet.
You can see whether a trunklet is torpid.  On its own: in 18 of 100 cases  Slip: 4 in 100
You can hear whether a trunklet is gritty.  On its own: rarely
You can ask whether a trunklet is sour.  On its own: in 8 of 100 cases  Slip: 6 in 100
A lidlet may be racky without showing it.  On its own: in 3 of 100 cases
A lidlet may be lopped without showing it.  On its own: sometimes
You can see which hue a lidlet has: reddish, greenish, bluish.
You can measure how thick a trunklet is, in %, from 6 to 60.  On its own: sometimes
A trunklet counts as sprung when it is more than 31 % thick.
A trunklet counts as creaky when it is at least 46 % thick.  On its own: in 19 of 100 cases
A trunklet counts as mossy when it is at least 52 % thick.  On its own: in 36 of 100 cases
If a trunklet is sour and it is sour and it is not sour then it is usually sprung unless it is gritty.  From: house
If a lidlet is racky and it is not bluish then its trunklet is often gritty.  From: house
If a lidlet is not reddish then its trunklet is often sprung.  From: house
If a lidlet is not reddish and its hue is greenish then its trunklet is nearly always creaky.  From: house
If a lidlet is lopped or its trunklet is gritty then its trunklet is nearly always creaky.  From: house
If a trunklet is sprung, that sometimes means its lidlets are lopped.  From: house
A trunklet can be gritty only if it is sour.  From: house
order: trunklet
found:
found: trunklet does not look creaky; trunklet is certainly gritty; trunklet is 25 % thick
found: trunklet does not look creaky; lidlet 1 is bluish; trunklet is certainly not gritty; lidlet 1 is racky
found: trunklet looks creaky; lidlet 1 is racky
found: trunklet is 27 % thick; lidlet 1 is bluish
"""

PACKS["drawn 1019"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has a lidlet.
A lidlet has 0 to 2 proplings (usually 1).
You can count the proplings of a lidlet.
A trunklet may be torpid without showing it.  On its own: sometimes
A lidlet may be dented without showing it.  On its own: sometimes
You can see whether a lidlet is foxed.  On its own: rarely  Slip: 1 in 100
You can hear whether a lidlet is hollow-ish.  On its own: in 12 of 100 cases  Slip: 3 in 100
You can measure how much a trunklet is worn, in mm, from 5 to 60.  On its own: rarely
A trunklet counts as mossy when it is worn more than 13 mm.
A trunklet counts as creaky when it is worn more than 36 mm.  On its own: in 4 of 100 cases
If a lidlet is foxed and it is foxed then its trunklet is often mossy unless it has a propling.  From: house
If a trunklet is torpid and any of its lidlets is dented then its lidlets are nearly always foxed unless every one of its lidlets is dented.  From: house
If a lidlet has exactly 1 propling then it is always hollow-ish.  From: house
If a trunklet is creaky, that in 4 of 10 cases means it is torpid.  From: house
order: trunklet
found:
found: lidlet 1 is not hollow-ish; lidlet 1 is dented; trunklet is mossy
found: lidlet 1 does not look foxed; trunklet is worn 11 mm; lidlet 1 is not dented
found: trunklet is worn 36 mm; lidlet 1 is certainly not foxed
found: trunklet is worn 38 mm
"""

PACKS["drawn 1059"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has a lidlet.
A lidlet has 0 to 2 proplings (usually 2).
You can count the proplings of a lidlet.
A lidlet may be wonky without showing it.  On its own: rarely
You can ask whether a lidlet is racky.  On its own: rarely  Slip: 1 in 100
You can see whether a trunklet is creaky.  On its own: in 25 of 100 cases  Slip: 9 in 100
You can see whether a lidlet is flabby.  On its own: rarely
If a lidlet is not wonky then it is often flabby unless it is wonky.  From: house
If a lidlet has exactly 1 propling and it is wonky then it is always flabby.  From: house
If a lidlet is racky, that usually means it is wonky.  From: house
If a trunklet is creaky, that in 4 of 10 cases means its lidlets are wonky.  From: house
order: trunklet
found:
found: lidlet 1 does not look racky; lidlet 1 is not wonky
found: lidlet 1 is wonky
found: lidlet 1 has no proplings; lidlet 1 looks wonky; lidlet 1 is flabby
found: lidlet 1 is certainly flabby; lidlet 1 does not look wonky; trunklet is certainly not creaky
"""

PACKS["drawn 1073"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has 2 lidlets.
A lidlet has a peglet.
You can feel whether a lidlet is bowed.  On its own: rarely
You can ask whether a lidlet is tipsy.
You can feel whether a lidlet is sticky-ish.  On its own: sometimes
A lidlet may be askew without showing it.  On its own: sometimes
A trunklet may be wonky without showing it.  On its own: rarely
You can measure how wide a peglet is split, in mm, from 5 to 60.  On its own: in 15 of 100 cases
A peglet counts as creaky when it is split more than 8 mm wide.  On its own: in 46 of 100 cases
A peglet counts as pallid when it is split at least 30 mm wide.
A peglet counts as lopped when it is split more than 48 mm wide.  On its own: in 22 of 100 cases
A peglet counts as foxed when it is split at least 50 mm wide.  On its own: in 20 of 100 cases
If a lidlet is bowed then its peglets are nearly always pallid unless it is sticky-ish.  From: house
If a lidlet is bowed and it is sticky-ish then its trunklet is often wonky.  From: house
If a lidlet is bowed or no peglet is lopped or its trunklet is not wonky then it is always askew.  From: house
If a lidlet is not sticky-ish or it is not bowed then it is always askew.  From: house
If a lidlet is bowed and its trunklet is wonky then its peglets are sometimes creaky.  From: house
A lidlet can be tipsy only if no peglet is foxed.  From: house
order: trunklet
found:
found: lidlet 2 is certainly not sticky-ish; lidlet 1 is sticky-ish; peglet 1 of lidlet 2 is creaky
found: peglet 1 of lidlet 2 is split 44 mm wide
found: peglet 1 of lidlet 2 is certainly foxed; trunklet is wonky; lidlet 2 looks askew; peglet 1 of lidlet 1 is not creaky
found: lidlet 1 is not tipsy; peglet 1 of lidlet 1 does not look lopped
"""

PACKS["drawn 1098"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has 2 lidlets.
A lidlet has 0 to 4 proplings (usually 1).
You can count the proplings of a lidlet.
You can see whether a trunklet is dented.
A trunklet may be creaky without showing it.
A lidlet may be torpid without showing it.  On its own: in 34 of 100 cases
You can feel whether a trunklet is sticky-ish.  On its own: rarely
A trunklet may be racky without showing it.  On its own: in 37 of 100 cases
A trunklet may be foxed without showing it.  On its own: rarely
You can measure how thick a trunklet is, in mm, from 5 to 60.
A trunklet counts as gritty when it is at most 41 mm thick.  On its own: in 45 of 100 cases
A trunklet counts as tipsy when it is at most 18 mm thick.  On its own: in 39 of 100 cases
A trunklet counts as flabby when it is at most 11 mm thick.  On its own: in 17 of 100 cases
If a lidlet has at least 2 proplings and its trunklet is not foxed then its trunklet is sometimes dented unless its trunklet is racky.  From: house
If a lidlet has at least 2 proplings then its trunklet is by definition racky.  From: house
If a lidlet has no proplings or it has at least 2 proplings or its trunklet is racky then its trunklet is sometimes foxed.  From: house
If a trunklet is creaky then it is often racky.  From: house
If a trunklet is creaky then it is in 16 of 20 cases sticky-ish unless it is flabby.  From: house
If a trunklet is creaky and it is not creaky and it is creaky then it is in 18 of 20 cases racky.  From: house
If a lidlet is torpid and its trunklet is dented then its trunklet is nearly always gritty.  From: house
A trunklet can be dented only if it is racky.  From: house
order: trunklet
found:
found: trunklet is not creaky; trunklet is 43 mm thick
found: trunklet is 22 mm thick; trunklet is not dented
found: trunklet is not racky; trunklet is certainly not flabby
found: trunklet is dented
"""

PACKS["drawn 114"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has 2 lidlets.
A lidlet may be sour without showing it.  On its own: in 34 of 100 cases
You can ask whether a lidlet is tipsy.  On its own: sometimes  Slip: 5 in 100
You can feel whether a trunklet is hollow-ish.  On its own: rarely
A trunklet may be racky without showing it.
You can see which hue a trunklet has: reddish, greenish, bluish.  Usually: reddish
You can measure how much a lidlet is worn, in mm, from 0 to 15.
A lidlet counts as mossy when it is worn at most 13 mm.
A lidlet counts as sprung when it is worn at most 12 mm.  On its own: in 28 of 100 cases
A lidlet counts as wonky when it is worn at most 7 mm.
A lidlet counts as sticky-ish when it is worn less than 6 mm.  On its own: in 7 of 100 cases
If a trunklet is hollow-ish and it is hollow-ish then its lidlets are nearly always sticky-ish unless its hue is bluish.  From: house
If a trunklet is racky or it is not reddish then its lidlets are in 9 of 20 cases sour unless it is not bluish.  From: house
If a trunklet is hollow-ish then its lidlets are in 5 of 20 cases sticky-ish.  From: house
A lidlet can be sour only if its trunklet is not racky.  From: house
order: trunklet
found:
found: lidlet 2 looks tipsy
found: lidlet 2 is worn 5 mm; trunklet is certainly hollow-ish
found: lidlet 1 is sour
found: trunklet is bluish; trunklet looks racky
"""

PACKS["drawn 121"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has 2 lidlets.
A lidlet has 0 to 2 proplings (usually 2).
You can count the proplings of a lidlet.
You can ask whether a lidlet is sprung.  On its own: rarely  Slip: 3 in 100
You can hear whether a lidlet is torpid.  On its own: in 8 of 100 cases
A lidlet may be gritty without showing it.  On its own: rarely
You can see whether a trunklet is wonky.  On its own: rarely
You can feel whether a trunklet is pallid.  On its own: sometimes
You can see which hue a trunklet has: reddish, greenish.
You can measure how thick a trunklet is, in %, from 6 to 60.  Reads to: 1.5 %  On its own: rarely
A trunklet counts as askew when it is more than 23 % thick.  On its own: in 18 of 100 cases
A trunklet counts as lopped when it is at least 27 % thick.  On its own: in 26 of 100 cases
A trunklet counts as mossy when it is more than 31 % thick.  On its own: in 39 of 100 cases
A trunklet counts as foxed when it is at least 58 % thick.  On its own: in 42 of 100 cases
If a lidlet is gritty or its trunklet is not pallid then it is sometimes torpid unless it is not gritty.  From: house
If a lidlet has at least 2 proplings and it is not gritty then it is usually torpid.  From: house
If a lidlet is not gritty or its trunklet is pallid or it is gritty then it is sometimes torpid unless its trunklet is not pallid.  From: house
order: trunklet
found:
found: trunklet is certainly not wonky; lidlet 2 is sprung; lidlet 1 is gritty
found: trunklet does not look wonky; lidlet 2 is certainly sprung; lidlet 2 is not torpid
found: lidlet 1 is certainly torpid; trunklet is not wonky
found: trunklet is 57 % thick; lidlet 2 does not look gritty
"""

PACKS["drawn 129"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has 2 lidlets.
A lidlet has a peglet.
A trunklet may be tipsy without showing it.  On its own: rarely
You can ask whether a peglet is dented.  On its own: sometimes
You can ask whether a trunklet is sour.  Slip: 4 in 100
You can hear whether a lidlet is gritty.
You can ask whether a trunklet is wonky.  On its own: rarely  Slip: 4 in 100
You can measure how wide a lidlet is split, in mm, from 5 to 60.  On its own: sometimes
A lidlet counts as creaky when it is split less than 23 mm wide.
A lidlet counts as pallid when it is split at most 19 mm wide.
If a lidlet is gritty and it is gritty and it is split at least 44 mm wide then its trunklet is sometimes wonky unless it is split between 50 and 52 mm wide.  From: house
If a trunklet is wonky and it is not sour then it is sometimes tipsy.  From: house
If a lidlet is split less than 56 mm wide then its trunklet is nearly always tipsy.  From: house
If a lidlet is split between 17 and 18 mm wide then its trunklet is always wonky unless it is split between 40 and 41 mm wide.  From: house
order: trunklet
found:
found: peglet 1 of lidlet 1 does not look dented; trunklet is wonky
found: lidlet 2 is split 6 mm wide; peglet 1 of lidlet 2 is dented; trunklet is not tipsy
found: trunklet is certainly not wonky; lidlet 1 is split 41 mm wide
found: trunklet is certainly wonky; lidlet 1 does not look gritty
"""

PACKS["drawn 135"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has 2 lidlets.
A lidlet has a peglet.
A lidlet has 0 to 4 proplings (usually 2).
You can count the proplings of a lidlet.
A trunklet may be mossy without showing it.  On its own: rarely
You can hear whether a peglet is torpid.  On its own: rarely
You can feel whether a trunklet is lopped.  On its own: sometimes
A trunklet may be foxed without showing it.  On its own: in 42 of 100 cases
You can measure how wide a trunklet is split, in mm, from 5 to 60.  On its own: in 16 of 100 cases
A trunklet counts as wonky when it is split at least 27 mm wide.
A trunklet counts as bowed when it is split at least 57 mm wide.  On its own: in 6 of 100 cases
If a trunklet is lopped and it is lopped then it is sometimes bowed.  From: house
If a lidlet has exactly 1 propling or it has no proplings then its trunklet is in 19 of 20 cases bowed.  From: house
If a trunklet is bowed and it is foxed then it is usually mossy.  From: house
If a lidlet has at least 2 proplings or its trunklet is lopped then its trunklet is usually foxed.  From: house
If a trunklet is lopped or it is not lopped then it is always wonky.  From: house
If a lidlet has fewer than 2 proplings and it has exactly 1 propling then its trunklet is always foxed.  From: house
order: trunklet
found:
found: trunklet is split 7 mm wide; lidlet 2 has no proplings; trunklet is not mossy
found: trunklet is mossy; trunklet is certainly not wonky; trunklet is split 22 mm wide
found: lidlet 1 has 3 proplings; trunklet looks wonky; trunklet is foxed
found: trunklet looks mossy; trunklet looks foxed; trunklet is lopped; trunklet is certainly not wonky
"""

PACKS["drawn 142"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has 2 lidlets.
A lidlet has a peglet.
A peglet may be gritty without showing it.  On its own: rarely
You can ask whether a trunklet is sticky-ish.
You can ask whether a peglet is torpid.  On its own: sometimes  Slip: 5 in 100
A trunklet may be pallid without showing it.  On its own: rarely
If a peglet is torpid or its trunklet is sticky-ish then it is often gritty.  From: house
If a peglet is torpid and its trunklet is sticky-ish then it is usually gritty.  From: house
If a trunklet is sticky-ish then it is nearly always pallid.  From: house
If a peglet is not torpid or its trunklet is pallid then it is sometimes gritty unless it is torpid.  From: house
order: trunklet
found:
found: peglet 1 of lidlet 2 does not look gritty
found: trunklet is pallid; peglet 1 of lidlet 2 is gritty
found: peglet 1 of lidlet 2 does not look gritty; trunklet looks pallid
found: trunklet is sticky-ish; peglet 1 of lidlet 1 is torpid; peglet 1 of lidlet 2 does not look gritty
"""

PACKS["drawn 150"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has a lidlet.
A lidlet has a peglet.
A trunklet may be torpid without showing it.  On its own: rarely
You can see whether a trunklet is sticky-ish.  On its own: sometimes
A lidlet may be hollow-ish without showing it.
A peglet may be bowed without showing it.  On its own: sometimes
A trunklet may be askew without showing it.  On its own: sometimes
A peglet may be tipsy without showing it.
If a lidlet is hollow-ish or its trunklet is not sticky-ish then its trunklet is usually torpid unless it is hollow-ish.  From: house
If a trunklet is askew or any of the peglets of its lidlets is tipsy then it is often torpid.  From: house
If a peglet is bowed then it is usually tipsy unless it is bowed.  From: house
order: trunklet
found:
found: peglet 1 of lidlet 1 is tipsy; lidlet 1 is hollow-ish
found: trunklet is not askew; peglet 1 of lidlet 1 is not bowed
found: trunklet does not look sticky-ish; trunklet is askew
found: trunklet is certainly not sticky-ish
"""

PACKS["drawn 155"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has 2 lidlets.
A lidlet has a peglet.
You can ask whether a lidlet is wonky.
You can ask whether a trunklet is pallid.  Slip: 8 in 100
A peglet may be racky without showing it.
A trunklet may be dented without showing it.  On its own: sometimes
A trunklet may be creaky without showing it.  On its own: rarely
You can see which hue a lidlet has: reddish, greenish, bluish.
You can measure how much a peglet is worn, in %, from 6 to 60.  On its own: in 35 of 100 cases
A peglet counts as sprung when it is worn more than 8 %.  On its own: in 22 of 100 cases
A peglet counts as lopped when it is worn more than 15 %.  On its own: in 5 of 100 cases
If a lidlet is wonky or it is wonky or its trunklet is pallid then its trunklet is always creaky.  From: house
If a peglet is racky and its trunklet is not pallid then it is sometimes sprung.  From: house
If a lidlet is not greenish or any of its peglets is sprung then its trunklet is sometimes dented unless its hue is either greenish or bluish.  From: house
If a lidlet is not greenish or it is not greenish then its trunklet is often creaky unless all of its peglets are sprung.  From: house
If a lidlet is not reddish then its trunklet is by definition dented unless its trunklet is creaky.  From: house
order: trunklet
found:
found: peglet 1 of lidlet 2 does not look sprung; trunklet is pallid
found: peglet 1 of lidlet 1 is worn 23 %
found: lidlet 1 is not wonky; peglet 1 of lidlet 2 is worn 9 %
found: peglet 1 of lidlet 2 does not look sprung; lidlet 2 is not wonky
"""

PACKS["drawn 158"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has a lidlet.
A lidlet has a peglet.
You can ask whether a trunklet is tipsy.  On its own: sometimes  Slip: 1 in 100
You can feel whether a lidlet is wonky.  On its own: sometimes
A peglet may be sprung without showing it.  On its own: rarely
A lidlet may be dented without showing it.  On its own: rarely
You can see which hue a lidlet has: reddish, greenish, bluish, greyish.  Usually: bluish
You can measure how much a lidlet is worn, in mm, from 5 to 60.
A lidlet counts as sticky-ish when it is worn at least 55 mm.
If a peglet is sprung then its lidlet is in 16 of 20 cases sticky-ish.  From: house
If a peglet is sprung and it is sprung then its lidlet is usually sticky-ish unless its trunklet is tipsy.  From: house
If a lidlet is not greyish and it is sticky-ish and its hue is reddish then it is often wonky unless its hue is either bluish or greyish.  From: house
If a lidlet is not reddish or it is dented then its trunklet is often tipsy.  From: house
order: trunklet
found:
found: lidlet 1 is worn 23 mm; lidlet 1 is greenish; lidlet 1 is certainly not sticky-ish
found: lidlet 1 is worn 27 mm; peglet 1 of lidlet 1 does not look sprung
found: trunklet is tipsy
found: lidlet 1 is wonky; lidlet 1 is worn 41 mm
"""

PACKS["drawn 170"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has 2 lidlets.
A lidlet has a peglet.
A trunklet may be sprung without showing it.  On its own: sometimes
You can feel whether a lidlet is bowed.
A peglet may be sour without showing it.
You can feel whether a lidlet is gritty.  Slip: 5 in 100
You can see which hue a peglet has: reddish, greenish, bluish.  Usually: reddish
You can measure how wide a trunklet is split, in %, from 6 to 60.  On its own: rarely
A trunklet counts as hollow-ish when it is split at least 17 % wide.  On its own: in 19 of 100 cases
A trunklet counts as torpid when it is split at least 21 % wide.  On its own: in 12 of 100 cases
If a trunklet is torpid then it is nearly always sprung.  From: house
If a lidlet is gritty or its trunklet is torpid or no peglet is sour then it is always bowed unless its trunklet is torpid.  From: house
If a trunklet is hollow-ish then its lidlets are usually bowed unless it is torpid.  From: house
If a trunklet is not torpid or it is torpid then its lidlets are often gritty.  From: house
If a peglet is not reddish then its lidlet is by definition gritty.  From: house
order: trunklet
found:
found: trunklet looks torpid
found: lidlet 2 is certainly bowed; trunklet does not look torpid; trunklet is hollow-ish
found: peglet 1 of lidlet 1 is reddish; trunklet is split 17 % wide; peglet 1 of lidlet 2 is reddish
found: trunklet is certainly hollow-ish; lidlet 2 is not bowed; trunklet is split 7 % wide; peglet 1 of lidlet 2 is reddish
"""

PACKS["drawn 179"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has a lidlet.
A lidlet has 0 to 1 proplings (usually 1).
You can count the proplings of a lidlet.
You can see whether a lidlet is racky.
You can see whether a trunklet is sour.  On its own: rarely  Slip: 2 in 100
You can see whether a trunklet is foxed.  On its own: sometimes  Slip: 1 in 100
You can ask whether a lidlet is hollow-ish.  On its own: rarely
You can see which hue a trunklet has: reddish, greenish.
If a lidlet has a propling or its trunklet is foxed then it is always hollow-ish.  From: house
If a trunklet is foxed then it is usually sour.  From: house
If a trunklet is not greenish and it is not reddish then its lidlets are often racky.  From: house
If a lidlet is hollow-ish and it has fewer than 2 proplings then its trunklet is always sour.  From: house
order: trunklet
found:
found: lidlet 1 has no proplings
found: lidlet 1 has no proplings; lidlet 1 is not hollow-ish; trunklet is reddish
found: trunklet is certainly not sour; lidlet 1 has 1 proplings
found: lidlet 1 is not hollow-ish; trunklet is reddish
"""

PACKS["drawn 188"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has a lidlet.
A lidlet has 2 peglets (left, right).
A trunklet may be lopped without showing it.  On its own: rarely
You can ask whether a lidlet is sour.
You can hear whether a trunklet is bowed.  On its own: rarely
You can see whether a peglet is flabby.  On its own: in 49 of 100 cases
If a peglet is not flabby or it is flabby or it is not flabby then its lidlet is nearly always sour unless its trunklet is lopped.  From: house
A trunklet can be lopped only if any of the peglets of its lidlets is flabby.  From: house
order: trunklet
found:
found: trunklet does not look bowed
found: lidlet 1 is certainly sour; trunklet does not look bowed; trunklet does not look lopped
found: peglet 2 of lidlet 1 is certainly flabby; trunklet looks lopped; lidlet 1 is sour
found: trunklet is lopped; peglet 1 of lidlet 1 looks flabby; peglet 2 of lidlet 1 is flabby
"""

PACKS["drawn 199"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has 2 lidlets.
A lidlet has a peglet.
A trunklet may be torpid without showing it.  On its own: rarely
A lidlet may be lopped without showing it.  On its own: in 2 of 100 cases
A trunklet may be sticky-ish without showing it.  On its own: rarely
You can see whether a trunklet is flabby.  On its own: sometimes  Slip: 2 in 100
You can see whether a trunklet is racky.  On its own: in 35 of 100 cases
You can hear whether a peglet is gritty.  On its own: sometimes
You can feel whether a lidlet is hollow-ish.  On its own: in 7 of 100 cases
You can see which hue a lidlet has: reddish, greenish, bluish.
If a lidlet is lopped or its trunklet is torpid then its trunklet is usually racky.  From: house
If a trunklet is sticky-ish then it is usually racky unless it is torpid.  From: house
If a lidlet is lopped then its trunklet is usually flabby.  From: house
If a trunklet is torpid then it is in 10 of 20 cases flabby unless no lidlet is hollow-ish.  From: house
order: trunklet
found:
found: lidlet 2 is bluish; peglet 1 of lidlet 1 looks gritty; lidlet 1 is reddish
found: lidlet 2 looks lopped; trunklet looks torpid
found: lidlet 2 is certainly hollow-ish; trunklet does not look sticky-ish; trunklet is not racky; trunklet does not look torpid
found: trunklet is not sticky-ish; lidlet 1 is greenish; trunklet is flabby
"""

PACKS["drawn 204"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has a lidlet.
A lidlet has a peglet.
You can feel whether a lidlet is wonky.  On its own: rarely  Slip: 7 in 100
A trunklet may be sticky-ish without showing it.  On its own: rarely
A trunklet may be sprung without showing it.
A trunklet may be tipsy without showing it.  On its own: in 29 of 100 cases
You can ask whether a lidlet is flabby.  On its own: rarely  Slip: 2 in 100
You can see which hue a trunklet has: reddish, greenish, bluish.  Usually: bluish
You can measure how thick a lidlet is, in mm, from 0 to 12.  Reads to: 1.5 mm
A lidlet counts as torpid when it is more than 2 mm thick.  On its own: in 48 of 100 cases
A lidlet counts as bowed when it is at least 3 mm thick.  On its own: in 38 of 100 cases
A lidlet counts as gritty when it is more than 4 mm thick.  On its own: in 35 of 100 cases
If a trunklet is not bluish and it is sprung then it is nearly always sticky-ish unless its hue is reddish.  From: house
If a lidlet is flabby and its trunklet is sprung and its trunklet is not sticky-ish then it is always wonky unless its trunklet is sticky-ish.  From: house
If a lidlet is not wonky then its trunklet is usually tipsy unless it is flabby.  From: house
If a lidlet is bowed, that sometimes means its trunklet is sprung.  From: house
order: trunklet
found:
found: trunklet is sprung; trunklet is bluish
found: lidlet 1 is certainly flabby; lidlet 1 is 2 mm thick
found: trunklet is reddish; lidlet 1 is 6 mm thick; lidlet 1 is not flabby
found: lidlet 1 is 9 mm thick; trunklet is not sticky-ish
"""

PACKS["drawn 211"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has a lidlet.
A lidlet has a peglet.
A lidlet has 0 to 3 proplings (usually 2).
You can count the proplings of a lidlet.
A peglet may be wonky without showing it.  On its own: sometimes
You can ask whether a trunklet is pallid.  On its own: in 31 of 100 cases  Slip: 1 in 100
You can hear whether a trunklet is gritty.  On its own: sometimes
A peglet may be sticky-ish without showing it.  On its own: rarely
If a lidlet has at least 2 proplings then its peglets are sometimes sticky-ish.  From: house
If a lidlet has fewer than 2 proplings or it has no proplings or no peglet is wonky then its peglets are usually sticky-ish unless its trunklet is pallid.  From: house
If a trunklet is pallid or any of the peglets of its lidlets is wonky then it is often gritty unless any of the peglets of its lidlets is sticky-ish.  From: house
If a lidlet has exactly 1 propling then its trunklet is in 2 of 20 cases pallid unless it has at least 2 proplings.  From: house
If a peglet is wonky or its trunklet is pallid then it is often sticky-ish.  From: house
order: trunklet
found:
found: trunklet is certainly pallid
found: peglet 1 of lidlet 1 is wonky
found: trunklet is not pallid
found: lidlet 1 has no proplings
"""

PACKS["drawn 220"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has a lidlet.
A lidlet has 2 peglets (left, right).
A trunklet may be racky without showing it.
You can see whether a lidlet is dented.  On its own: sometimes
A lidlet may be wonky without showing it.  On its own: sometimes
You can see whether a trunklet is sour.  Slip: 9 in 100
A lidlet may be creaky without showing it.  On its own: rarely
You can see which hue a trunklet has: reddish, greenish, bluish.  Usually: greenish
You can measure how thick a peglet is, in mm, from 0 to 12.  Reads to: 0.5 mm
A peglet counts as flabby when it is at least 2 mm thick.  On its own: in 20 of 100 cases
A peglet counts as gritty when it is at least 5 mm thick.  On its own: in 16 of 100 cases
If a peglet is between 1 and 5 mm thick and its trunklet is racky then its lidlet is by definition dented.  From: house
If a lidlet is wonky then it is usually dented.  From: house
If a peglet is gritty then its lidlet is often wonky unless it is less than 8 mm thick.  From: house
If a trunklet is not reddish then it is in 8 of 20 cases racky.  From: house
If a peglet is between 1 and 5 mm thick then its lidlet is always wonky.  From: house
If a peglet is between 5 and 10 mm thick or its trunklet is sour then its lidlet is usually dented.  From: house
If a lidlet is creaky and its trunklet is racky then its peglets are by definition gritty unless its trunklet is sour.  From: house
order: trunklet
found:
found: lidlet 1 is dented; trunklet is sour
found: peglet 1 of lidlet 1 is gritty
found: peglet 2 of lidlet 1 is 11 mm thick; trunklet looks racky; trunklet is sour
found: peglet 1 of lidlet 1 does not look gritty; trunklet is racky; peglet 2 of lidlet 1 is 5 mm thick
"""

PACKS["drawn 231"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has 2 lidlets.
A trunklet may be sprung without showing it.  On its own: rarely
You can see whether a lidlet is sour.  On its own: in 44 of 100 cases  Slip: 0 in 100
You can see whether a trunklet is askew.  On its own: rarely
A trunklet may be dented without showing it.  On its own: rarely
You can see which hue a lidlet has: reddish, greenish, bluish, greyish.  Slip: 0 in 100  Usually: bluish
You can measure how thick a trunklet is, in mm, from 0 to 12.  Reads to: 0.5 mm  On its own: rarely
A trunklet counts as mossy when it is at least 6 mm thick.  On its own: in 41 of 100 cases
If a lidlet is not reddish then it is in 2 of 20 cases sour.  From: house
If a trunklet is less than 10 mm thick then it is often sprung unless it is between 3 and 6 mm thick.  From: house
If a lidlet is not greyish then its trunklet is in 17 of 20 cases sprung unless its trunklet is dented.  From: house
If a trunklet is askew or at least two lidlets are sour or it is dented then it is often sprung.  From: house
If a lidlet is not reddish and its hue is either reddish or greenish then its trunklet is in 15 of 20 cases askew unless it is not greenish.  From: house
If a trunklet is between 2 and 3 mm thick then its lidlets are often sour.  From: house
order: trunklet
found:
found: trunklet is dented; lidlet 2 is sour; trunklet looks askew; trunklet is 6 mm thick
found: trunklet is 3 mm thick
found: lidlet 1 is bluish
found: trunklet is 3 mm thick; lidlet 2 is reddish; trunklet is sprung
"""

PACKS["drawn 1002"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has a lidlet.
A lidlet has a peglet.
A lidlet may be hollow-ish without showing it.  On its own: rarely
A trunklet may be racky without showing it.  On its own: rarely
You can see whether a peglet is sticky-ish.  Slip: 1 in 100
You can ask whether a lidlet is bowed.  On its own: in 5 of 100 cases
You can see whether a trunklet is sprung.  On its own: in 49 of 100 cases  Slip: 1 in 100
You can see which hue a lidlet has: reddish, greenish.
If a lidlet is not reddish and its hue is reddish and it is not greenish then its peglets are in 8 of 20 cases sticky-ish.  From: house
If a trunklet is racky or it is racky or any of its lidlets is bowed then it is often sprung unless it is not racky.  From: house
If a peglet is sticky-ish then its lidlet is nearly always hollow-ish unless its lidlet is bowed.  From: house
order: trunklet
found:
found: lidlet 1 is not bowed; trunklet is racky; lidlet 1 is greenish; lidlet 1 is hollow-ish
found: lidlet 1 is reddish; trunklet is not racky
found: peglet 1 of lidlet 1 looks sticky-ish; trunklet is not sprung; lidlet 1 looks hollow-ish
found: trunklet looks sprung
"""

PACKS["drawn 1011"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has 2 lidlets.
A lidlet has a peglet.
A lidlet has 0 to 2 proplings (usually 2).
You can count the proplings of a lidlet.  On its own: in 15 of 100 cases
You can hear whether a trunklet is mossy.  On its own: sometimes  Slip: 1 in 100
You can hear whether a lidlet is foxed.  On its own: sometimes
A trunklet may be racky without showing it.  On its own: rarely
You can see whether a lidlet is bowed.  On its own: in 33 of 100 cases
You can hear whether a trunklet is tipsy.  On its own: sometimes  Slip: 2 in 100
You can feel whether a trunklet is sour.  On its own: rarely
You can hear whether a lidlet is sprung.
You can measure how thick a trunklet is, in mm, from 0 to 12.  Reads to: 1.5 mm  On its own: rarely
A trunklet counts as hollow-ish when it is less than 9 mm thick.  On its own: in 50 of 100 cases
A trunklet counts as askew when it is at most 8 mm thick.  On its own: in 47 of 100 cases
A trunklet counts as wonky when it is less than 2 mm thick.  On its own: in 41 of 100 cases
A trunklet counts as gritty when it is at most 1 mm thick.  On its own: in 6 of 100 cases
If a trunklet is racky or it is not racky then it is in 10 of 20 cases askew.  From: house
If a lidlet is foxed then its trunklet is by definition racky.  From: house
If a lidlet has exactly 1 propling then its trunklet is often sour.  From: house
A lidlet can be sprung only if it is not foxed.  From: house
order: trunklet
found:
found: trunklet is not mossy
found: trunklet is not mossy; lidlet 1 is certainly not foxed; trunklet looks tipsy
found: trunklet is askew
found: trunklet does not look gritty; trunklet is 3 mm thick
"""

PACKS["drawn 1015"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has 2 lidlets.
A trunklet may be foxed without showing it.  On its own: sometimes
You can see whether a lidlet is dented.  On its own: in 17 of 100 cases  Slip: 4 in 100
A lidlet may be racky without showing it.  On its own: sometimes
You can see whether a lidlet is askew.  On its own: sometimes
A lidlet may be torpid without showing it.
You can see which hue a trunklet has: reddish, greenish.  Usually: reddish
You can measure how wide a lidlet is split, in mm, from 0 to 12.  Reads to: 1.5 mm  On its own: in 9 of 100 cases
A lidlet counts as sprung when it is split at least 11 mm wide.  On its own: in 47 of 100 cases
If a trunklet is not reddish then its lidlets are often torpid.  From: house
If a lidlet is dented or it is dented then it is often askew.  From: house
If a lidlet is askew and its trunklet is foxed and it is torpid then it is often sprung.  From: house
If a trunklet is not reddish then its lidlets are by definition racky.  From: house
If a trunklet is not reddish then it is in 18 of 20 cases foxed.  From: house
If a lidlet is dented and it is dented then it is often torpid unless it is dented.  From: house
If a lidlet is torpid and it is askew then its trunklet is sometimes foxed.  From: house
If a lidlet is sprung, that sometimes means it is torpid.  From: house
order: trunklet
found:
found: lidlet 1 is certainly not askew; lidlet 1 does not look dented; lidlet 2 is sprung; trunklet is greenish
found: lidlet 1 is torpid; lidlet 1 is certainly dented
found: trunklet is greenish; lidlet 2 does not look dented; trunklet is foxed
found: lidlet 2 is not racky; trunklet is foxed
"""

PACKS["drawn 1018"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has 2 lidlets.
A lidlet has a peglet.
A peglet may be creaky without showing it.  On its own: in 10 of 100 cases
You can feel whether a lidlet is sour.  On its own: rarely  Slip: 9 in 100
A lidlet may be sprung without showing it.
You can see whether a lidlet is pallid.
You can see which hue a peglet has: reddish, greenish.
You can measure how thick a trunklet is, in mm, from 5 to 60.  On its own: in 11 of 100 cases
A trunklet counts as flabby when it is at most 58 mm thick.
A trunklet counts as dented when it is less than 46 mm thick.
If a lidlet is pallid then it is in 16 of 20 cases sprung.  From: house
If a lidlet is sour then its peglets are often creaky unless it is sour.  From: house
If a peglet is not greenish and its hue is greenish then it is often creaky unless its hue is greenish.  From: house
If a lidlet is sour then its peglets are sometimes creaky.  From: house
If a peglet is not reddish then it is in 10 of 20 cases creaky unless its lidlet is sprung.  From: house
If a peglet is not greenish or its hue is reddish then it is nearly always creaky unless its lidlet is pallid.  From: house
If a lidlet is sour then it is often sprung unless it is not pallid.  From: house
order: trunklet
found:
found: lidlet 2 is certainly sour; peglet 1 of lidlet 1 is reddish; lidlet 1 is not sour
found: peglet 1 of lidlet 2 looks creaky
found: peglet 1 of lidlet 1 is creaky; lidlet 1 is certainly not sour
found: peglet 1 of lidlet 2 does not look creaky; lidlet 1 does not look sprung; lidlet 1 is not sour
"""

PACKS["drawn 1021"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has a lidlet.
A lidlet has 2 peglets (left, right).
A peglet may be pallid without showing it.  On its own: in 23 of 100 cases
You can hear whether a trunklet is wonky.  On its own: in 24 of 100 cases  Slip: 7 in 100
You can see whether a lidlet is foxed.  On its own: in 10 of 100 cases
A trunklet may be sprung without showing it.  On its own: rarely
You can ask whether a trunklet is askew.  Slip: 7 in 100
You can see which hue a peglet has: reddish, greenish, bluish.  Slip: 9 in 100
You can measure how much a lidlet is worn, in mm, from 0 to 12.  Reads to: 0.5 mm
A lidlet counts as gritty when it is worn at most 6 mm.  On its own: in 40 of 100 cases
If a lidlet is worn between 1 and 4 mm then its trunklet is in 1 of 20 cases wonky unless all of its peglets are pallid.  From: house
If a trunklet is askew then its lidlets are always foxed.  From: house
If a peglet is not greenish and its hue is bluish then its lidlet is often gritty.  From: house
If a trunklet is askew then its lidlets are often gritty unless it is askew.  From: house
If a peglet is not reddish or its hue is reddish then its lidlet is nearly always gritty.  From: house
If a trunklet is not sprung then its lidlets are often foxed.  From: house
If a peglet is not greenish or its hue is greenish then its lidlet is usually foxed.  From: house
order: trunklet
found:
found: lidlet 1 is certainly not foxed; peglet 2 of lidlet 1 is reddish
found: trunklet does not look wonky; peglet 1 of lidlet 1 is greenish
found: trunklet is sprung; peglet 2 of lidlet 1 is pallid
found: lidlet 1 looks gritty
"""

PACKS["drawn 1025"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has a lidlet.
A lidlet has 0 to 3 proplings (usually 1).
You can count the proplings of a lidlet.
A trunklet may be dented without showing it.
A trunklet may be sprung without showing it.  On its own: rarely
A lidlet may be sticky-ish without showing it.  On its own: sometimes
You can feel whether a lidlet is mossy.  Slip: 6 in 100
You can measure how thick a trunklet is, in %, from 6 to 60.  Reads to: 1 %  On its own: sometimes
A trunklet counts as gritty when it is at least 8 % thick.  On its own: in 50 of 100 cases
A trunklet counts as bowed when it is at least 18 % thick.  On its own: in 33 of 100 cases
A trunklet counts as flabby when it is more than 43 % thick.  On its own: in 17 of 100 cases
If a lidlet is mossy or it is sticky-ish then its trunklet is often dented unless its trunklet is sprung.  From: house
If a trunklet is sprung then it is nearly always bowed.  From: house
If a trunklet is sprung then it is usually dented unless no lidlet is sticky-ish.  From: house
If a lidlet has fewer than 2 proplings then its trunklet is often dented.  From: house
A lidlet can be mossy only if it has at least 2 proplings.  From: house
order: trunklet
found:
found: trunklet is certainly bowed; lidlet 1 has 1 proplings; lidlet 1 is certainly mossy
found: trunklet looks sprung
found: lidlet 1 is sticky-ish
found: trunklet does not look sprung; trunklet is 32 % thick; trunklet is not dented
"""

PACKS["drawn 1032"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has 2 lidlets.
A lidlet has a peglet.
You can see whether a peglet is gritty.  On its own: rarely  Slip: 4 in 100
A trunklet may be sprung without showing it.  On its own: in 3 of 100 cases
You can ask whether a trunklet is askew.  On its own: sometimes
A lidlet may be sour without showing it.  On its own: rarely
You can ask whether a peglet is hollow-ish.  On its own: in 33 of 100 cases  Slip: 0 in 100
You can see whether a peglet is flabby.  On its own: in 24 of 100 cases  Slip: 6 in 100
You can see which hue a peglet has: reddish, greenish.  Slip: 2 in 100
If a peglet is hollow-ish and it is not gritty then it is nearly always flabby.  From: house
If a trunklet is sprung or any of the peglets of its lidlets is gritty then its lidlets are often sour.  From: house
If a peglet is gritty or it is gritty or its trunklet is sprung then it is nearly always flabby unless it is not reddish.  From: house
If a peglet is flabby, that sometimes means its lidlet is sour.  From: house
order: trunklet
found:
found: trunklet looks sprung; peglet 1 of lidlet 1 is reddish
found: trunklet is askew; peglet 1 of lidlet 2 is reddish; peglet 1 of lidlet 2 is certainly not gritty; trunklet is sprung
found: peglet 1 of lidlet 2 is gritty
found: trunklet is sprung
"""

PACKS["drawn 1039"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has a lidlet.
A lidlet has a peglet.
A peglet may be tipsy without showing it.  On its own: rarely
A lidlet may be sour without showing it.  On its own: sometimes
You can hear whether a lidlet is dented.  On its own: sometimes
You can see whether a peglet is mossy.  Slip: 3 in 100
You can see which hue a peglet has: reddish, greenish, bluish.  Slip: 1 in 100  Usually: bluish
If a lidlet is not sour and every one of its peglets is mossy then its peglets are often tipsy unless it is not sour.  From: house
If a lidlet is dented, that in 4 of 10 cases means it is sour.  From: house
order: trunklet
found:
found: peglet 1 of lidlet 1 is tipsy
found: peglet 1 of lidlet 1 is certainly not mossy; peglet 1 of lidlet 1 looks tipsy; lidlet 1 is sour
found: peglet 1 of lidlet 1 is certainly mossy; lidlet 1 is dented; peglet 1 of lidlet 1 is greenish
found: peglet 1 of lidlet 1 is tipsy; lidlet 1 looks dented
"""

PACKS["drawn 1042"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has a lidlet.
A lidlet has 0 to 3 proplings (usually 2).
You can count the proplings of a lidlet.  On its own: in 16 of 100 cases
You can ask whether a trunklet is torpid.  On its own: sometimes  Slip: 0 in 100
You can feel whether a lidlet is gritty.  On its own: in 22 of 100 cases
You can see whether a lidlet is sticky-ish.  On its own: sometimes  Slip: 0 in 100
You can feel whether a trunklet is sour.  On its own: rarely  Slip: 8 in 100
You can feel whether a trunklet is bowed.  On its own: sometimes
You can see which hue a trunklet has: reddish, greenish.  Usually: greenish
You can measure how wide a lidlet is split, in mm, from 0 to 12.  Reads to: 1 mm  On its own: sometimes
A lidlet counts as foxed when it is split at least 3 mm wide.
A lidlet counts as sprung when it is split more than 5 mm wide.  On its own: in 22 of 100 cases
If a trunklet is not greenish then it is in 8 of 20 cases sour unless its hue is greenish.  From: house
If a lidlet has at least 2 proplings then its trunklet is often torpid.  From: house
If a lidlet is gritty then it is sometimes sticky-ish unless its trunklet is not torpid.  From: house
If a lidlet has a propling then its trunklet is in 12 of 20 cases bowed.  From: house
If a lidlet has a propling then its trunklet is usually sour unless it is gritty.  From: house
If a lidlet is gritty then its trunklet is in 7 of 20 cases torpid unless it has at least 2 proplings.  From: house
If a lidlet has at least 2 proplings and it has exactly 1 propling then its trunklet is usually torpid.  From: house
order: trunklet
found:
found: lidlet 1 is certainly sticky-ish; trunklet is sour
found: lidlet 1 is not sticky-ish; lidlet 1 is certainly sprung
found: trunklet looks bowed; lidlet 1 does not look gritty
found: lidlet 1 is split 1 mm wide; lidlet 1 is not sticky-ish
"""

PACKS["drawn 1047"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has 2 lidlets.
A lidlet has 0 to 4 proplings (usually 3).
You can count the proplings of a lidlet.
A lidlet may be flabby without showing it.  On its own: in 17 of 100 cases
A lidlet may be sour without showing it.  On its own: sometimes
A trunklet may be hollow-ish without showing it.  On its own: sometimes
You can see whether a lidlet is wonky.  On its own: in 42 of 100 cases
You can ask whether a lidlet is tipsy.  On its own: rarely
You can see which hue a trunklet has: reddish, greenish.  Usually: reddish
If a trunklet is not reddish or it is not reddish or no lidlet is wonky then its lidlets are sometimes sour unless all of its lidlets are tipsy.  From: house
If a trunklet is not reddish and all of its lidlets are wonky then it is always hollow-ish unless it is not reddish.  From: house
If a lidlet is sour then it is always flabby.  From: house
If a trunklet is not reddish and every one of its lidlets is tipsy then its lidlets are usually flabby unless no lidlet is wonky.  From: house
If a trunklet is not greenish then its lidlets are sometimes flabby.  From: house
If a lidlet has exactly 1 propling then its trunklet is by definition hollow-ish.  From: house
If a trunklet is not greenish or fewer than 3 lidlets are wonky or fewer than 3 lidlets are sour then its lidlets are in 13 of 20 cases flabby unless all of its lidlets are tipsy.  From: house
A lidlet can be sour only if it has fewer than 2 proplings.  From: house
order: trunklet
found:
found: lidlet 2 is not wonky; lidlet 1 is wonky; lidlet 1 has no proplings
found: trunklet is greenish; lidlet 2 is wonky
found: lidlet 2 is certainly wonky
found: lidlet 2 is not tipsy; lidlet 1 is certainly tipsy
"""

PACKS["drawn 1058"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has a lidlet.
A lidlet has a peglet.
A lidlet may be pallid without showing it.
A peglet may be sticky-ish without showing it.  On its own: rarely
You can feel whether a lidlet is hollow-ish.  Slip: 4 in 100
You can ask whether a peglet is creaky.  On its own: rarely
You can measure how much a peglet is worn, in %, from 6 to 60.  On its own: in 22 of 100 cases
A peglet counts as lopped when it is worn more than 13 %.  On its own: in 43 of 100 cases
A peglet counts as tipsy when it is worn more than 25 %.  On its own: in 40 of 100 cases
A peglet counts as dented when it is worn at least 27 %.  On its own: in 26 of 100 cases
A peglet counts as flabby when it is worn more than 57 %.  On its own: in 13 of 100 cases
If a peglet is sticky-ish or it is worn at most 11 % or its lidlet is not pallid then its lidlet is nearly always hollow-ish.  From: house
If a peglet is sticky-ish then it is sometimes lopped.  From: house
If a peglet is creaky, that in 4 of 10 cases means it is sticky-ish.  From: house
A lidlet can be hollow-ish only if it is pallid.  From: house
order: trunklet
found:
found: peglet 1 of lidlet 1 is worn 48 %; lidlet 1 is certainly not hollow-ish; peglet 1 of lidlet 1 does not look lopped
found: peglet 1 of lidlet 1 looks flabby; peglet 1 of lidlet 1 is worn 26 %
found: lidlet 1 is certainly not hollow-ish; lidlet 1 looks pallid
found: peglet 1 of lidlet 1 is creaky
"""

PACKS["drawn 1085"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has 2 lidlets.
A lidlet has a peglet.
You can ask whether a trunklet is creaky.  On its own: rarely
You can feel whether a trunklet is pallid.  On its own: sometimes  Slip: 0 in 100
You can ask whether a trunklet is sprung.
You can see whether a peglet is bowed.  On its own: sometimes
A peglet may be tipsy without showing it.  On its own: rarely
If a trunklet is pallid and it is pallid and any of the peglets of its lidlets is tipsy then it is usually creaky.  From: house
If a trunklet is pallid or any of the peglets of its lidlets is bowed then it is in 6 of 20 cases creaky.  From: house
order: trunklet
found:
found: trunklet is certainly sprung
found: trunklet is certainly creaky; peglet 1 of lidlet 2 is tipsy
found: trunklet is certainly not creaky; peglet 1 of lidlet 2 is tipsy; trunklet looks pallid
found: peglet 1 of lidlet 1 is tipsy; peglet 1 of lidlet 2 does not look tipsy; trunklet is creaky
"""

PACKS["drawn 1089"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has 2 lidlets.
A lidlet has a peglet.
You can feel whether a trunklet is mossy.  On its own: in 44 of 100 cases
A trunklet may be sprung without showing it.
You can feel whether a trunklet is hollow-ish.
You can hear whether a trunklet is lopped.  On its own: sometimes
You can see which hue a peglet has: reddish, greenish.
You can measure how much a peglet is worn, in mm, from 0 to 15.  On its own: sometimes
A peglet counts as dented when it is worn less than 12 mm.  On its own: in 46 of 100 cases
If a trunklet is sprung and it is sprung then it is usually mossy.  From: house
If a trunklet is sprung then it is usually hollow-ish.  From: house
order: trunklet
found:
found: peglet 1 of lidlet 2 is reddish
found: trunklet does not look mossy; trunklet is certainly lopped; peglet 1 of lidlet 1 is worn 0 mm; trunklet is hollow-ish
found: peglet 1 of lidlet 2 is reddish; trunklet is certainly lopped; peglet 1 of lidlet 2 is worn 0 mm; trunklet looks sprung
found: peglet 1 of lidlet 1 is greenish
"""

PACKS["drawn 1094"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has 2 lidlets.
A lidlet has a peglet.
You can see whether a trunklet is sticky-ish.  Slip: 1 in 100
You can see whether a trunklet is tipsy.  Slip: 9 in 100
A lidlet may be pallid without showing it.  On its own: in 15 of 100 cases
A peglet may be gritty without showing it.  On its own: in 19 of 100 cases
A peglet may be racky without showing it.  On its own: sometimes
You can see which hue a peglet has: reddish, greenish.  Slip: 6 in 100
You can measure how wide a lidlet is split, in %, from 6 to 60.  Reads to: 1 %  On its own: rarely
A lidlet counts as askew when it is split more than 28 % wide.  On its own: in 35 of 100 cases
A lidlet counts as lopped when it is split at least 46 % wide.  On its own: in 17 of 100 cases
A lidlet counts as mossy when it is split at least 49 % wide.  On its own: in 3 of 100 cases
If a lidlet is split between 49 and 53 % wide and at least one peglet is racky then its peglets are sometimes gritty.  From: house
If a trunklet is tipsy and no lidlet is askew then it is in 6 of 20 cases sticky-ish.  From: house
If a peglet is racky then it is in 6 of 20 cases gritty.  From: house
If a lidlet is pallid or its trunklet is tipsy or it is not pallid then it is sometimes askew unless it is pallid.  From: house
If a lidlet is pallid and it is pallid then its trunklet is always tipsy.  From: house
If a trunklet is tipsy and any of its lidlets is pallid then it is often sticky-ish.  From: house
order: trunklet
found:
found: trunklet is certainly not tipsy; lidlet 2 is split 11 % wide; peglet 1 of lidlet 1 looks racky
found: lidlet 2 is not askew; peglet 1 of lidlet 1 is reddish; trunklet looks tipsy
found: peglet 1 of lidlet 1 is not gritty; lidlet 1 is split 58 % wide
found: lidlet 1 is split 36 % wide; lidlet 2 does not look pallid; lidlet 2 is split 29 % wide; peglet 1 of lidlet 1 does not look gritty
"""

PACKS["drawn 1097"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has 2 lidlets.
A lidlet has a peglet.
A lidlet has 0 to 4 proplings (usually 4).
You can count the proplings of a lidlet.  On its own: in 19 of 100 cases
You can hear whether a peglet is pallid.  On its own: rarely  Slip: 7 in 100
You can ask whether a lidlet is askew.
A lidlet may be sticky-ish without showing it.  On its own: in 14 of 100 cases
You can hear whether a lidlet is racky.  On its own: in 22 of 100 cases
You can measure how wide a lidlet is split, in mm, from 0 to 12.
A lidlet counts as hollow-ish when it is split more than 5 mm wide.
A lidlet counts as foxed when it is split more than 6 mm wide.
A lidlet counts as sour when it is split at least 9 mm wide.  On its own: in 19 of 100 cases
A lidlet counts as creaky when it is split more than 11 mm wide.  On its own: in 18 of 100 cases
If a lidlet is racky then it is nearly always foxed.  From: house
If a peglet is not pallid then its lidlet is nearly always sticky-ish unless its lidlet is racky.  From: house
order: trunklet
found:
found: lidlet 2 is split 7 mm wide; peglet 1 of lidlet 1 does not look pallid; lidlet 1 has 1 proplings
found: lidlet 2 is split 4 mm wide; lidlet 2 is askew; lidlet 2 is creaky
found: lidlet 2 is askew; lidlet 1 is certainly sour
found: lidlet 2 is certainly not foxed
"""

PACKS["drawn 1109"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has 2 lidlets.
A lidlet has a peglet.
A lidlet has 0 to 1 proplings (usually 0).
You can count the proplings of a lidlet.
You can ask whether a trunklet is askew.  On its own: rarely
You can see whether a peglet is flabby.  Slip: 9 in 100
You can hear whether a lidlet is pallid.  Slip: 3 in 100
A peglet may be tipsy without showing it.  On its own: sometimes
You can measure how much a lidlet is worn, in mm, from 5 to 60.
A lidlet counts as lopped when it is worn at most 45 mm.  On its own: in 44 of 100 cases
A lidlet counts as sticky-ish when it is worn at most 43 mm.  On its own: in 39 of 100 cases
A lidlet counts as sour when it is worn at most 30 mm.
If a lidlet is worn between 11 and 16 mm or it is worn at most 6 mm then its trunklet is by definition askew.  From: house
If a lidlet is worn between 37 and 40 mm then its trunklet is usually askew unless at least one peglet is tipsy.  From: house
If a lidlet is not pallid and at least one peglet is tipsy then its trunklet is usually askew unless any of its peglets is tipsy.  From: house
If a peglet is flabby, that in 4 of 10 cases means it is tipsy.  From: house
order: trunklet
found:
found: peglet 1 of lidlet 1 is certainly flabby
found: lidlet 1 has 1 proplings; peglet 1 of lidlet 1 is not tipsy; lidlet 2 is worn 51 mm; lidlet 1 is worn 35 mm
found: lidlet 2 is not pallid
found: lidlet 1 is worn 14 mm; peglet 1 of lidlet 2 is tipsy; lidlet 2 does not look pallid; lidlet 2 has 1 proplings
"""

PACKS["drawn 1120"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has 2 lidlets.
A lidlet has a peglet.
A lidlet may be lopped without showing it.  On its own: sometimes
You can see whether a lidlet is pallid.  On its own: sometimes
You can see whether a trunklet is gritty.
You can hear whether a peglet is torpid.  On its own: rarely  Slip: 1 in 100
You can see which hue a trunklet has: reddish, greenish, bluish.  Slip: 2 in 100
You can measure how wide a trunklet is split, in mm, from 0 to 15.  Reads to: 1 mm  On its own: sometimes
A trunklet counts as hollow-ish when it is split at least 4 mm wide.  On its own: in 24 of 100 cases
A trunklet counts as dented when it is split at least 8 mm wide.  On its own: in 18 of 100 cases
A trunklet counts as mossy when it is split more than 11 mm wide.
If a trunklet is not bluish then it is by definition gritty unless its hue is either greenish or bluish.  From: house
If a trunklet is not greenish then it is often gritty.  From: house
If a trunklet is gritty and every one of its lidlets is lopped then it is in 19 of 20 cases hollow-ish.  From: house
If a lidlet is pallid then it is always lopped.  From: house
order: trunklet
found:
found: trunklet is certainly mossy; trunklet is split 6 mm wide; trunklet is gritty
found: lidlet 1 is lopped; trunklet looks dented; trunklet does not look mossy
found: lidlet 2 looks lopped; trunklet is split 3 mm wide; trunklet does not look gritty; lidlet 2 is pallid
found: lidlet 1 is not pallid; trunklet is reddish; trunklet is split 11 mm wide
"""

PACKS["drawn 1125"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has 2 lidlets.
You can see whether a trunklet is creaky.  On its own: rarely  Slip: 5 in 100
A trunklet may be wonky without showing it.  On its own: in 20 of 100 cases
You can hear whether a trunklet is sour.  On its own: in 26 of 100 cases
You can ask whether a trunklet is flabby.  On its own: in 16 of 100 cases  Slip: 6 in 100
You can measure how thick a lidlet is, in %, from 6 to 60.  Reads to: 1 %
A lidlet counts as bowed when it is more than 32 % thick.
A lidlet counts as mossy when it is at least 33 % thick.  On its own: in 18 of 100 cases
A lidlet counts as racky when it is more than 38 % thick.
If a lidlet is between 55 and 60 % thick or it is mossy or it is at most 19 % thick then its trunklet is in 13 of 20 cases sour.  From: house
If a trunklet is not wonky then its lidlets are always bowed unless it is flabby.  From: house
If a trunklet is flabby then its lidlets are often mossy.  From: house
If a trunklet is creaky, that usually means it is wonky.  From: house
order: trunklet
found:
found: lidlet 2 is not mossy; trunklet looks wonky
found: lidlet 1 does not look mossy; trunklet does not look wonky; trunklet is not creaky
found: lidlet 2 is 21 % thick; trunklet is flabby
found: lidlet 1 is 16 % thick; trunklet looks wonky; lidlet 2 looks bowed; trunklet is certainly sour
"""

PACKS["drawn 1127"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has a lidlet.
A lidlet has a peglet.
A lidlet has 0 to 4 proplings (usually 4).
You can count the proplings of a lidlet.
A lidlet may be sour without showing it.  On its own: in 46 of 100 cases
A lidlet may be lopped without showing it.  On its own: rarely
You can see whether a lidlet is sticky-ish.  On its own: in 19 of 100 cases
You can hear whether a trunklet is wonky.  On its own: rarely  Slip: 0 in 100
You can ask whether a peglet is bowed.  On its own: rarely
You can feel whether a lidlet is pallid.  On its own: sometimes  Slip: 2 in 100
You can see which hue a trunklet has: reddish, greenish, bluish, greyish.  Slip: 4 in 100
You can measure how thick a trunklet is, in mm, from 5 to 60.  On its own: rarely
A trunklet counts as foxed when it is at least 8 mm thick.  On its own: in 10 of 100 cases
A trunklet counts as dented when it is more than 30 mm thick.  On its own: in 14 of 100 cases
A trunklet counts as torpid when it is at least 44 mm thick.  On its own: in 31 of 100 cases
If a trunklet is between 24 and 29 mm thick and its hue is either reddish or bluish then its lidlets are nearly always sour.  From: house
If a trunklet is at least 7 mm thick or it is between 21 and 26 mm thick then its lidlets are always sour.  From: house
If a trunklet is not greyish or at least one lidlet is lopped then it is in 18 of 20 cases wonky.  From: house
If a lidlet is pallid and all of its peglets are bowed then it is sometimes sour unless it has a propling.  From: house
If a trunklet is between 23 and 28 mm thick then its lidlets are nearly always lopped.  From: house
order: trunklet
found:
found: trunklet is bluish; lidlet 1 is not sour; trunklet is certainly wonky
found: lidlet 1 has 3 proplings; lidlet 1 does not look pallid
found: lidlet 1 is not sticky-ish; peglet 1 of lidlet 1 is bowed; trunklet is not wonky; trunklet is greyish
found: lidlet 1 has no proplings; trunklet is 15 mm thick
"""

PACKS["drawn 1132"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet, propling.
A trunklet has a lidlet.
A lidlet has a peglet.
You can see whether a lidlet is sprung.  On its own: in 18 of 100 cases
You can see whether a peglet is flabby.  On its own: in 16 of 100 cases  Slip: 4 in 100
A trunklet may be dented without showing it.  On its own: in 37 of 100 cases
You can ask whether a trunklet is mossy.  On its own: rarely  Slip: 5 in 100
You can hear whether a trunklet is askew.  On its own: sometimes
A lidlet may be bowed without showing it.
You can measure how wide a peglet is split, in mm, from 0 to 12.  Reads to: 1.5 mm  On its own: rarely
A peglet counts as pallid when it is split more than 2 mm wide.
A peglet counts as lopped when it is split at least 4 mm wide.  On its own: in 44 of 100 cases
A peglet counts as racky when it is split at least 6 mm wide.  On its own: in 39 of 100 cases
A peglet counts as tipsy when it is split more than 10 mm wide.
If a trunklet is mossy then its lidlets are usually bowed unless it is dented.  From: house
If a trunklet is askew or it is askew then it is by definition dented.  From: house
If a trunklet is askew then it is sometimes dented unless it is askew.  From: house
order: trunklet
found:
found: peglet 1 of lidlet 1 is split 10 mm wide; peglet 1 of lidlet 1 is certainly not flabby
found: trunklet looks dented; trunklet is certainly mossy; trunklet is not askew
found: trunklet is not askew; peglet 1 of lidlet 1 is split 6 mm wide
found: lidlet 1 is certainly sprung; trunklet looks dented; trunklet is askew
"""


CHECKS = """
House rules for checks, version 1.
Pieces: trunklet.
Parts: peglet.
A trunklet has 2 peglets.
You can hear whether a trunklet is creaky.  On its own: in 1 of 10 cases  Slip: 2 in 100  Takes: 2 minutes
You can see which tiplet a peglet has: bluntish, gimletty or cuttish.  Slip: 4 in 100  Takes: 3 minutes
You can measure how much a trunklet is worn, in mm, from 0 to 10.  Reads to: 1 mm  On its own: in 3 of 10 cases
A trunklet counts as thinlike when it is worn at least 4 mm.  On its own: in 1 of 10 cases
A trunklet may be racky without showing it.  On its own: in 2 of 10 cases  Missed: 1 hour, risk 3
A peglet may be crumbly without showing it.  On its own: in 15 of 100 cases  Missed: 3 hours, risk 2
If a trunklet is racky then it is usually creaky.  From: house
If a peglet is crumbly then its trunklet is sometimes creaky.  From: house
If a peglet is gimletty then it is often crumbly.  From: house
If a trunklet is racky then it is often thinlike.  From: house
When a trunklet is probably racky then plan to glue the trunklet.  From: house
When a peglet is probably crumbly then plan to fill the peglet.  From: house
Job: glue the trunklet.  Takes: 1 to 3 hours, mostly 2  Mends: a trunklet is racky
Job: tie the trunklet.  Takes: 1 to 2 hours  Mends: a trunklet is racky
Job: fill the peglet.  Takes: 20 minutes to 1 hour, mostly 50 minutes  Mends: a peglet is crumbly
"""

DATES = """
House rules for dates, version 1.
Pieces: trunklet.
Parts: claspet, peglet.
A trunklet has a claspet and a peglet.
You can see whether a claspet is freshish.   On its own: in 1 of 10 cases
You can see whether a trunklet shows bandmarks.  On its own: in 1 of 10 cases
You can see whether a trunklet is nailish.  On its own: in 1 of 10 cases
You can see whether a peglet is turned.  On its own: in 1 of 10 cases
A trunklet may be racky without showing it.  On its own: in 2 of 10 cases  Missed: 1 hour, risk 3
A claspet that is freshish is later than its trunklet.  From: house
A trunklet that shows bandmarks is not earlier than 1834.  From: house  Evidence: strong
A trunklet that shows bandmarks is usually from 1850 to 1885.  From: house  Evidence: weak
A trunklet that is nailish is not later than 1912.  From: house
A peglet that is turned is usually from 1815 to 1850.  From: house
If a trunklet is racky then it is usually nailish.  From: house
When a trunklet is nailish then plan to glue the trunklet.  From: house
When a trunklet is probably racky then plan to tie the trunklet.  From: house
Job: glue the trunklet.  Takes: 1 to 6 hours, mostly 2
Job: tie the trunklet.  Takes: 30 minutes to 2 hours  Mends: a trunklet is racky
"""

BESIDE = """
House rules for dates beside one another, version 1.
Pieces: trunklet.
Parts: claspet, peglet.
A trunklet has a claspet and 3 peglets.
You can see whether a trunklet shows oddments.  On its own: in 1 of 10 cases
You can see whether a peglet is turned.  On its own: in 1 of 10 cases
You can see whether a peglet is freshish.  On its own: in 1 of 10 cases
A trunklet is usually earlier than its claspet.  From: house  Evidence: weak
A trunklet that shows oddments has a later peglet.  From: house  Evidence: strong
A peglet that is turned is usually from 1815 to 1850.  From: house
A peglet that is freshish is later than its trunklet.  From: house
"""


def ask_job(rules, piece, findings, *words):
    """Opens a job, notes the findings, and gives back what a command says as JSON."""
    with tempfile.TemporaryDirectory(prefix="compare-") as folder:
        with open(os.path.join(folder, "a.rules.txt"), "w") as out:
            out.write(rules)
        run("open", piece, "--name", "job", "--in", folder, "--rules", folder)
        for finding in findings:
            run("note", os.path.join(folder, "job"), finding, "--rules", folder)
        said = run(words[0], os.path.join(folder, "job"), "--rules", folder, "--json", *words[1:])[1]
        return json.loads(said)


def show(what, ours, theirs):
    """One line of the comparison of checks, times and dates."""
    print("%-52s guide %.6f, program %.6f, apart %.1e" % (what, ours, theirs, abs(ours - theirs)))


def beta_hours(a, m, b, share):
    """The hours within which a job is done in this share of cases, by adding up small steps."""
    u, steps = (m - a) / (b - a), 100000
    p, q = 1 + 4 * u, 5 - 4 * u
    heights = [((i + 0.5) / steps) ** (p - 1) * (1 - (i + 0.5) / steps) ** (q - 1)
               for i in range(steps)]
    wanted, so_far = share * sum(heights), 0.0
    for i, height in enumerate(heights):
        so_far += height
        if so_far >= wanted:
            return a + (b - a) * (i + 1) / steps


def other_figures():
    """What checks save, how long a job takes, and dates."""
    pack = from_guide.read_pack(CHECKS)
    for findings in ([], ["trunklet looks creaky", "peglet 1 is not crumbly"]):
        job = from_guide.Job(pack, "trunklet", findings)
        root = job.model.root_node
        said = {c["check"]: c["saves_minutes"] for c in
                ask_job(CHECKS, "trunklet", findings, "next", "--most", "60")["checks"]}
        for var, words in (
                ((root, "state", "creaky"), "hear whether the trunklet is creaky"),
                ((root.children["peglet"][1], "choice", "tiplet"), "see which tiplet peglet 2 has"),
                ((root, "measure", ("trunklet", "much", "worn")),
                 "measure how much the trunklet is worn")):
            if words in said:
                show(words, from_guide.savings(job, var), said[words])
    findings = ["claspet is freshish", "trunklet shows bandmarks", "trunklet is nailish",
                "peglet is turned"]
    quote = ask_job(DATES, "trunklet", findings, "quote")["rests_on"]
    for name, share in (("p10", 0.1), ("p50", 0.5), ("p80", 0.8), ("p90", 0.9)):
        show("glue the trunklet, hours, " + name, beta_hours(1, 2, 6, share),
             quote["planned_hours"][name])
    pack = from_guide.read_pack(DATES)
    racky, nailish = from_guide.Job(pack, "trunklet", ["trunklet is nailish"]).chances(
        ["trunklet is racky", "trunklet is nailish"])
    planned = {i["job"]: i["chance"] for i in quote["items"]}
    show("tie the trunklet is called for", racky, planned["tie the trunklet"])
    show("glue the trunklet is called for", nailish, planned["glue the trunklet"])
    date = from_guide.Date(2026)
    when, original = date.work_out(
        [date.least(date.weight("strong", "bound", 1834),
                    date.weight("weak", "usually", 1850, 1885)),
         date.weight("fair", "bound", None, 1912)],
        {"the claspet": ([], 0.05),
         "the peglet": ([date.weight("fair", "usually", 1815, 1850)], 1)})
    said = ask_job(DATES, "trunklet", findings, "date", "--made-in", "britain")
    for row in said["decades"]:
        show("made in the %ds" % row["decade"], when[row["decade"]], row["chance"])
    for part in said["parts"]:
        show(part["part"] + " is original", original[part["part"]], part["original"])
    beside(date)


def beside(date):
    """Dates of parts beside what they are built into."""
    findings = ["trunklet shows oddments", "peglet 2 is turned", "peglet 3 is freshish"]
    turned = date.weight("fair", "usually", 1815, 1850)
    peglets = ["peglet 1", "peglet 2", "peglet 3"]
    when, original = date.work_out(
        [], {"the claspet": ([], 1 / 4), "peglet 1": ([], 1), "peglet 2": ([turned], 1),
             "peglet 3": ([], 1 / 20)}, [(peglets, 1 / 500)])
    said = ask_job(BESIDE, "trunklet", findings, "date", "--made-in", "britain")
    for row in said["decades"]:
        show("beside, made in the %ds" % row["decade"], when[row["decade"]], row["chance"])
    for part in said["parts"]:
        show("beside, %s is original" % part["part"], original[part["part"]], part["original"])


def main():
    """Compares all packs, or those with a word in their name."""
    reader = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    reader.add_argument("-v", action="store_true", help="print every figure")
    reader.add_argument("--every", type=int, default=1, help="of the drawn packs, one in so many")
    reader.add_argument("words", nargs="*", help="only packs with one of these in their name")
    asked = reader.parse_args()
    words = asked.words
    tally = Tally()
    drawn = list(draw.packs().items())[::asked.every]
    packs = [(name, text)
             for name, text in [*PACKS.items(), *forms.PACKS.items(), *drawn]
             if not words or any(word in name for word in words)]
    with futures.ProcessPoolExecutor(os.cpu_count()) as pool:
        compared = [pool.submit(compare_alone, name, text, asked.v)
                    for name, text in packs]
        for one in compared:
            said, part = one.result()
            print(said, end="", flush=True)
            tally.add(part)
    if not words:
        other_figures()
    print("%d packs, %d figures compared, %d more than 2 in 100,000 apart; "
          "the others within %.1e, %d of them within 1e-06; known to be apart: %d more; "
          "not read: %d packs"
          % (tally.packs, tally.compared, len(tally.apart), tally.worst, tally.close, tally.known,
             len(tally.unread)))
    return 1 if tally.apart or tally.unread or not tally.compared else 0


if __name__ == "__main__":
    sys.exit(main())
