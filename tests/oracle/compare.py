"""Compares every working point of generated robots, as the command prints it, with the oracle's own solution."""

from collections import Counter

import numpy as np

import compare_faults
import compare_heat
import protect
from generate import robot as generated
from points import Points
from tool import figures, findings, points as by_corner

#: What a figure may differ by: of itself, and of the largest of its kind at the point. The linter promises Kirchhoff's
#: law to 1e-9 of the largest current, so no current is worth more digits than that; of voltages it is the same.
OF_ITSELF, OF_LARGEST = 1e-6, 1e-9

#: Where next to nothing flows, what is left is rounding: a regulator stands still when its draw changes by less than 1e-9 W,
#: and tens of volts over a milliohm leave 1e-11 A. Ampere.
ROUNDING = 1e-9

#: The same of a voltage: what a nanoampere leaves over a hundred ohms. Volt.
ROUNDING_VOLTS = 1e-7

SOURCES = {"battery", "charger", "supply", "generator"}


class Comparison:
    """What came of it, over many robots."""

    def __init__(self):
        self.counts = Counter()
        self.wrong = []
        self.edges = []

    def add(self, other):
        """Takes in another one."""
        self.counts += other.counts
        self.wrong += other.wrong
        self.edges += other.edges

    def fail(self, seed, mode, key, what):
        """Notes a disagreement."""
        corner = " ".join(word for word in key if word)
        self.wrong.append(f"robot {seed}, mode `{mode}`, {corner}: {what}")


def compare(seeds, folder):
    """Compares the robots of these seeds; they are written into a folder."""
    comparison = Comparison()
    folder.mkdir(parents=True, exist_ok=True)
    for old in folder.glob("*.wattle"):
        old.unlink()
    robots = {f"r{seed:05}.wattle": (seed, generated(seed)) for seed in seeds}
    for name, (_, robot) in robots.items():
        (folder / name).write_text(robot.text())
    printed, found = figures(folder), findings(folder)
    for name, (seed, robot) in robots.items():
        compare_robot(comparison, seed, robot, printed[name])
        protect.check(comparison, seed, robot, found[name]["findings"])
        compare_faults.check(comparison, seed, robot, printed[name]["figures"], found[name])
    return comparison


def compare_robot(comparison, seed, robot, printed):
    """Compares one."""
    comparison.counts["robots"] += 1
    comparison.counts["wires"] += len(robot.wires)
    told = by_corner(printed)
    if printed["errors"] or not told:
        comparison.wrong.append(f"robot {seed} has no figures: {printed['errors']} {printed['incomplete']}")
        return
    compare_points(comparison, seed, robot, told)
    compare_heat.check(comparison, seed, robot, told, printed.get("figures", []))


def compare_points(comparison, seed, robot, told):
    """Compares the working points of one."""
    points = Points(robot)
    corners = {corner for _, corner in told}
    settings = [setting for setting in (None, "low", "high") if any(corner[1] == setting for corner in corners)]
    points.solve(settings, "cold", told)
    if any(corner[2] == "hot" for corner in corners):
        # Of the hot corners every other robot has those with regulators low, the others those with regulators high.
        points.solve(settings[seed % 2:][:1] or settings, "hot", told)
    for (mode, key), point in told.items():
        if (mode, key) not in points.found and (mode, key) not in points.why:
            continue
        compare_point(comparison, (seed, mode, key), point, points.found.get((mode, key)), points.why.get((mode, key)))


def compare_point(comparison, where, told, own, why):
    """Compares one point."""
    counts = comparison.counts
    counts["points"] += 1
    if not told["wires"] or own is None:
        outcome = "both" if not told["wires"] and own is None else "oracle" if own is None else "linter"
        counts[f"no working point: {outcome}"] += 1
        if outcome != "both":
            counts["edges"] += 1
            comparison.edges.append((*where, why or told.get("why")))
        return
    note_what_works(counts, own)
    before = len(comparison.wrong)
    compare_currents(comparison, where, told, own)
    compare_things(comparison, where, told, own)
    compare_terminals(comparison, where, told, own)
    counts["points that agree"] += len(comparison.wrong) == before


def differs(told, own, largest, rounding=ROUNDING):
    """Whether two figures are not the same."""
    return abs(told - own) > OF_ITSELF * abs(own) + OF_LARGEST * largest + rounding


def compare_currents(comparison, where, told, own):
    """Every wire."""
    largest = np.abs(own.point.amps).max()
    for name, number in own.circuit.wires.items():
        comparison.counts["wire currents"] += 1
        if differs(told["wires"][name], own.amps(number), largest):
            comparison.fail(*where, f"wire {name} carries {told['wires'][name]} A, by the oracle {own.amps(number)} A")


def compare_things(comparison, where, told, own):
    """Current and voltage of every source, load, regulator and driver."""
    largest, highest = np.abs(own.point.amps).max(), np.abs(own.point.across).max()
    for name, (amps, volts) in own_things(own).items():
        there = told["things"].get(name)
        if there is None:
            continue
        for what, mine, scale, rounding in (("amps", amps, largest, ROUNDING), ("volts", volts, highest, ROUNDING_VOLTS)):
            if mine is None or there.get(what) is None:
                continue
            comparison.counts[f"thing {what}"] += 1
            if differs(there[what], mine, scale, rounding):
                comparison.fail(*where, f"{name} has {what} {there[what]}, by the oracle {mine}")


def own_things(own):
    """Of each source what it gives, of all else what it draws; and the voltage at its poles where they are joined."""
    circuit, things = own.circuit, {}
    for number, element in enumerate(circuit.elements):
        if element.role == "source":
            # Segments of a pack stand in rising order: the last one is at the positive pole.
            things[element.owner] = (-own.amps(number), own.volts(*poles(circuit, element)))
        elif element.role in ("load", "input", "draw", "coil"):
            amps = own.amps(number) + things.get(element.owner, (0.0,))[0]
            things[element.owner] = (amps, own.volts(element.a, element.b))
        elif element.role in ("winding", "winding back"):
            turned = -1 if element.role == "winding back" else 1
            amps = turned * own.amps(number) + things.get(element.owner, (0.0,))[0]
            things[element.owner] = (amps, None)
    return things


def poles(circuit, element):
    """The nodes of a source's poles."""
    return circuit.nodes.of(f"{element.owner}.pos"), circuit.nodes.of(f"{element.owner}.neg")


def compare_terminals(comparison, where, told, own):
    """Voltages of terminals: within an island they may differ by what the island is counted from, and by that only. What
    hangs on a source that gives nothing is an island of its own here; where the two differ by where it stands, it is
    counted."""
    highest = max(np.abs(own.point.across).max(), 1.0)
    most = OF_ITSELF * 0.1 * highest
    shifts, whole = {}, {}
    for path, volts in told["terminals"].items():
        node = own.circuit.nodes.number.get(own.circuit.nodes.root(aliased(path)))
        if node is None or volts is None:
            continue
        comparison.counts["terminal voltages"] += 1
        mine = own.point.volts[node]
        shift = shifts.setdefault(own.point.loaded[node], volts - mine)
        whole.setdefault(own.point.island[node], {})[own.point.loaded[node]] = shift
        if abs(volts - mine - shift) > most and volts == 0.0:
            # An island of its own, counted from itself: a rail behind a diode that next to nothing passes. `main.py` caps
            # how many there may be.
            comparison.counts["terminals on an island of their own"] += 1
        elif abs(volts - mine - shift) > most:
            comparison.fail(*where, f"{path} stands at {volts} V, by the oracle at {mine + shift} V")
    for parts in whole.values():
        comparison.counts["rails left floating by the linter"] += sum(
            abs(shift - min(parts.values(), key=abs)) > most for shift in parts.values())


def aliased(path):
    """A terminal of a block is its bar, as the generator has it."""
    thing, _, terminal = path.rpartition(".")
    return path if not is_bar(thing) else f"{thing}.bar"


def is_bar(thing):
    """Whether the generator's name is that of a block."""
    return thing.startswith("B") and thing[1:].isdigit()


def note_what_works(counts, own):
    """Counts the elements that are not straight and at work: what makes the comparison worth something."""
    circuit, point = own.circuit, own.point
    across, amps = point.across, point.amps
    works = set()
    for number, element in enumerate(circuit.elements):
        if element.role == "diode" and amps[number] > 1e-9:
            works.add("a diode conducts")
        if element.role == "load" and element.watts and across[number] >= element.cutoff:
            works.add("a load of a power works")
        if element.role == "load" and 0 < amps[number] < element.highest * (1 - 1e-9) and np.isfinite(element.highest):
            works.add("a load stands below its cut-off")
        if element.role == "source" and np.isfinite(element.lowest) and amps[number] <= element.lowest * (1 - 1e-9):
            works.add("a source is at its limit")
    for regulator, runs in zip(circuit.regulators, own.running):
        if not runs:
            works.add("a regulator is out of its range")
        elif amps[regulator.output] <= -regulator.limit * (1 - 1e-9):
            works.add("a regulator is at its limit")
        elif across[regulator.input] - regulator.dropout < regulator.volts:
            works.add("a regulator drops out")
        else:
            works.add("a regulator regulates")
    if any(shut != contact.breaks for contact, shut in zip(circuit.contacts, own.closed)):
        works.add("a relay has pulled in")
    if any(element.role == "winding" and element.start for element in circuit.elements):
        works.add("a motor turns")
    counts["points with something at work"] += bool(works)
    for what in works:
        counts[what] += 1
