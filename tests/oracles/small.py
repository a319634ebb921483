"""Published networks and small rule sets.

The rules are in packs/*.rules.txt. Here their meaning is said again, by hand and
twice: as tables or noisy-OR nodes for the network libraries, and as a program of
rules for ProbLog. Nothing here comes from the program under test.
"""

from network import Network


class Case:
    """One rule set: its states in words, its network and program, and answers."""

    def __init__(self, name, rules, piece, states):
        self.name = name
        self.rules = rules
        self.piece = piece
        self.states = states  # {words: node}
        self.network = Network()
        self.program = ""
        self.slips = {}
        self.sets = []  # (notes, {node: likelihoods})
        self.published = []  # (set, words, chance, digits, source)

    def answers(self, *given):
        """Adds a set of answers (words, how), or (note, {node: likelihoods})."""
        notes, evidence = [], {}
        for words, how in given:
            if isinstance(how, dict):
                notes.append(words)
                evidence.update(how)
                continue
            node = self.states[words]
            slip = self.slips.get(node, 0.01)
            thing, what = words.split(" is ", 1)
            yes = not how.endswith("not")
            against, note = {
                "yes": (slip, f"{thing} is {what}"),
                "not": (slip, f"{thing} is not {what}"),
                "looks": (0.2, f"{thing} looks {what}"),
                "looks not": (0.2, f"{thing} does not look {what}"),
                "certainly": (0.0, f"{thing} is certainly {what}"),
                "certainly not": (0.0, f"{thing} is certainly not {what}"),
            }[how]
            notes.append(note)
            evidence[node] = (against, 1 - against) if yes else (1 - against, against)
        self.sets.append((notes, evidence))
        return len(self.sets) - 1

    def known(self, at, words, chance, digits, source):
        """A chance that is known from elsewhere, to so many digits."""
        self.published.append((at, words, chance, digits, source))


def one_rule_a_row(tables):
    """Published tables as a ProbLog program: one rule for each row."""
    lines = []
    for name, parents, yes in tables:
        for values, chance in yes.items():
            body = ", ".join(
                ("" if value else "\\+") + parent for parent, value in zip(parents, values)
            )
            if chance > 0:
                lines.append(f"{chance}::{name}" + (f" :- {body}." if body else "."))
    return "\n".join(lines)


def tabled(case, tables):
    for name, parents, yes in tables:
        case.network.table(name, parents, yes)
    case.program = one_rule_a_row(tables)


def chest_clinic():
    case = Case(
        "chest clinic",
        "chest-clinic.rules.txt",
        "patient",
        {
            "the patient is back from Asia": "asia",
            "the patient is smoking": "smoke",
            "the patient is tubercular": "tub",
            "the patient is cancerous": "lung",
            "the patient is bronchitic": "bronc",
            "the patient is shadowed": "either",
            "the patient is dark on film": "xray",
            "the patient is breathless": "dysp",
        },
    )
    # Tables: Lauritzen and Spiegelhalter 1988, table 1.
    tabled(
        case,
        [
            ("asia", [], {(): 0.01}),
            ("smoke", [], {(): 0.5}),
            ("tub", ["asia"], {(1,): 0.05, (0,): 0.01}),
            ("lung", ["smoke"], {(1,): 0.1, (0,): 0.01}),
            ("bronc", ["smoke"], {(1,): 0.6, (0,): 0.3}),
            ("either", ["tub", "lung"], {(1, 1): 1, (1, 0): 1, (0, 1): 1, (0, 0): 0}),
            ("xray", ["either"], {(1,): 0.98, (0,): 0.05}),
            ("dysp", ["either", "bronc"], {(1, 1): 0.9, (1, 0): 0.7, (0, 1): 0.8, (0, 0): 0.1}),
        ],
    )
    says = dict(zip(case.states.values(), case.states))
    asia, smoke, dysp, xray = says["asia"], says["smoke"], says["dysp"], says["xray"]
    none = case.answers()
    sums = "sums over the paper's tables, worked by hand: {}"
    case.known(none, says["tub"], 0.0104, 4, sums.format("0.01 0.05 + 0.99 0.01"))
    case.known(none, says["lung"], 0.055, 4, sums.format("0.5 0.1 + 0.5 0.01"))
    case.known(none, says["bronc"], 0.45, 4, sums.format("0.5 0.6 + 0.5 0.3"))
    case.known(none, says["either"], 0.064828, 6, sums.format("1 - 0.9896 0.945"))
    case.known(none, xray, 0.11029004, 8, sums.format("0.98 0.064828 + 0.05 0.935172"))
    at = case.answers((dysp, "certainly"))
    case.known(at, says["bronc"], 0.834, 3, "known figure for this network, from memory")
    at = case.answers((asia, "certainly"), (dysp, "certainly"))
    widely = "printed for this network in the chest clinic example of the gRain package, from memory"
    case.known(at, says["tub"], 0.08775, 5, widely)
    case.known(at, says["lung"], 0.09953, 5, widely)
    case.known(at, says["bronc"], 0.8114, 4, widely)
    case.answers((asia, "certainly"), (dysp, "certainly"), (xray, "certainly"))
    case.answers((asia, "certainly"), (dysp, "certainly"), (xray, "certainly not"))
    case.answers((smoke, "certainly not"), (dysp, "yes"), (xray, "yes"))
    case.answers((dysp, "looks"), (xray, "looks not"))
    case.answers((xray, "certainly"), (dysp, "looks not"), (smoke, "looks"))
    case.answers((says["tub"], "certainly"), (says["either"], "certainly not"))
    return case


def burglary_alarm(name, rules):
    case = Case(
        name,
        rules,
        "home",
        {
            "the home is burgled": "burglary",
            "the home is shaken": "earthquake",
            "the home is ringing": "alarm",
            "the home is phoned by John": "john",
            "the home is phoned by Mary": "mary",
        },
    )
    tabled(
        case,
        [
            ("burglary", [], {(): 0.001}),
            ("earthquake", [], {(): 0.002}),
            (
                "alarm",
                ["burglary", "earthquake"],
                {(1, 1): 0.95, (1, 0): 0.94, (0, 1): 0.29, (0, 0): 0.001},
            ),
            ("john", ["alarm"], {(1,): 0.9, (0,): 0.05}),
            ("mary", ["alarm"], {(1,): 0.7, (0,): 0.01}),
        ],
    )
    burglary, earthquake, alarm, john, mary = case.states
    aima = "Russell and Norvig, Artificial Intelligence, 3rd edition, page 523"
    case.answers()
    at = case.answers((john, "certainly"), (mary, "certainly"))
    case.known(at, burglary, 0.284, 3, aima)
    at = case.answers((alarm, "certainly"))
    by_hand = "worked by hand: 0.001 0.94002 / (0.001 0.94002 + 0.999 0.001578)"
    case.known(at, burglary, 0.00094002 / 0.002516442, 12, by_hand)
    at = case.answers((alarm, "certainly"), (earthquake, "certainly"))
    by_hand = "worked by hand: 0.001 0.95 / (0.001 0.95 + 0.999 0.29)"
    case.known(at, burglary, 0.00095 / 0.29066, 12, by_hand)
    at = case.answers((burglary, "certainly"))
    case.known(at, john, 0.849017, 6, "worked by hand: 0.9 0.94002 + 0.05 0.05998")
    case.answers((john, "certainly"), (mary, "certainly not"))
    case.answers((john, "certainly"), (mary, "looks"))
    case.answers((john, "yes"), (mary, "not"))
    case.answers((john, "looks"), (mary, "looks"))
    return case


def two_reasons():
    case = Case(
        "two reasons",
        "two-reasons.rules.txt",
        "box",
        {"the box is damp": "damp", "the box is racked": "racked", "the box is stiff": "stiff"},
    )
    case.slips["stiff"] = 0.02
    case.network.state("damp", 0.2, [])
    case.network.state("racked", 0.1, [])
    case.network.state("stiff", 0.05, [(0.8, ["is", "damp"]), (0.3, ["is", "racked"])])
    case.program = """
        0.2::damp. 0.1::racked. 0.05::stiff.
        0.8::stiff :- damp.
        0.3::stiff :- racked.
    """
    damp, racked, stiff = case.states
    case.answers()
    at = case.answers((stiff, "certainly"))
    by_hand = "worked by hand: 0.2 (1 - 0.95 0.2 0.97) / (1 - 0.95 0.84 0.97)"
    case.known(at, damp, 0.2 * (1 - 0.95 * 0.2 * 0.97) / (1 - 0.95 * 0.84 * 0.97), 12, by_hand)
    known = case.answers((stiff, "certainly"), (damp, "certainly"))
    by_hand = "worked by hand: 0.1 (1 - 0.95 0.2 0.7) / (1 - 0.95 0.2 0.97)"
    case.known(known, racked, 0.1 * (1 - 0.133) / (1 - 0.1843), 12, by_hand)
    case.answers((stiff, "certainly"), (damp, "certainly not"))
    case.answers((stiff, "certainly not"))
    case.answers((stiff, "yes"))
    case.answers((stiff, "not"))
    case.answers((stiff, "looks"))
    case.answers((stiff, "looks not"), (racked, "looks"))
    return case


def together_and_unless():
    case = Case(
        "together and unless",
        "together-and-unless.rules.txt",
        "table",
        {
            "the table is heavy": "heavy",
            "the table is propped": "propped",
            "the table is mended": "mended",
            "the table is under strain": "strained",
            "the table is loose in the joints": "loose",
            "the table is sagging": "sagging",
        },
    )
    net = case.network
    net.state("heavy", 0.4, [])
    net.state("propped", 0.7, [])
    net.state("mended", 0.15, [])
    net.state(
        "strained",
        0.02,
        [
            (0.8, ["all", [["is", "heavy"], ["is not", "propped"]]]),
            (0.6, ["all", [["is not", "propped"], ["is not", "mended"]]]),
            (0.2, ["all", [["is", "mended"], ["is not", "heavy"]]]),
        ],
    )
    exception = ["not", ["all", [["is", "propped"], ["is not", "mended"]]]]
    net.state(
        "loose",
        0.05,
        [
            (0.8, ["is", "strained"]),
            (0.3, ["all", [["at least", 1, [["is", "mended"], ["is", "heavy"]]], exception]]),
        ],
    )
    either = ["at least", 1, [["is not", "propped"], ["is", "strained"]]]
    net.state(
        "sagging",
        0.01,
        [
            (0.95, ["all", [["is", "strained"], ["is", "heavy"]]]),
            (0.6, ["all", [["is", "loose"], either]]),
        ],
    )
    case.program = r"""
        0.4::heavy. 0.7::propped. 0.15::mended.
        0.02::strained. 0.05::loose. 0.01::sagging.
        0.8::strained :- heavy, \+propped.
        0.6::strained :- \+propped, \+mended.
        0.2::strained :- mended, \+heavy.
        0.8::loose :- strained.
        reason :- mended.
        reason :- heavy.
        excused :- propped, \+mended.
        0.3::loose :- reason, \+excused.
        0.95::sagging :- strained, heavy.
        burden :- \+propped.
        burden :- strained.
        0.6::sagging :- loose, burden.
    """
    heavy, propped, mended, strained, loose, sagging = case.states
    case.answers()
    case.answers((propped, "certainly not"))
    case.answers((sagging, "yes"))
    case.answers((sagging, "yes"), (loose, "certainly"), (propped, "certainly"))
    case.answers((sagging, "certainly"), (propped, "certainly not"), (mended, "certainly"))
    case.answers((loose, "certainly"), (sagging, "not"), (heavy, "looks"))
    case.answers((strained, "certainly"), (mended, "looks not"), (propped, "looks"))
    return case


def meaning():
    case = Case(
        "meaning",
        "meaning.rules.txt",
        "box",
        {"the box is dark": "dark", "the box is shut": "shut", "the box is quiet": "quiet"},
    )
    case.network.state("dark", 0.3, [])
    case.network.state("shut", 0.0, [(1.0, ["is", "dark"])])
    case.network.state("quiet", 0.0, [(0.5, ["is", "shut"])])
    case.program = """
        0.3::dark.
        shut :- dark.
        0.5::quiet :- shut.
    """
    dark, shut, quiet = case.states
    case.answers()
    case.answers((quiet, "certainly"))
    case.answers((quiet, "certainly not"))
    case.answers((quiet, "yes"))
    case.answers((dark, "looks not"), (quiet, "looks"))
    case.answers((shut, "certainly"), (dark, "certainly not"))
    case.answers((quiet, "certainly"), (shut, "certainly not"))
    case.answers((dark, "certainly"), (shut, "certainly not"))
    return case


def parts():
    trays = (1, 2, 3)
    slides = [(t, s) for t in trays for s in (1, 2)]
    states = {
        "the cabinet is kept damp": "damp",
        "the cabinet is noisy": "noisy",
        "the cabinet is jammed": "jammed",
        "the cabinet is even": "even",
    }
    for t in trays:
        for words in ("warped", "waxed", "stiff"):
            states[f"tray {t} is {words}"] = f"{words}({t})"
        states[f"tray {t} is sitting low"] = f"low({t})"
    for t, s in slides:
        states[f"slide {s} of tray {t} is worn"] = f"worn({t},{s})"
    case = Case("parts", "parts.rules.txt", "cabinet with 3 trays", states)
    net = case.network
    net.state("damp", 0.2, [])
    for t, s in slides:
        net.state(f"worn({t},{s})", 0.3, [])
    for t in trays:
        worn = [["is", f"worn({t},{s})"] for s in (1, 2)]
        net.state(f"warped({t})", 0.1, [(0.3, ["is", "damp"])])
        net.state(f"waxed({t})", 0.25, [])
        any_worn = ["all", [["at least", 1, worn], ["is not", f"waxed({t})"]]]
        net.state(f"stiff({t})", 0.02, [(0.6, any_worn), (0.8, ["is", f"warped({t})"])])
        net.state(f"low({t})", 0.03, [(0.8, ["all", worn])])
    net.state("noisy", 0.01, [(0.3, ["is", f"worn({t},{s})"]) for t, s in slides])
    stiff = [["is", f"stiff({t})"] for t in trays]
    net.state("jammed", 0.01, [(0.8, ["at least", 2, stiff])])
    low = [["is", f"low({t})"] for t in trays]
    net.state("even", 0.1, [(0.6, ["not", ["at least", 1, low]])])
    case.program = r"""
        tray(1). tray(2). tray(3).
        slide(T, 1) :- tray(T).
        slide(T, 2) :- tray(T).
        0.2::damp.
        0.3::worn(T, S) :- slide(T, S).
        0.1::warped(T) :- tray(T).
        0.3::warped(T) :- tray(T), damp.
        0.25::waxed(T) :- tray(T).
        0.02::stiff(T) :- tray(T).
        any_worn(T) :- worn(T, _).
        0.6::stiff(T) :- tray(T), any_worn(T), \+waxed(T).
        0.8::stiff(T) :- tray(T), warped(T).
        0.03::low(T) :- tray(T).
        some_whole(T) :- slide(T, S), \+worn(T, S).
        0.8::low(T) :- tray(T), \+some_whole(T).
        0.01::noisy.
        0.3::noisy :- slide(T, S), worn(T, S).
        0.01::jammed.
        two_stiff :- stiff(A), stiff(B), A < B.
        0.8::jammed :- two_stiff.
        0.1::even.
        any_low :- low(_).
        0.6::even :- \+any_low.
    """
    case.answers()
    case.answers(("tray 2 is stiff", "yes"))
    case.answers(("tray 2 is stiff", "certainly"), ("tray 2 is waxed", "certainly"))
    case.answers(("the cabinet is jammed", "yes"), ("tray 1 is stiff", "not"))
    case.answers(("the cabinet is even", "certainly not"), ("the cabinet is noisy", "looks"))
    case.answers(
        ("tray 1 is sitting low", "yes"),
        ("slide 1 of tray 1 is worn", "certainly not"),
        ("the cabinet is kept damp", "looks"),
        ("tray 3 is stiff", "looks not"),
    )
    case.answers(("slide 1 of tray 3 is worn", "certainly"), ("the cabinet is noisy", "not"))
    return case


def marks():
    case = Case(
        "marks",
        "marks.rules.txt",
        "table",
        {
            "the table is under strain": "strained",
            "the table is stiff": "stiff",
            "the runner is dusty": "dusty",
        },
    )
    net = case.network
    # Short of the usual 2 in 0.2; of the numbers below 2, each as likely as the next.
    net.state("none", 0.1, [])
    net.state("few", 1 / 9, [(1.0, ["is", "none"])])
    net.state("strained", 0.05, [(0.8, ["is", "none"]), (0.3, ["is", "few"])])
    # Above 0 in 0.1, and then anywhere up to 15 mm; lengths are counted in 1/40 000 mm.
    over2, over4 = (0.1 * (15 - mark) / (15 + 1 / 40_000) for mark in (2, 4))
    begins = (over2 - over4) / (1 - over4)
    net.state("over4", over4, [])
    net.state("over2", begins, [(1.0, ["is", "over4"])])
    net.add("cut", 3, [], lambda _: [1 / 3, 1 / 3, 1 / 3])  # sawn, planed, moulded
    net.table("sawn", ["cut"], {(0,): 1.0, (1,): 0.0, (2,): 0.0})
    net.table("moulded", ["cut"], {(0,): 0.0, (1,): 0.0, (2,): 1.0})
    net.state("dusty", 0.1, [(0.6, ["at least", 1, [["is", "sawn"], ["is", "moulded"]]])])
    net.state(
        "stiff",
        0.05,
        [(0.6, ["is", "over2"]), (0.8, ["is", "over4"]), (0.3, ["is", "sawn"])],
    )
    case.program = f"""
        0.1::none. {1 / 9}::few. few :- none.
        0.05::strained. 0.8::strained :- none. 0.3::strained :- few.
        {over4}::over4. {begins}::over2. over2 :- over4.
        1/3::cut(sawn); 1/3::cut(planed); 1/3::cut(moulded).
        sawn :- cut(sawn). moulded :- cut(moulded).
        rough :- sawn. rough :- moulded.
        0.1::dusty. 0.6::dusty :- rough.
        0.05::stiff. 0.6::stiff :- over2. 0.8::stiff :- over4. 0.3::stiff :- sawn.
    """
    yes, no = (0.0, 1.0), (1.0, 0.0)
    # A slip falls on each of the other two values alike; "planed" is what no rule names.
    right, slip = 0.99, 0.005
    strained, stiff, dusty = case.states
    case.answers()
    case.answers(("the table has no loper", {"none": yes, "few": yes}))
    case.answers(("the table has 1 loper", {"none": no, "few": yes}))
    case.answers(("the table has 2 lopers", {"none": no, "few": no}), (strained, "looks"))
    case.answers(("the runner is worn 1 mm", {"over2": no, "over4": no}), (stiff, "yes"))
    case.answers(("the runner is worn 3 mm", {"over2": yes, "over4": no}))
    case.answers(("the runner is worn 6 mm", {"over2": yes, "over4": yes}), (dusty, "yes"))
    case.answers(("the runner is sawn", {"sawn": (slip, right), "moulded": (slip, slip)}))
    case.answers(("the runner is planed", {"sawn": (right, slip), "moulded": (right, slip)}), (stiff, "yes"))
    case.answers((dusty, "yes"), (stiff, "yes"))
    return case


def cases():
    return [
        chest_clinic(),
        burglary_alarm("burglary alarm", "burglary-alarm.rules.txt"),
        burglary_alarm("burglary alarm by meaning", "burglary-alarm-meaning.rules.txt"),
        two_reasons(),
        together_and_unless(),
        meaning(),
        parts(),
        marks(),
    ]
