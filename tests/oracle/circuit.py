"""The circuit of a robot in a mode at a corner: all its elements, and who of them follows whom."""

from dataclasses import dataclass, field

import constants as usual
from elements import (
    ELECTRONICS, LOADS, SOURCES, Contact, Element, Nodes, Regulator, battery_elements, coil_figures, diode, draw,
    load_element, nothing, regulator_figures, resistor, steady_load, supply_element, wire_ohms, cells_of, cutoff_of,
)

DERIVED = ["off", "run", "stall", "pushed", "stop", "charge"]


def mode_names(robot):
    """Written modes, then the derived ones."""
    written = [mode.name for mode in robot.modes]
    kinds = {thing.kind for thing in robot.things.values()}
    needs = {"stop": "stop", "charge": "charger"}
    return written + [name for name in DERIVED if name not in written and needs.get(name, "") in kinds | {""}]


def rest_state(thing, mated):
    """The state of a thing that no line names."""
    kind = thing.kind
    if kind in ("battery", "supply", "generator", "fuse", "breaker", "stop"):
        return "closed"
    if kind == "charger":
        return "open"
    if kind == "switch":
        return "closed" if thing.word("contact") == "break" else "open"
    if kind in ("plug", "socket"):
        return "closed" if thing.name in mated else "open"
    if kind in ELECTRONICS:
        return "idle"
    return "off" if kind in LOADS else "plain"


def states_in(robot, mode):
    """The state of every thing in a mode: a word or a current in ampere."""
    mated = {half for pair in robot.mates for half in pair}
    rest = {name: rest_state(thing, mated) for name, thing in robot.things.items()}
    written = next((found for found in robot.modes if found.name == mode), None)
    if written:
        return written_states(robot, written, rest)
    for name, thing in robot.things.items():
        rest[name] = derived_state(thing, mode, rest[name])
    return rest


def derived_state(thing, mode, rest):
    """The state in a derived mode."""
    kind = thing.kind
    if mode == "pushed" and kind == "motor" and thing.word("back-drivable") is not False:
        return "turned"
    if mode == "charge" and kind == "charger":
        return "closed"
    if mode == "stop" and kind == "stop":
        return "open"
    if mode in ("run", "stall", "stop") and kind == "switch":
        return "closed"
    if mode == "stall" and kind in ("motor", "servo"):
        return "stall"
    if mode in ("run", "stall") and kind in LOADS:
        return "typical"
    return rest


def written_states(robot, mode, states):
    """Everything first, then the lines."""
    for name, thing in robot.things.items():
        if thing.kind in LOADS:
            blocked = mode.level == "stall" and thing.kind not in ("motor", "servo")
            states[name] = "typical" if blocked else mode.level
    words = {"connected": "closed", "absent": "open", "released": "closed", "pressed": "open"}
    for name, written in mode.lines.items():
        number, _, unit = written.partition(" ")
        states[name] = float(number) if unit == "A" else words.get(written, written)
        for pair in robot.mates:
            if name in pair:
                states.update(dict.fromkeys(pair, states[name]))
    return states


@dataclass
class Channel:
    """A channel of a driver."""

    driver: str
    leads: tuple
    bridge: int
    leak: int
    low_side: int
    diodes: list
    limit: float | None


@dataclass
class Driver:
    """A driver: its supply elements."""

    poles: tuple
    steady: int
    power: int
    quiescent: float
    lowest: float


@dataclass
class Winding:
    """A motor."""

    leads: tuple
    element: int
    reverse: int
    volts: float
    ohms: float
    stall: float
    pushed: float


@dataclass
class Circuit:
    """All of it."""

    elements: list = field(default_factory=list)
    contacts: list = field(default_factory=list)
    regulators: list = field(default_factory=list)
    drivers: dict = field(default_factory=dict)
    channels: list = field(default_factory=list)
    windings: dict = field(default_factory=dict)
    wires: dict = field(default_factory=dict)
    nodes: Nodes | None = None
    conductors: set = field(default_factory=set)

    def add(self, element, conductor=False):
        """One more element; says where it stands. A conductor is what a motor's current passes."""
        self.elements.append(element)
        if conductor:
            self.conductors.add(len(self.elements) - 1)
        return len(self.elements) - 1


def system_volts(robot):
    """The voltage that the robot is built around."""
    for thing in robot.things.values():
        if thing.kind == "battery":
            return thing.base("voltage") or cells_of(thing) * usual.CHEMISTRIES[thing.word("chemistry")][1]
    return 12.0


def build(robot, states, corner):
    """The circuit."""
    circuit = Circuit(nodes=Nodes(robot))
    at = circuit.nodes.of
    for wire in robot.wires:
        ohms = wire_ohms(wire, corner)
        circuit.wires[wire.name] = circuit.add(resistor(wire.name, at(wire.start), at(wire.end), ohms), True)
    for one, other in robot.mates:
        mated_ways(circuit, robot, one, other, states)
    for thing in robot.things.values():
        lay = LAY.get(thing.kind)
        if lay:
            lay(circuit, robot, thing, states, corner)
    mark_bridged(circuit, robot, states)
    return circuit


def mated_ways(circuit, robot, one, other, states):
    """The worse of the two halves counts."""
    halves = [robot.things[one], robot.things[other]]
    ohms = max(half.base("contact-resistance", usual.CONTACT) for half in halves)
    closed = "open" not in (states[one], states[other])
    for way in range(1, round(halves[0].base("ways")) + 1):
        a, b = circuit.nodes.of(f"{one}.{way}"), circuit.nodes.of(f"{other}.{way}")
        circuit.add(resistor("mate", a, b, ohms) if closed else nothing("mate", a, b, "openable"), closed)


def between(circuit, thing, first, second):
    """The nodes of two terminals."""
    return circuit.nodes.of(f"{thing.name}.{first}"), circuit.nodes.of(f"{thing.name}.{second}")


def lay_contact(circuit, thing, ends, ohms, closed):
    """Something that conducts when it is closed."""
    a, b = between(circuit, thing, *ends)
    circuit.add(resistor(thing.name, a, b, ohms) if closed else nothing(thing.name, a, b, "openable"), closed)


def battery(circuit, robot, thing, states, corner):
    """A battery."""
    for element in battery_elements(thing, circuit.nodes, corner.charge, states[thing.name] != "open"):
        circuit.add(element, element.role == "built-in")


def supply(circuit, robot, thing, states, corner):
    """A charger, supply or generator."""
    circuit.add(supply_element(thing, circuit.nodes, states[thing.name] != "open", corner))


def protective(circuit, robot, thing, states, corner):
    """A fuse or breaker."""
    ohms = thing.base("resistance", usual.PROTECTIVE_DROP / thing.base("current"))
    lay_contact(circuit, thing, ("line", "load"), ohms, states[thing.name] != "open")


def switch(circuit, robot, thing, states, corner):
    """A switch."""
    ohms = thing.base("contact-resistance", usual.CONTACT)
    lay_contact(circuit, thing, ("1", "2"), ohms, states[thing.name] == "closed")


def stop(circuit, robot, thing, states, corner):
    """A stop."""
    lay_contact(circuit, thing, ("11", "12"), usual.CONTACT, states[thing.name] == "closed")


def relay(circuit, robot, thing, states, corner):
    """A relay or contactor: coil, diode, contacts."""
    # A warm coil has more resistance, and needs as much more voltage for its current.
    ohms, operate, release = (figure * corner.coils for figure in coil_figures(thing, system_volts(robot)))
    a, b = between(circuit, thing, "A1", "A2")
    coil = circuit.add(resistor(thing.name, a, b, ohms, "coil"))
    if thing.word("suppression") == "diode":
        circuit.add(diode(thing.name, b, a, usual.SILICON))
    ways = [("1", "2", False)] if thing.kind == "contactor" else [("11", "12", True), ("11", "14", False)]
    for first, second, breaks in ways:
        a, b = between(circuit, thing, first, second)
        contact = circuit.add(nothing(thing.name, a, b))
        circuit.contacts.append(
            Contact(thing.name, contact, coil, breaks, operate, release, thing.base("contact-resistance", usual.CONTACT)))


def regulator(circuit, robot, thing, states, corner):
    """A regulator: input, output, and the joint of its negatives."""
    volts, dropout, limit, lowest = regulator_figures(thing, corner)
    a, b = between(circuit, thing, "in", "in-neg")
    c, d = between(circuit, thing, "out", "out-neg")
    cutoff = max(lowest, usual.CUTOFF)
    taken = circuit.add(nothing(thing.name, a, b, "input"))
    given = circuit.add(nothing(thing.name, c, d, "output"))
    circuit.add(resistor(thing.name, a, b, usual.BUS_LEAK, "input"))
    circuit.add(resistor(thing.name, c, d, usual.BUS_LEAK))
    linear = thing.word("style") == "linear"
    circuit.regulators.append(Regulator(
        thing.name, taken, given, linear, thing.base("efficiency", usual.REGULATOR_EFFICIENCY), thing.base("quiescent", 0.0),
        volts, dropout, lowest, cutoff, limit, bool(thing.word("sinks"))))
    if not thing.word("isolated"):
        circuit.add(resistor(thing.name, b, d, usual.REGULATOR_GROUND))


def driver(circuit, robot, thing, states, corner):
    """A driver at rest: its quiescent draw, its leak, its freewheel diodes."""
    poles = between(circuit, thing, "pos", "neg")
    quiescent, lowest = thing.base("quiescent", 0.0), cutoff_of(thing)
    steady = circuit.add(steady_load(thing.name, *poles, quiescent, lowest, "draw"))
    power = circuit.add(nothing(thing.name, *poles, "draw"))
    circuit.add(resistor(thing.name, *poles, usual.BUS_LEAK, "draw"))
    circuit.drivers[thing.name] = Driver(poles, steady, power, quiescent, lowest)
    for number in range(1, round(thing.base("channels")) + 1):
        a, b = between(circuit, thing, f"m{number}a", f"m{number}b")
        pairs = [(a, poles[0]), (b, poles[0]), (poles[1], a), (poles[1], b)]
        circuit.channels.append(Channel(
            thing.name, (a, b), circuit.add(nothing(thing.name, a, b)), circuit.add(nothing(thing.name, a, b)),
            circuit.add(nothing(thing.name, b, poles[1])),
            [circuit.add(diode(thing.name, *pair, usual.SILICON)) for pair in pairs], thing.base("current-limit")))


def motor(circuit, robot, thing, states, corner):
    """A motor. What it does at rest depends on whether a bridge can drive it: see `mark_bridged`."""
    a, b = between(circuit, thing, "a", "b")
    volts = thing.base("voltage")
    current = thing.base("typical")
    ohms = thing.base("resistance")
    if ohms is None:
        ohms = volts / (thing.base("stall") or current * usual.STALL_OVER_TYPICAL)
    circuit.windings[thing.name] = Winding(
        (a, b), circuit.add(nothing(thing.name, a, b, "winding")), circuit.add(nothing(thing.name, b, a, "winding back")),
        volts, ohms, thing.base("stall", volts / ohms), thing.base("pushed", volts))


def motor_amps(circuit, robot, name, state):
    """The current that a motor is to draw."""
    if state == "stall":
        return circuit.windings[name].stall
    figure = None if state in ("turned", "plain") else draw(robot.things[name], state)
    return figure[1] if figure else 0.0


def mark_bridged(circuit, robot, states):
    """Lays every winding as it is while nothing drives it: a motor that no bridge can reach, whatever its contacts do,
    draws from its supply by itself."""
    reach = Groups()
    for number, element in enumerate(circuit.elements):
        if conducts_if_closed(circuit, number):
            reach.join(element.a, element.b)
    driven = {reach.root(lead) for channel in circuit.channels for lead in channel.leads}
    for name, winding in circuit.windings.items():
        bridged = any(reach.root(lead) in driven for lead in winding.leads)
        a, b = winding.leads
        state = states[name]
        forward, back = nothing(name, a, b, "winding"), nothing(name, b, a, "winding back")
        if state == "turned":
            forward = Element(name, a, b, 1 / winding.ohms, winding.pushed, role="winding")
        elif bridged or state == "stall":
            forward = resistor(name, a, b, winding.ohms, "winding")
        else:
            amps = motor_amps(circuit, robot, name, state)
            forward = steady_load(name, a, b, amps, usual.CUTOFF, "winding")
            back = steady_load(name, b, a, amps, usual.CUTOFF, "winding back")
        circuit.elements[winding.element], circuit.elements[winding.reverse] = forward, back


def conducts_if_closed(circuit, number):
    """Whether a motor's current could pass an element when contacts stand the right way."""
    contacts = {contact.element for contact in circuit.contacts}
    return number in circuit.conductors or number in contacts or circuit.elements[number].role == "openable"


class Groups:
    """Numbers that belong together."""

    def __init__(self):
        self.parent = {}

    def root(self, number):
        """The representative."""
        parent = self.parent
        parent.setdefault(number, number)
        while parent[number] != number:
            parent[number] = parent[parent[number]]
            number = parent[number]
        return number

    def join(self, one, other):
        """Puts two together."""
        self.parent[self.root(one)] = self.root(other)


def load(circuit, robot, thing, states, corner):
    """Anything that draws between its poles."""
    a, b = between(circuit, thing, "pos", "neg")
    circuit.add(load_element(thing, a, b, states[thing.name]))


def plain_resistor(circuit, robot, thing, states, corner):
    """A resistor."""
    a, b = between(circuit, thing, "1", "2")
    circuit.add(resistor(thing.name, a, b, thing.base("resistance")))


def shunt(circuit, robot, thing, states, corner):
    """A shunt."""
    a, b = between(circuit, thing, "1", "2")
    circuit.add(resistor(thing.name, a, b, thing.base("drop", usual.SHUNT_DROP) / thing.base("current")), True)


def plain_diode(circuit, robot, thing, states, corner):
    """A diode."""
    a, b = between(circuit, thing, "anode", "cathode")
    drop = thing.base("forward", usual.FORWARD[thing.word("style", "silicon")])
    circuit.add(diode(thing.name, a, b, drop))


def clamp(circuit, robot, thing, states, corner):
    """A clamp, and what it does when it is reversed."""
    a, b = between(circuit, thing, "pos", "neg")
    ohms = thing.base("resistance", usual.CLAMP)
    circuit.add(diode(thing.name, a, b, thing.base("clamps-at"), ohms))
    if thing.word("style") == "transient-diode":
        circuit.add(diode(thing.name, b, a, usual.SILICON))
    if thing.word("style") == "varistor":
        circuit.add(diode(thing.name, b, a, thing.base("clamps-at"), ohms))


def slip_ring(circuit, robot, thing, states, corner):
    """A slip ring."""
    for way in range(1, round(thing.base("ways")) + 1):
        a, b = between(circuit, thing, f"s{way}", f"r{way}")
        circuit.add(resistor(thing.name, a, b, thing.base("contact-resistance", usual.RING)), True)


LAY = {
    "battery": battery, "charger": supply, "supply": supply, "generator": supply, "fuse": protective,
    "breaker": protective, "switch": switch, "stop": stop, "relay": relay, "contactor": relay, "regulator": regulator,
    "driver": driver, "motor": motor, "resistor": plain_resistor, "shunt": shunt, "diode": plain_diode, "clamp": clamp,
    "slip-ring": slip_ring, **dict.fromkeys(LOADS - {"motor"}, load),
}
