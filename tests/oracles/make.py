"""Makes the golden files: python make.py NETWORKS GOLDEN

NETWORKS is a folder with what the program exported, GOLDEN the folder for what
the libraries say."""

import json
import sys
import time
from multiprocessing import Pool
from pathlib import Path

from answers import likelihoods
from engines import VERSIONS, Agrum, Pgmpy, problog
from network import Network
from small import cases

AGREE = 1e-12
PRINT = 10**15
# How many sets of a real piece, and states of each, the second library is asked.
SECOND_SETS, SECOND_STATES = 4, 8


def main(networks, golden):
    write(golden / "small.json", small())
    paths = sorted(networks.glob("*.json"), key=lambda path: -path.stat().st_size)
    with Pool(2) as pool:
        for path, made in zip(paths, pool.imap(piece, paths, chunksize=1)):
            write(golden / path.name, made)


def small():
    out = []
    for case in cases():
        nodes = list(case.states.values())
        agrum, pgmpy = Agrum(case.network, nodes), Pgmpy(case.network)
        worst, sets = {"pgmpy": 0.0, "problog": 0.0}, []
        for notes, evidence in case.sets:
            chances = agrum.ask(evidence)
            by_rules = problog(with_evidence(case.program, nodes, evidence))
            if chances is None:
                assert by_rules is None, (case.name, notes)
                sets.append({"notes": notes, "chances": None})
                continue
            by_rules = [by_rules[node] for node in nodes]
            agree(worst, "pgmpy", chances, pgmpy.ask(evidence, nodes), (case.name, notes))
            agree(worst, "problog", chances, by_rules, (case.name, notes))
            sets.append({"notes": notes, "chances": rounded(chances)})
        published = []
        for at, words, chance, digits, source in case.published:
            found = sets[at]["chances"][list(case.states).index(words)] / PRINT
            assert abs(found - chance) <= 0.5 * 10**-digits + 1e-15, (case.name, words, found)
            published.append({"set": at, "state": words, "chance": chance, "source": source})
        print(f"{case.name}: {len(sets)} sets; {shown(worst)}")
        out.append(
            {
                "name": case.name,
                "rules": case.rules,
                "piece": case.piece,
                "states": list(case.states),
                "published": published,
                "worst": worst,
                "sets": sets,
            }
        )
    return {"libraries": VERSIONS, "unit": "1e-15", "cases": out}


def with_evidence(program, nodes, evidence):
    """Virtual evidence as a witness that speaks up as often as it would."""
    lines = [program]
    for i, (node, (no, yes)) in enumerate(evidence.items()):
        lines.append(f"{yes}::witness{i} :- {node}.")
        lines.append(f"{no}::witness{i} :- \\+{node}.")
        lines.append(f"evidence(witness{i}).")
    return "\n".join(lines + [f"query({node})." for node in nodes])


def piece(path):
    exported = json.loads(path.read_text())
    start = time.monotonic()
    rows, asks = exported["states"], exported["asks"]
    network = Network()
    for i, (_, own, causes, *_) in enumerate(rows):
        network.state(node(i), own, [(weight, named(when)) for weight, when in causes])
    nodes = [node(i) for i in range(len(rows))]
    agrum, pgmpy = Agrum(network, nodes), Pgmpy(network)
    worst, asked, sets = {"pgmpy": 0.0}, 0, []
    for at, answers in enumerate(exported["sets"]):
        evidence = read(exported, rows, asks, answers)
        chances = agrum.ask(evidence)
        if chances is None:
            sets.append({"answers": answers, "chances": None})
            continue
        if asked < SECOND_SETS and at % (len(exported["sets"]) // SECOND_SETS // 2) == 0:
            step = max(1, len(nodes) // SECOND_STATES)
            some = list(range(at % step, len(nodes), step))[:SECOND_STATES]
            second = pgmpy.ask(evidence, [nodes[i] for i in some])
            agree(worst, "pgmpy", [chances[i] for i in some], second, (exported["name"], at))
            asked += 1
        sets.append({"answers": answers, "chances": rounded(chances)})
    impossible = sum(made["chances"] is None for made in sets)
    print(
        f"{exported['name']}: {len(rows)} states ({len(network.nodes)} nodes), {len(sets)} sets, "
        f"{impossible} cannot be; second library on {asked} sets; "
        f"{shown(worst)}; {time.monotonic() - start:.0f} s"
    )
    return {
        "name": exported["name"],
        "piece": exported["piece"],
        "print": exported["print"],
        "libraries": {name: VERSIONS[name] for name in ("pyagrum", "pgmpy")},
        "worst": worst,
        "unit": "1e-15",
        "states": [row[0] for row in rows],
        "sets": sets,
    }


def node(i):
    return f"s{i}"


def named(condition):
    """A condition with the names of nodes for their numbers."""
    if condition is True or condition is False:
        return condition
    if condition[0] in ("is", "is not"):
        return [condition[0], node(condition[1])]
    if condition[0] == "not":
        return ["not", named(condition[1])]
    return condition[:-1] + [[named(part) for part in condition[-1]]]


def read(exported, rows, asks, answers):
    """Likelihoods of a set of answers: {node: (no, yes)}."""
    given = {}
    for part, ask, answer in answers:
        given.setdefault(part, {})[ask] = answer
    parts = exported["parts"]
    of_part = {}
    for part, row in zip(parts, rows, strict=True):
        of_part.setdefault(part, []).append(row)
    return {
        node(i): likelihoods(row, given.get(parts[i], {}), asks, of_part[parts[i]])
        for i, row in enumerate(rows)
    }


def rounded(chances):
    return [round(chance * PRINT) for chance in chances]


def agree(worst, library, chances, others, where):
    for one, other in zip(chances, others, strict=True):
        wrong = abs(one - other)
        assert wrong <= AGREE, (library, where, one, other)
        worst[library] = max(worst[library], wrong)


def shown(worst):
    return ", ".join(f"{name} differs by at most {wrong:.1e}" for name, wrong in worst.items())


def write(path, made):
    """JSON with one line for each set."""
    def line(value):
        return json.dumps(value, separators=(",", ":"), ensure_ascii=False)

    def lines(value):
        if isinstance(value, dict):
            fields = ",\n".join(f"{line(k)}:{lines(v)}" for k, v in value.items())
            return "{\n" + fields + "\n}" if "sets" in value or "cases" in value else line(value)
        if isinstance(value, list) and value and isinstance(value[0], dict):
            return "[\n" + ",\n".join(lines(item) for item in value) + "\n]"
        return line(value)

    text = lines(made) + "\n"
    assert json.loads(text) == made
    path.write_text(text, encoding="utf-8")
    print(f"  {path.name}: {len(text) / 1e6:.2f} MB")


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
