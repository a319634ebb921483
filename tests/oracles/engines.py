"""The independent libraries, each given the same network and evidence.

Evidence is {name: (likelihood if no, likelihood if yes)}: virtual evidence."""

import logging
from importlib.metadata import version

import pyagrum as gum

from network import rows

logging.disable(logging.CRITICAL)
VERSIONS = {name: version(name) for name in ("pyagrum", "pgmpy", "problog")}


class Agrum:
    """pyAgrum's lazy propagation."""

    def __init__(self, network, targets):
        self.targets = targets
        self.sizes = {node.name: node.size for node in network.nodes}
        self.chances = self.engine(network, lambda chances: chances)
        # The same network with every chance that is neither 0 nor 1 evened out:
        # what has no chance here has none at all, whatever the numbers.
        self.possible = self.engine(network, even)
        everything, net = self.engine(network, lambda chances: chances)
        everything.setTargets(set(net.names()))
        everything.makeInference()
        self.prior = {name: everything.posterior(name)[1] for name in net.names()}

    def engine(self, network, change):
        net = gum.BayesNet()
        for node in network.nodes:
            net.add(gum.RangeVariable(node.name, node.name, 0, node.size - 1))
        for node in network.nodes:
            for parent in node.parents:
                net.addArc(parent, node.name)
        for node in network.nodes:
            table = net.cpt(node.name)
            for values, chances in rows(node, self.sizes):
                if node.parents:
                    table[dict(zip(node.parents, values))] = change(chances)
                else:
                    table.fillWith(change(chances))
        engine = gum.LazyPropagation(net)
        engine.setTargets(set(self.targets))
        return engine, net

    def ask(self, evidence):
        """Chances of the targets; None if the evidence cannot be."""
        # Each pair of likelihoods is scaled by what was to be expected of it:
        # hundreds of them multiplied would be smaller than any number.
        said = {
            name: [no / self.expected(name, no, yes), yes / self.expected(name, no, yes)]
            for name, (no, yes) in evidence.items()
            if (no, yes) != (1.0, 1.0)
        }
        engine = self.chances[0]
        try:
            engine.setEvidence(said)
            engine.makeInference()
            likelihood = engine.evidenceProbability()
        except gum.GumException:
            likelihood = 0.0
        if likelihood < 1e-250:
            assert not self.can_be(said), "too unlikely for this library to tell"
            return None
        return [self.chance(target) for target in self.targets]

    def chance(self, target):
        no, yes = (self.chances[0].posterior(target)[i] for i in (0, 1))
        assert abs(no + yes - 1.0) < 1e-12, (target, no, yes)
        return yes

    def expected(self, name, no, yes):
        if min(no, yes) == 0.0:
            # What is certain must come as 0 and 1: this library hands it back
            # as its chance.
            return max(no, yes)
        return no * (1.0 - self.prior[name]) + yes * self.prior[name] or 1.0

    def can_be(self, said):
        engine = self.possible[0]
        evened = {n: [0.5 if x > 0 else 0.0 for x in l] for n, l in said.items()}
        try:
            engine.setEvidence({n: l for n, l in evened.items() if min(l) == 0.0})
            engine.makeInference()
            return engine.evidenceProbability() > 0.0
        except gum.GumException:
            return False


def even(chances):
    there = sum(chance > 0 for chance in chances)
    return [1.0 / there if chance > 0 else 0.0 for chance in chances]


class Pgmpy:
    """pgmpy's variable elimination."""

    def __init__(self, network):
        from pgmpy.factors.discrete import TabularCPD
        from pgmpy.models import DiscreteBayesianNetwork

        sizes = {node.name: node.size for node in network.nodes}
        self.net = DiscreteBayesianNetwork()
        self.net.add_nodes_from([node.name for node in network.nodes])
        for node in network.nodes:
            self.net.add_edges_from([(parent, node.name) for parent in node.parents])
        for node in network.nodes:
            columns = [chances for _, chances in rows(node, sizes)]
            self.net.add_cpds(
                TabularCPD(
                    node.name,
                    node.size,
                    [[column[i] for column in columns] for i in range(node.size)],
                    evidence=node.parents or None,
                    evidence_card=[sizes[p] for p in node.parents] or None,
                )
            )

    def ask(self, evidence, targets):
        from pgmpy.factors.discrete import TabularCPD
        from pgmpy.inference import VariableElimination

        virtual = []
        for name, likelihood in evidence.items():
            if likelihood == (1.0, 1.0):
                continue
            most = max(likelihood)
            virtual.append(TabularCPD(name, 2, [[x / most] for x in likelihood]))
        engine = VariableElimination(self.net)
        found = []
        for target in targets:
            answer = engine.query(
                [target], virtual_evidence=virtual or None, show_progress=False
            )
            found.append(float(answer.values[1]))
        return found


def problog(program):
    """ProbLog on a program of rules: {atom: chance}; None if the evidence in it
    cannot be."""
    from problog import get_evaluatable
    from problog.errors import InconsistentEvidenceError
    from problog.program import PrologString

    try:
        answers = get_evaluatable().create_from(PrologString(program)).evaluate()
    except InconsistentEvidenceError:
        return None
    return {str(atom): float(chance) for atom, chance in answers.items()}
