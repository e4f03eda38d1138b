"""The numbers: a working point of elements that are straight lines between bounds, loads of a power, and regulators.

Two steps, neither of which is nodal analysis with rounds. First a point is found by minimising the co-content, the sum
over all elements of the integral of their current over their voltage: it is convex, and its least point is where
Kirchhoff's current law holds. Loads of a power and regulators stand still meanwhile and follow between the minima. Then
all voltages and all currents are unknowns of one system (Kirchhoff's law for each node, its own law for each element,
a regulator's two laws tied to each other), which Newton's method solves at once to the last digits, and whose residuals
are what is judged."""

from dataclasses import dataclass

import numpy as np
from scipy.linalg.lapack import dposv
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components
from scipy.sparse.linalg import splu

#: Residual at which a point counts as found, of the largest current.
FOUND = 1e-10

#: A step that moves no node further than this, volt, is rounding: the last digits come later.
STANDING = 1e-10

#: A load of a power this share of its cut-off below no voltage still counts as one on it: rounding.
EDGE = 1e-9

#: A current that is rounding only, ampere, and one that a diode has to carry to count as conducting.
NOTHING, BARELY = 1e-12, 1e-7


class Lost(Exception):
    """There is no point, or it was not found; says why."""


@dataclass
class Point:
    """A solution."""

    volts: np.ndarray
    amps: np.ndarray
    island: np.ndarray
    #: The same without what sources that give nothing join.
    loaded: np.ndarray
    residual: float


class Field:
    """The elements as arrays."""

    def __init__(self, elements, nodes):
        self.count = nodes
        self.a = np.array([element.a for element in elements])
        self.b = np.array([element.b for element in elements])
        self.slope = np.array([element.slope for element in elements])
        self.start = np.array([element.start for element in elements])
        self.lowest = np.array([element.lowest for element in elements])
        self.highest = np.array([element.highest for element in elements])
        self.watts = np.array([element.watts for element in elements])
        self.cutoff = np.array([element.cutoff or 1.0 for element in elements])
        self.is_power = self.watts > 0

    def across(self, volts):
        """The voltage of each element."""
        return volts[self.a] - volts[self.b]

    def set_power(self, number, watts, cutoff):
        """Makes an element a load of a power."""
        self.watts[number], self.cutoff[number] = watts, cutoff
        self.is_power[number] = watts > 0

    def set_line(self, number, slope, start, lowest, highest):
        """Gives an element its line."""
        self.slope[number], self.start[number] = slope, start
        self.lowest[number], self.highest[number] = lowest, highest

    def balance(self, amps):
        """Current that leaves each node."""
        return np.bincount(self.a, amps, self.count) - np.bincount(self.b, amps, self.count)


def hold_powers(field, volts):
    """Lays loads of a power as currents that they draw at these voltages, bounded by the resistance they are below."""
    power = field.is_power
    if power.any():
        across = np.maximum(field.across(volts)[power], field.cutoff[power])
        watts = field.watts[power]
        field.slope[power] = watts / field.cutoff[power] ** 2
        field.start[power] = 0.0
        field.lowest[power] = 0.0
        field.highest[power] = watts / across


def currents(field, volts):
    """Current of each element, and whether it is between its bounds."""
    free = field.slope * (field.across(volts) - field.start)
    amps = np.minimum(np.maximum(free, field.lowest), field.highest)
    return amps, (free >= field.lowest) & (free <= field.highest)


def minimise(field, volts, rounds=200):
    """The least point of the co-content; loads of a power as they are held."""
    for _ in range(rounds):
        amps, free = currents(field, volts)
        gradient = field.balance(amps)
        worst = np.abs(gradient).max()
        if worst <= 1e-9 * max(np.abs(amps).max(), 0.1):
            return volts
        step = newton_step(field, free, gradient, worst)
        if np.abs(step).max() <= STANDING:
            return volts
        volts = volts + stride(field, volts, step) * step
    if worst <= 1e-6 * np.abs(amps).max():
        return volts
    raise Lost("the least co-content was not found")


def newton_step(field, free, gradient, worst):
    """Down the co-content, with a little held back where nothing holds a node."""
    slope, count = np.where(free, field.slope, 0.0), field.count
    matrix = np.bincount(field.a * count + field.b, -slope, count * count).reshape(count, count)
    matrix += matrix.T
    matrix.flat[:: count + 1] -= matrix.sum(axis=1)
    matrix.flat[:: count + 1] += min(max(1e-4 * worst, 1e-9), 1e-3)
    _, step, wrong = dposv(matrix, gradient)
    if wrong:
        raise Lost("the co-content is not convex: an element has a falling line")
    return -step


def stride(field, volts, step):
    """How far to go along a step: all the way, unless the co-content rises again before."""
    def rise(share):
        return field.balance(currents(field, volts + share * step)[0]) @ step

    first, far = rise(0.0), rise(1.0)
    if far <= 0.3 * abs(first):
        return 1.0
    low, high = 0.0, 1.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        there = rise(middle)
        if abs(there) <= 0.1 * abs(first):
            return middle
        low, high = (middle, high) if there < 0 else (low, middle)
    return low


# ---- everything at once -------------------------------------------------------------------------------------------


def laws(field, regulators, running, volts, amps):
    """The residual of each element's own law, and its derivatives: by its voltage, by its current, and further ones as
    (row, what, number, value), `what` being "volts" of an element or "amps" of one. Last which elements join their nodes
    whatever flows."""
    across = field.across(volts)
    free = field.slope * (across - field.start)
    low, high = free < field.lowest, free > field.highest
    bound = np.where(low, field.lowest, np.where(high, field.highest, 0.0))
    between = ~(low | high)
    # A steep line is better asked for its voltage than for its current.
    steep = between & (field.slope > 1.0)
    scale = np.where(steep, 1.0 / np.where(steep, field.slope, 1.0), 1.0)
    bound = np.where(between, 0.0, bound)
    residual = np.where(between, scale * (amps - field.slope * (across - field.start)), amps - bound)
    by_volts = np.where(between, -scale * field.slope, 0.0)
    by_amps = np.where(between, scale, 1.0)
    joins = powers(field, across, amps, residual, by_volts, by_amps)
    further = []
    for regulator, runs in zip(regulators, running):
        if runs:
            tie(field, regulator, across, amps, residual, by_volts, by_amps, further)
    return residual, by_volts, by_amps, further, joins | (between & (field.slope > 0))


def powers(field, across, amps, residual, by_volts, by_amps):
    """Loads of a power: volts times amps, or the resistance below the cut-off, or nothing in reverse."""
    at = np.flatnonzero(field.is_power)
    volts, watts, cutoff = across[at], field.watts[at], field.cutoff[at]
    works = volts >= cutoff
    ohmic = (volts > -EDGE * cutoff) & ~works
    conductance = watts / cutoff**2
    residual[at] = np.where(works, amps[at] - watts / np.where(works, volts, 1.0),
                            np.where(ohmic, amps[at] - conductance * volts, amps[at]))
    by_volts[at] = np.where(works, watts / np.where(works, volts, 1.0) ** 2, np.where(ohmic, -conductance, 0.0))
    by_amps[at] = 1.0
    joins = np.zeros(len(across), dtype=bool)
    joins[at] = works | ohmic
    return joins


def tie(field, regulator, across, amps, residual, by_volts, by_amps, further):
    """A running regulator: its output's line follows its input's voltage, its input draws what its output gives."""
    given, taken = regulator.output, regulator.input
    volts_in, volts_out, out = across[taken], across[given], -amps[given]
    slope = field.slope[given]
    sags = 0.0 < volts_in - regulator.dropout < regulator.volts
    emf = min(max(volts_in - regulator.dropout, 0.0), regulator.volts)
    free = slope * (volts_out - emf)
    if field.lowest[given] <= free <= field.highest[given]:
        residual[given] = amps[given] / slope - (volts_out - emf)
        by_volts[given], by_amps[given] = -1.0, 1.0 / slope
        if sags:
            further.append((given, "volts", taken, 1.0))
    else:
        bound = field.lowest[given] if free < field.lowest[given] else field.highest[given]
        residual[given], by_volts[given], by_amps[given] = amps[given] - bound, 0.0, 1.0
    drawn, by_in, by_out, by_given = input_draw(regulator, volts_in, volts_out, out)
    residual[taken], by_volts[taken], by_amps[taken] = amps[taken] - drawn, -by_in, 1.0
    further.append((taken, "volts", given, -by_out))
    # The output gives what flows against its own direction.
    further.append((taken, "amps", given, by_given))


def input_draw(regulator, volts_in, volts_out, out):
    """The current at the input, and how it changes with input voltage, output voltage and output current."""
    gives = 1.0 if out > 0 else 0.0
    out, holds = max(out, 0.0), 1.0 if volts_out > 0 else 0.0
    volts_out = max(volts_out, 0.0)
    if regulator.linear:
        amps = out + regulator.quiescent
        if volts_in >= regulator.cutoff:
            return amps, 0.0, 0.0, gives
        share = max(volts_in, 0.0) / regulator.cutoff
        return amps * share, amps / regulator.cutoff if volts_in > 0 else 0.0, 0.0, gives * share
    # Output power over efficiency, and the quiescent current at the input's voltage.
    if volts_in >= regulator.cutoff:
        power = out * volts_out / regulator.efficiency
        return (power / volts_in + regulator.quiescent, -power / volts_in**2,
                out * holds / regulator.efficiency / volts_in, gives * volts_out / regulator.efficiency / volts_in)
    share = max(volts_in, 0.0) / regulator.cutoff**2
    power = out * volts_out / regulator.efficiency + regulator.quiescent * volts_in
    return (power * share, power / regulator.cutoff**2 + share * regulator.quiescent if volts_in > 0 else 0.0,
            share * out * holds / regulator.efficiency, share * gives * volts_out / regulator.efficiency)


def islands(field, joins):
    """The island of each node: what elements join that carry something or could."""
    graph = coo_array((np.ones(joins.sum()), (field.a[joins], field.b[joins])), shape=(field.count, field.count))
    return connected_components(graph, directed=False)[1]


def polish(field, regulators, running, volts, rounds=25):
    """Newton's method on all voltages and all currents."""
    amps, _ = currents(field, volts)
    count, size = field.count, len(field.a)
    numbers = np.arange(size)
    best = None
    for _ in range(rounds):
        residual, by_volts, by_amps, further, free = laws(field, regulators, running, volts, amps)
        island = islands(field, free | (np.abs(amps) > NOTHING))
        kirchhoff = field.balance(amps)
        # The law of one node of each island follows from the others: there the voltage is pinned instead.
        pinned = np.unique(island, return_index=True)[1]
        off = max(np.abs(kirchhoff).max(initial=0.0), np.abs(residual).max(initial=0.0))
        scale = max(np.abs(amps).max(initial=0.0), 1e-3)
        if best is not None and off <= FOUND * scale and off >= 0.5 * best:
            # A diode that carries nothing joins nothing, though it stands where it begins to conduct.
            idle = (field.lowest == 0.0) & (field.highest == np.inf) & (amps <= BARELY)
            shown = islands(field, (free & ~idle) | (np.abs(amps) > NOTHING))
            # Nor does a source with a limit that gives nothing, if one looks closely.
            unloaded = np.isfinite(field.lowest) & (field.lowest < 0) & (np.abs(amps) <= BARELY)
            return Point(volts, amps, shown, islands(field, (free & ~idle & ~unloaded) | (np.abs(amps) > BARELY)), off / scale)
        best = off if best is None else min(best, off)
        is_pinned = np.zeros(count, dtype=bool)
        is_pinned[pinned] = True
        keep = ~is_pinned[field.a], ~is_pinned[field.b]
        rows = [field.a[keep[0]], field.b[keep[1]], pinned, count + numbers, count + numbers, count + numbers]
        columns = [count + numbers[keep[0]], count + numbers[keep[1]], pinned, field.a, field.b, count + numbers]
        values = [np.ones(keep[0].sum()), -np.ones(keep[1].sum()), np.ones(len(pinned)), by_volts, -by_volts, by_amps]
        for row, what, number, value in further:
            places = [count + number] if what == "amps" else [field.a[number], field.b[number]]
            rows.append(np.full(len(places), count + row))
            columns.append(np.array(places))
            values.append(np.array([value, -value][: len(places)]))
        kirchhoff[pinned] = 0.0
        matrix = coo_array((np.concatenate(values), (np.concatenate(rows), np.concatenate(columns))),
                           shape=(count + size, count + size)).tocsc()
        try:
            step = splu(matrix).solve(np.concatenate([kirchhoff, residual]))
        except RuntimeError as error:
            raise Lost(f"singular: {error}") from error
        volts, amps = volts - step[:count], amps - step[count:]
        if not np.isfinite(step).all():
            raise Lost("the numbers ran away")
    raise Lost(f"no last digits: {off / scale:.1e} left")
