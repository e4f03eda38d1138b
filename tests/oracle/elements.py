"""From a robot's description to its elements: nodes, and between them laws with numbers, for a mode and a corner.

Made from the description alone. Every law has one shape, a straight line between two bounds,

    current = min(max(slope · (volts − start), lowest), highest),

but for the loads of a power, the regulators, and the drivers, which `solve` lays over it."""

from dataclasses import dataclass
from math import inf

import numpy as np

import constants as usual

CHARGES = {"full": 0, "nominal": 1, "empty": 2}
ELECTRONICS = {"controller", "receiver", "sensor", "meter"}
LOADS = {"load", "light", "servo", "motor"} | ELECTRONICS
SOURCES = {"battery", "charger", "supply", "generator"}


@dataclass(frozen=True)
class Corner:
    """Which end of its range everything is at: the packs' charge, where in their tolerance regulators are set (-1 to 1),
    the temperature of each wire (all at 20 °C without), and how many times their resistance at 20 °C coils have."""

    charge: str
    regulators: float = 0.0
    hot: dict | None = None
    coils: float = 1.0


@dataclass
class Element:
    """A two-terminal element; see the head of the file."""

    owner: str
    a: int
    b: int
    slope: float = 0.0
    start: float = 0.0
    lowest: float = -inf
    highest: float = inf
    watts: float = 0.0
    cutoff: float = 0.0
    role: str = ""


def resistor(owner, a, b, ohms, role=""):
    """A resistance."""
    return Element(owner, a, b, 1 / ohms, role=role)


def diode(owner, a, b, drop, ohms=usual.DIODE, role="diode"):
    """Conducts from `a` to `b` above its drop."""
    return Element(owner, a, b, 1 / ohms, drop, lowest=0.0, role=role)


def steady_load(owner, a, b, amps, cutoff, role="load"):
    """A current, in proportion below the cut-off."""
    if amps <= 0:
        return nothing(owner, a, b, role)
    return Element(owner, a, b, amps / cutoff, lowest=0.0, highest=amps, role=role)


def power_load(owner, a, b, watts, cutoff, role="load"):
    """A power, and below the cut-off the resistance that it has there."""
    return Element(owner, a, b, watts=watts, cutoff=cutoff, role=role)


def nothing(owner, a, b, role=""):
    """Does not conduct."""
    return Element(owner, a, b, lowest=0.0, highest=0.0, role=role)


class Nodes:
    """Terminals that are one piece of metal: a node each."""

    def __init__(self, robot):
        self.parent = {}
        self.robot = robot
        for one, other in robot.ties:
            self.join(one, other)
        for thing in robot.things.values():
            self.join_within(thing)
        self.number = {}

    def join_within(self, thing):
        """What the part itself joins."""
        name = thing.name
        if thing.on:
            self.join(f"{name}.line", f"{thing.on}.bar")
        if thing.kind == "battery" and thing.word("taps"):
            self.join(f"{name}.neg", f"{name}.t0")
            if "built-in-fuse" not in thing.ratings:
                self.join(f"{name}.pos", f"{name}.t{cells_of(thing)}")

    def root(self, path):
        """The representative of a terminal."""
        self.parent.setdefault(path, path)
        while self.parent[path] != path:
            path = self.parent[path]
        return path

    def join(self, one, other):
        """Makes two terminals one."""
        self.parent[self.root(one)] = self.root(other)

    def of(self, path):
        """The node of a terminal."""
        return self.number.setdefault(self.root(path), len(self.number))

    def inner(self, name):
        """A node that no terminal shows."""
        return self.of(f"{name}.~inner")


def cells_of(thing):
    """Cells in series."""
    return round(thing.base("cells"))


def wire_ohms(wire, corner):
    """From end to end."""
    growth = 1.0
    if corner.hot is not None and wire.name in corner.hot:
        growth = 1 + usual.COPPER_GROWTH * (corner.hot[wire.name] - 20.0)
    if wire.resistance:
        return wire.resistance.base * growth
    copper = 0.0
    area = usual.awg_area(wire.awg) if wire.awg is not None else wire.area.base if wire.area else None
    if area and wire.length:
        copper = usual.COPPER * wire.length.base / (area * 1e-6) * growth
    return copper * over_copper(wire) + 2 * usual.CRIMP


def over_copper(wire):
    """How many times the resistance of copper a wire's metal has."""
    return usual.ALUMINIUM_OVER_COPPER if wire.material in ("aluminium", "copper-clad-aluminium") else 1.0


def lowest_supply(thing):
    """The lower end of the supply range, of a rated voltage 10 % below it; `None` when neither is written."""
    supply = thing.ratings.get("supply")
    if supply:
        return supply[0].base
    volts = thing.base("voltage")
    return None if volts is None else volts * (1 - usual.SUPPLY_MARGIN)


def cutoff_of(thing):
    """Where a load begins to draw less."""
    return max(lowest_supply(thing) or usual.CUTOFF, usual.CUTOFF)


def draw(thing, level):
    """What a load draws at a level: ("amps" | "watts" | "ohms", figure), or `None`.

    `level` is a word or a current in ampere."""
    if isinstance(level, float):
        return ("amps", level)
    electronics = thing.kind in ELECTRONICS
    if level == "off" and not electronics:
        return None
    if level in ("off", "idle"):
        idle = thing.base("idle")
        if idle is not None:
            return behaved(thing, idle)
        return typical(thing) if electronics else None
    for key in {"peak": ["peak"], "stall": ["stall", "peak"]}.get(level, []):
        if thing.base(key) is not None:
            return behaved(thing, thing.base(key))
    return typical(thing)


def typical(thing):
    """In ordinary work."""
    volts = thing.base("voltage")
    if thing.base("typical") is not None:
        return behaved(thing, thing.base("typical"))
    if thing.base("power") is not None:
        return ("watts", thing.base("power"))
    if thing.base("resistance") is not None and thing.kind != "motor":
        return ("ohms", thing.base("resistance"))
    return ("amps", thing.base("peak")) if volts is None and thing.base("peak") else None


def behaved(thing, amps):
    """A current at the rated voltage, as the load draws it at another one."""
    volts = thing.base("voltage")
    if volts is None and "supply" in thing.ratings:
        low, high = thing.ratings["supply"]
        volts = (low.base + high.base) / 2
    if thing.word("draws") == "power" and volts:
        return ("watts", amps * volts)
    if thing.word("draws") == "resistance" and volts:
        return ("ohms", volts / amps)
    return ("amps", amps)


def load_element(thing, a, b, state):
    """A load in a state."""
    figure = draw(thing, state)
    if figure is None:
        return nothing(thing.name, a, b, "load")
    what, number = figure
    if what == "watts":
        return power_load(thing.name, a, b, number, cutoff_of(thing))
    if what == "ohms":
        return resistor(thing.name, a, b, number, "load")
    return steady_load(thing.name, a, b, number, cutoff_of(thing))


def pack_figures(thing, charge):
    """Electromotive force and resistance of a battery."""
    cells, at = cells_of(thing), CHARGES[charge]
    chemistry = thing.word("chemistry")
    emf = thing.base(("full", "voltage", "empty")[at])
    if emf is None:
        emf = cells * usual.CHEMISTRIES[chemistry][at]
    strings = thing.base("strings", 1.0)
    return emf, thing.base("resistance", usual.CELL_RESISTANCE[chemistry] * cells / strings)


def battery_elements(thing, nodes, charge, present):
    """The pack's cells between the taps that are brought out, and its fuse."""
    name, cells = thing.name, cells_of(thing)
    emf, ohms = pack_figures(thing, charge)
    fused = "built-in-fuse" in thing.ratings
    if thing.word("taps"):
        poles = [nodes.of(f"{name}.t{tap}") for tap in range(cells + 1)]
    else:
        poles = [nodes.of(f"{name}.neg"), nodes.inner(name) if fused else nodes.of(f"{name}.pos")]
    share = 1 / (len(poles) - 1)
    for low, high in zip(poles, poles[1:]):
        cell = Element(name, high, low, 1 / (ohms * share), emf * share, role="source")
        yield cell if present else nothing(name, high, low, "source")
    if fused:
        ohms = cold_resistance(thing.base("built-in-fuse"))
        top = nodes.of(f"{name}.pos")
        yield resistor(name, poles[-1], top, ohms, "built-in") if present else nothing(name, poles[-1], top, "openable")


def cold_resistance(rated):
    """Of a fuse inside a pack: makers' blade fuses, the product with the rating on a straight line over its logarithm."""
    ratings, milliohms = zip(*usual.COLD_MILLIOHMS)
    drops = [amps * ohms for amps, ohms in usual.COLD_MILLIOHMS]
    return float(np.interp(np.log(rated), np.log(ratings), drops)) / rated * 1e-3


def supply_figures(thing):
    """Voltage without load, resistance and limit of a charger, supply or generator."""
    volts, amps = thing.base("voltage"), thing.base("current")
    ohms = usual.SUPPLY
    if thing.kind == "generator":
        ohms = (thing.base("full") - volts) / amps
        volts = thing.base("full")
    limit = thing.base("current-limit")
    if limit is None:
        limit = amps if thing.kind == "charger" else amps * usual.LIMIT_OVER_RATED
    return volts, ohms, limit


def supply_element(thing, nodes, present, corner):
    """Its output."""
    a, b = nodes.of(f"{thing.name}.pos"), nodes.of(f"{thing.name}.neg")
    if not present:
        return nothing(thing.name, a, b, "source")
    volts, ohms, limit = supply_figures(thing)
    highest = inf if thing.word("sinks") else 0.0
    return Element(thing.name, a, b, 1 / ohms, volts, -limit, highest, role="source")


def coil_figures(thing, system_volts):
    """Resistance, operate and release voltage."""
    volts = thing.base("coil-voltage", system_volts)
    power = usual.CONTACTOR_COIL_POWER if thing.kind == "contactor" else usual.RELAY_COIL_POWER
    ohms = volts / thing.base("coil") if "coil" in thing.ratings else volts * volts / power
    return ohms, volts * usual.OPERATE_SHARE, volts * usual.RELEASE_SHARE


@dataclass
class Contact:
    """A contact that follows a coil."""

    relay: str
    element: int
    coil: int
    breaks: bool
    operate: float
    release: float
    ohms: float


@dataclass
class Regulator:
    """A converter: which elements are its input and output, and its figures."""

    name: str
    input: int
    output: int
    linear: bool
    efficiency: float
    quiescent: float
    volts: float
    dropout: float
    lowest: float
    cutoff: float
    limit: float
    sinks: bool


def regulator_figures(thing, corner):
    """Set voltage, drop-out, efficiency, lowest input, limit."""
    style = thing.word("style")
    volts = thing.base("output")
    tolerance = thing.base("tolerance", 0.05)
    volts *= 1 + corner.regulators * tolerance
    by_style = {"linear": usual.LINEAR_DROPOUT, "buck": usual.BUCK_DROPOUT}.get(style, 0.0)
    dropout = -volts if style in ("boost", "buck-boost") else thing.base("dropout", by_style)
    limit = thing.base("current-limit", thing.base("current") * usual.LIMIT_OVER_RATED)
    lowest = max(lowest_supply(thing) or usual.CUTOFF, usual.CUTOFF)
    return volts, dropout, limit, lowest
