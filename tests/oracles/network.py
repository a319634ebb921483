"""Noisy-OR states with conditions, as an ordinary Bayesian network.

A state holds on its own, or because any of its causes fires: a cause whose
condition holds fires with its weight, each by itself. The tables below say just
that. What would need a wide table becomes a chain of small ones with helper
variables; every entry is a sum or product of numbers that are not negative, so
the network says the same thing exactly.

Conditions are nested lists:
  True, False, ["is", v], ["is not", v], ["all", [..]], ["at least", n, [..]],
  ["not", c], and, over helpers that count, ["reaches", v, n].
"""

from itertools import product

MOST_PARENTS = 4
MOST_IN_CONDITION = 2


class Node:
    """A variable with values 0, 1, ..., and its chances given its parents."""

    def __init__(self, name, size, parents, chances):
        self.name = name
        self.size = size
        self.parents = parents
        self.chances = chances  # function of a dict of values -> list of chances


def mentioned(condition):
    """The variables of a condition, in order."""
    if condition is True or condition is False:
        return []
    if condition[0] in ("is", "is not", "reaches"):
        return [condition[1]]
    parts = [condition[1]] if condition[0] == "not" else condition[-1]
    return list(dict.fromkeys(v for part in parts for v in mentioned(part)))


def holds(condition, values):
    """Whether a condition holds."""
    if condition is True or condition is False:
        return condition
    what = condition[0]
    if what == "is":
        return values[condition[1]] == 1
    if what == "is not":
        return values[condition[1]] == 0
    if what == "reaches":
        return values[condition[1]] >= condition[2]
    if what == "not":
        return not holds(condition[1], values)
    if what == "all":
        return all(holds(part, values) for part in condition[1])
    if what == "at least":
        return sum(holds(part, values) for part in condition[2]) >= condition[1]
    raise ValueError(what)


class Network:
    """Nodes, each after its parents' names are known (order does not matter)."""

    def __init__(self):
        self.nodes = []

    def add(self, name, size, parents, chances):
        self.nodes.append(Node(name, size, list(parents), chances))

    def table(self, name, parents, yes):
        """A yes/no node with a published table: yes[parent values] = chance."""
        self.add(name, 2, parents, lambda v: split(yes[tuple(v[p] for p in parents)]))

    def state(self, name, own, causes):
        """A yes/no state: on its own, or by any of (weight, condition)."""
        helpers = 0

        def helper(size, parents, chances):
            nonlocal helpers
            helpers += 1
            self.add(f"{name}_h{helpers}", size, parents, chances)
            return f"{name}_h{helpers}"

        causes = [(weight, self.narrow(condition, helper)) for weight, condition in causes]
        before, chance = None, own
        while True:
            parents, taken = ([before] if before else []), []
            while causes:
                wider = list(dict.fromkeys(parents + mentioned(causes[0][1])))
                if taken and len(wider) > MOST_PARENTS:
                    break
                parents = wider
                taken.append(causes.pop(0))
            chances = any_of(before, chance, taken)
            if not causes:
                self.add(name, 2, parents, chances)
                return
            before, chance = helper(2, parents, chances), 0.0

    def narrow(self, condition, helper):
        """The same condition over few variables, with helpers for the rest."""
        if len(mentioned(condition)) <= MOST_IN_CONDITION:
            return condition
        if condition[0] == "not":
            return ["not", self.narrow(condition[1], helper)]
        parts = [self.narrow(part, helper) for part in condition[-1]]
        if condition[0] == "all":
            # Not all of them: at least one is not.
            wanted, parts, turned = 1, [["not", part] for part in parts], True
        else:
            wanted, turned = condition[1], False
        if wanted == 0:
            return not turned
        before = None
        for part in parts:
            parents = list(dict.fromkeys(([before] if before else []) + mentioned(part)))
            before = helper(wanted + 1, parents, counted(before, part, wanted))
        reached = ["reaches", before, wanted]
        return ["not", reached] if turned else reached


def split(yes):
    return [1.0 - yes, yes]


def any_of(before, chance, causes):
    def chances(values):
        if before is not None and values[before] == 1:
            return [0.0, 1.0]
        yes = chance
        for weight, condition in causes:
            if holds(condition, values):
                yes = yes + (1.0 - yes) * weight
        return split(yes)

    return chances


def counted(before, part, most):
    def chances(values):
        so_far = values[before] if before is not None else 0
        now = min(most, so_far + holds(part, values))
        return [1.0 if n == now else 0.0 for n in range(most + 1)]

    return chances


def rows(node, sizes):
    """Every row of a node's table: (values of the parents, chances)."""
    for values in product(*(range(sizes[p]) for p in node.parents)):
        yield values, node.chances(dict(zip(node.parents, values)))
