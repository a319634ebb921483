"""The same network and answers in general libraries: python libraries.py NETWORK OUT

NETWORK is what the program exported; OUT gets seconds for each question. Every
time is the shortest of several runs, averaged over the sets of answers."""

import gc
import json
import logging
import sys
import time
from importlib.metadata import version
from itertools import product
from math import erf, sqrt
from pathlib import Path

import pyagrum as gum

MOST_PARENTS = 4
RUNS = 5
AGREE = 1e-10


class Node:
    """A variable with values 0, 1, ..., its parents, and its chances given
    theirs (a function of a dict)."""

    def __init__(self, name, size, parents, chances):
        self.name, self.size, self.parents, self.chances = name, size, list(parents), chances


# --- the network: states that hold on their own, or because a cause fires ------


def mentioned(claim):
    if isinstance(claim, bool):
        return []
    if claim[0] in ("is", "reaches"):
        return [claim[1]]
    parts = [claim[1]] if claim[0] == "not" else claim[2]
    return list(dict.fromkeys(name for part in parts for name in mentioned(part)))


def holds(claim, values):
    if isinstance(claim, bool):
        return claim
    if claim[0] == "is":
        return values[claim[1]] == claim[2]
    if claim[0] == "reaches":
        return values[claim[1]] >= claim[2]
    if claim[0] == "not":
        return not holds(claim[1], values)
    return sum(holds(part, values) for part in claim[2]) >= claim[1]


def nodes_of(states):
    """Small tables only: what would need a wide one is counted along a chain."""
    nodes = []

    def helper(state, size, parents, chances):
        name = f"{state}h{len(nodes)}"
        nodes.append(Node(name, size, parents, chances))
        return name

    def narrow(state, claim):
        if len(mentioned(claim)) <= 2:
            return claim
        if claim[0] == "not":
            return ["not", narrow(state, claim[1])]
        wanted, parts = claim[1], [narrow(state, part) for part in claim[2]]
        if wanted == len(parts) > 1:
            # All of them: not one that is not.
            return ["not", chain(state, 1, [["not", part] for part in parts])]
        return chain(state, wanted, parts)

    def chain(state, wanted, parts):
        before = None
        for part in parts:
            parents = list(dict.fromkeys(([before] if before else []) + mentioned(part)))
            before = helper(state, wanted + 1, parents, counted(before, part, wanted))
        return ["reaches", before, wanted]

    for name, own, causes in states:
        causes = [(weight, narrow(name, claim)) for weight, claim in causes]
        before, chance = None, own
        while True:
            parents, taken = ([before] if before else []), []
            while causes:
                wider = list(dict.fromkeys(parents + mentioned(causes[0][1])))
                if taken and len(wider) > MOST_PARENTS:
                    break
                parents = wider
                taken.append(causes.pop(0))
            if not causes:
                nodes.append(Node(name, 2, parents, any_of(before, chance, taken)))
                break
            before, chance = helper(name, 2, parents, any_of(before, chance, taken)), 0.0
    return nodes


def any_of(before, chance, causes):
    def chances(values):
        if before is not None and values[before] == 1:
            return [0.0, 1.0]
        no = 1.0 - chance
        for weight, claim in causes:
            if holds(claim, values):
                no *= 1.0 - weight
        return [no, 1.0 - no]

    return chances


def counted(before, part, most):
    def chances(values):
        so_far = values[before] if before is not None else 0
        now = min(most, so_far + holds(part, values))
        return [1.0 if n == now else 0.0 for n in range(most + 1)]

    return chances


def rows(node, sizes):
    for values in product(*(range(sizes[p]) for p in node.parents)):
        yield values, node.chances(dict(zip(node.parents, values)))


def named(claim):
    if isinstance(claim, bool):
        return claim
    if claim[0] == "is":
        return ["is", f"s{claim[1]}", int(claim[2])]
    if claim[0] == "not":
        return ["not", named(claim[1])]
    return ["at least", claim[1], [named(part) for part in claim[2]]]


# --- what was answered ----------------------------------------------------------

STEPS = [round(65536 * erf(i / 8 / sqrt(2)) / 2) for i in range(32)] + [32768]


def below(distance, deviation):
    """The normal distribution function in 65 536ths, as the core has it: a row
    for each eighth, straight lines between."""
    scaled = (abs(distance) << 19) // deviation
    row, between = scaled >> 16, scaled & 0xFFFF
    low, high = (STEPS[min(r, 32)] for r in (row, row + 1))
    above = low + ((high - low) * (between >> 4)) // 4096
    return 32768 - above if distance < 0 else 32768 + above


def likelihoods(said):
    evidence = {}
    for state, what, *more in said:
        if what == "likely":
            no, yes = more
        else:
            reading, start, end, deviation = more
            if deviation == 0:
                inside = 65536 if start <= reading <= end else 0
            else:
                to = 65536 if end == 2**31 - 1 else below(end - reading, deviation)
                since = 0 if start == -(2**31) else below(start - reading, deviation)
                inside = max(0, to - since)
            no, yes = 1 - inside / 65536, inside / 65536
        evidence[f"s{state}"] = [no, yes]
    return evidence


# --- the libraries ----------------------------------------------------------------


def agrum_net(nodes):
    sizes = {node.name: node.size for node in nodes}
    net = gum.BayesNet()
    for node in nodes:
        net.add(gum.RangeVariable(node.name, node.name, 0, node.size - 1))
    for node in nodes:
        for parent in node.parents:
            net.addArc(parent, node.name)
    for node in nodes:
        table = net.cpt(node.name)
        for values, chances in rows(node, sizes):
            if node.parents:
                table[dict(zip(node.parents, values))] = chances
            else:
                table.fillWith(chances)
    return net


def agrum_engine(net, targets):
    engine = gum.LazyPropagation(net)
    engine.setTargets(set(targets))
    return engine


def agrum_ask(engine, targets, evidence):
    engine.setEvidence(evidence)
    engine.makeInference()
    return [engine.posterior(target)[1] for target in targets]


def agrum_change(engine, targets, evidence):
    for name, likelihood in evidence.items():
        engine.chgEvidence(name, likelihood)
    engine.makeInference()
    return [engine.posterior(target)[1] for target in targets]


def pgmpy_net(nodes):
    from pgmpy.factors.discrete import TabularCPD
    from pgmpy.models import DiscreteBayesianNetwork

    sizes = {node.name: node.size for node in nodes}
    net = DiscreteBayesianNetwork()
    net.add_nodes_from([node.name for node in nodes])
    net.add_edges_from([(parent, node.name) for node in nodes for parent in node.parents])
    for node in nodes:
        columns = [chances for _, chances in rows(node, sizes)]
        net.add_cpds(
            TabularCPD(
                node.name,
                node.size,
                [[column[i] for column in columns] for i in range(node.size)],
                evidence=node.parents or None,
                evidence_card=[sizes[p] for p in node.parents] or None,
            )
        )
    return net


def pgmpy_ask(net, targets, evidence):
    from pgmpy.factors.discrete import TabularCPD
    from pgmpy.inference import VariableElimination

    virtual = [
        TabularCPD(name, 2, [[x / max(pair)] for x in pair]) for name, pair in evidence.items()
    ]
    engine = VariableElimination(net)
    answers = [
        engine.query([target], virtual_evidence=virtual, show_progress=False) for target in targets
    ]
    return [float(answer.values[1]) for answer in answers]


# --- the clock --------------------------------------------------------------------


def best(run, runs=RUNS):
    shortest = float("inf")
    for _ in range(runs):
        gc.collect()
        gc.disable()
        start = time.perf_counter()
        run()
        shortest = min(shortest, time.perf_counter() - start)
        gc.enable()
    return shortest


def mean(times):
    times = list(times)
    return sum(times) / len(times)


def main(network, out):
    logging.disable(logging.CRITICAL)
    gum.setNumberOfThreads(1)
    exported = json.loads(network.read_text())
    states = [
        (f"s{i}", own, [(weight, named(claim)) for weight, claim in causes])
        for i, own, causes in exported["states"]
    ]
    every = [name for name, *_ in states]
    hidden = [f"s{i}" for i in exported["hidden"]]
    drawers = {drawer: [f"s{i}" for i in found] for drawer, found in exported["drawers"]}
    nodes = nodes_of(states)
    net = agrum_net(nodes)
    sets = [
        (
            likelihoods(one["evidence"]),
            [(c["drawer"], likelihoods(c["evidence"])) for c in one["changes"]],
            one["chances"],
        )
        for one in exported["sets"]
    ]
    worst = 0.0
    for evidence, _, chances in sets:
        found = agrum_ask(agrum_engine(net, every), every, evidence)
        worst = max(worst, *(abs(a - b) for a, b in zip(found, chances, strict=True)))
    assert worst < AGREE, worst

    kept, stuck, stuck_drawer = agrum_engine(net, every), [], []
    results = {
        "versions": {name: version(name) for name in ("pyagrum", "pgmpy")},
        "nodes": len(nodes),
        "worst": worst,
        "set_up": best(lambda: agrum_engine(agrum_net(nodes_of(states)), every)),
        "new_engine": mean(
            best(lambda: agrum_ask(agrum_engine(net, every), every, evidence))
            for evidence, *_ in sets
        ),
        "from_nothing": mean(
            best(lambda: agrum_ask(kept, every, evidence)) for evidence, *_ in sets
        ),
        # What is left when every chance is already worked out: Python's calls.
        "calls": best(lambda: [kept.posterior(target)[1] for target in every]),
        "changed": mean(changed(net, sets, lambda drawer: hidden, stuck)),
        "changed_drawer": mean(changed(net, sets, drawers.get, stuck_drawer)),
        # Of so many changes, of which so many had to be told anew with all the rest.
        "changes": sum(len(changes) for _, changes, _ in sets),
    }

    results |= {"told_anew": len(stuck), "told_anew_drawer": len(stuck_drawer)}

    second = pgmpy_net(nodes)
    three = hidden[:: len(hidden) // 3][:3]
    evidence, _, chances = sets[0]
    found = pgmpy_ask(second, three, evidence)
    wrong = max(abs(f - chances[every.index(t)]) for f, t in zip(found, three, strict=True))
    assert wrong < AGREE, wrong
    results |= {
        "pgmpy_worst": wrong,
        "pgmpy_set_up": best(lambda: pgmpy_net(nodes_of(states)), 2),
        "pgmpy_three": best(lambda: pgmpy_ask(second, three, evidence), 2),
    }
    out.write_text(json.dumps(results, indent=1) + "\n")


def changed(net, sets, targets_of, stuck):
    """Seconds of each change, there and back. The engine is told only what
    changed; where that makes it fail, it is told everything again, and that is
    noted in `stuck`."""
    for evidence, changes, _ in sets:
        for drawer, after in changes:
            targets = targets_of(drawer)
            engine = agrum_engine(net, targets)
            agrum_ask(engine, targets, evidence)

            def there_and_back():
                agrum_change(engine, targets, after)
                agrum_change(engine, targets, {name: evidence[name] for name in after})

            def all_again():
                agrum_ask(engine, targets, evidence | after)
                agrum_ask(engine, targets, evidence)

            try:
                yield best(there_and_back, 3) / 2
            except gum.GumException:
                stuck.append(drawer)
                engine = agrum_engine(net, targets)
                yield best(all_again, 3) / 2


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
