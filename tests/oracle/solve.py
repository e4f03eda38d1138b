"""Working points of a robot from its description: contacts, regulators and drivers settled around the numbers."""

from dataclasses import replace
from math import inf

import numpy as np

import constants as usual
from circuit import Groups, build, mode_names, motor_amps, states_in
from elements import Corner, Element, nothing, resistor, steady_load
from newton import Field, Lost, Point, currents, hold_powers, minimise, polish

#: Rounds in which loads of a power and regulators follow, and how still they have to stand, volt, before Newton's method
#: takes over; where it does not find its way from there, they go on.
FOLLOW, NEAR = 400, [1e-5, 1e-7, 1e-9]


class Settled:
    """A solved point with what it needs to be read and to begin the next one from."""

    def __init__(self, circuit, point, closed, running):
        self.circuit, self.point, self.closed, self.running = circuit, point, closed, running

    def amps(self, number):
        """Current of an element."""
        return self.point.amps[number]

    def volts(self, one, other):
        """Voltage between two nodes; nothing when nothing joins them."""
        if self.point.island[one] != self.point.island[other]:
            return None
        return self.point.volts[one] - self.point.volts[other]


def settle(circuit, closed, running, start=None):
    """Lets contacts follow their coils until they stand still. Begins with the contacts as `closed` says."""
    tried = {tuple(closed)}
    while True:
        lay_contacts(circuit, closed)
        point, running = converge(circuit, running, start)
        wanted = [wants(contact, shut, point) for contact, shut in zip(circuit.contacts, closed)]
        if wanted == closed:
            return Settled(circuit, point, closed, running)
        if tuple(wanted) in tried:
            raise Lost("contacts go round")
        tried.add(tuple(wanted))
        closed, start = wanted, point.volts


def lay_contacts(circuit, closed):
    """Closes and opens."""
    for contact, shut in zip(circuit.contacts, closed):
        old = circuit.elements[contact.element]
        circuit.elements[contact.element] = (
            resistor(old.owner, old.a, old.b, contact.ohms) if shut else nothing(old.owner, old.a, old.b))


def wants(contact, shut, point):
    """Between release and operate a contact stays as it is."""
    coil = abs(point.across[contact.coil])
    if coil >= contact.operate:
        return not contact.breaks
    return contact.breaks if coil < contact.release else shut


def converge(circuit, running, start):
    """One working point with the contacts as they stand."""
    field = Field(circuit.elements, len(circuit.nodes.number))
    volts = np.zeros(field.count) if start is None else start
    regulators = circuit.regulators
    running = list(running)
    trips = [0] * len(running)
    asked = {}
    for number in np.flatnonzero(field.is_power):
        asked[number] = (field.watts[number], field.cutoff[number])
    lay_regulators(field, regulators, running, volts, None)
    # From above: first without the loads of a power.
    for number in asked:
        field.set_power(number, 0.0, 1.0)
        field.set_line(number, 0.0, 0.0, 0.0, 0.0)
    volts = minimise(field, volts)
    for number, (watts, cutoff) in asked.items():
        field.set_power(number, watts, cutoff)
    for near in NEAR:
        volts = follow(field, regulators, running, trips, volts, near)
        try:
            point = polish(field, regulators, running, volts)
            break
        except Lost:
            if near == NEAR[-1]:
                raise
    judge(field, regulators, running, trips, point)
    return point, running


def follow(field, regulators, running, trips, volts, near):
    """Minimum after minimum, loads of a power and regulators following, until all stands still."""
    moved = None
    for _ in range(FOLLOW):
        steady = moved is not None and moved < near
        if not switch_regulators(regulators, running, trips, field.across(volts), steady) and steady:
            return volts
        lay_regulators(field, regulators, running, volts, currents(field, volts)[0])
        hold_powers(field, volts)
        before = volts
        volts = minimise(field, volts)
        moved = np.abs(volts - before).max()
    raise Lost("loads and regulators do not come to rest")


def switch_regulators(regulators, running, trips, across, steady):
    """Starts what has its lowest input, and once all stands still stops what has not: the second time for good."""
    switched = False
    for at, regulator in enumerate(regulators):
        enough = across[regulator.input] >= regulator.lowest
        if enough and not running[at]:
            if trips[at] < 2:
                running[at] = switched = True
        elif running[at] and steady and not enough:
            running[at], switched = False, True
            trips[at] += 1
    return switched


def lay_regulators(field, regulators, running, volts, amps):
    """Lays inputs and outputs as they are at these voltages and currents."""
    for regulator, runs in zip(regulators, running):
        across = field.across(volts)
        given, taken = regulator.output, regulator.input
        if not runs:
            field.set_line(given, 1 / usual.REGULATOR, 0.0, 0.0, 0.0)
            field.set_line(taken, 0.0, 0.0, 0.0, 0.0)
            continue
        emf = min(max(across[taken] - regulator.dropout, 0.0), regulator.volts)
        field.set_line(given, 1 / usual.REGULATOR, emf, -regulator.limit, inf if regulator.sinks else 0.0)
        out = max(-amps[given], 0.0) if amps is not None else 0.0
        volts_in = max(across[taken], regulator.cutoff)
        drawn = out + regulator.quiescent
        if not regulator.linear:
            drawn = out * max(across[given], 0.0) / regulator.efficiency / volts_in + regulator.quiescent
        field.set_line(taken, drawn / regulator.cutoff, 0.0, 0.0, drawn)


def judge(field, regulators, running, trips, point):
    """Notes what asks for more than there is: a regulator that starts and trips for ever, and loads of a power that stand
    below their cut-off. Such a point is a solution of the equations and something to plan by, but no working point."""
    across = field.across(point.volts)
    point.across = across
    point.overdrawn = []
    for at, (regulator, runs) in enumerate(zip(regulators, running)):
        enough = across[regulator.input] >= regulator.lowest
        if runs and not enough:
            raise Lost(f"{regulator.name} stands at the edge of its lowest input")
        if enough and not runs:
            point.overdrawn.append(regulator.name)
    point.overdrawn += starved(field, across, point.volts)


def starved(field, across, volts):
    """The loads of a power that stand below their cut-off and would stand above it if none of them drew anything."""
    sagging = [number for number in np.flatnonzero(field.is_power)
               if 1e-6 * field.cutoff[number] < across[number] < field.cutoff[number]]
    if not sagging:
        return []
    cutoffs = field.cutoff[sagging]
    hold_powers(field, volts)
    for number in sagging:
        field.set_line(number, 0.0, 0.0, 0.0, 0.0)
        field.set_power(number, 0.0, 1.0)
    without = field.across(minimise(field, volts))[sagging]
    return [int(number) for number, held in zip(sagging, without >= cutoffs) if held]


# ---- drivers ------------------------------------------------------------------------------------------------------


def drive(robot, states, idle, fresh):
    """Lets the drivers drive until what they do stands still. `fresh` makes a circuit in which nothing drives."""
    plan, now, through = None, idle, set()
    for _ in range(8):
        wanted = plan_for(robot, states, idle, now, through)
        if wanted == plan or (plan is None and not wanted):
            return now
        plan = wanted
        circuit = fresh()
        apply(circuit, plan)
        now = settle(circuit, now.closed, now.running, now.point.volts)
    raise Lost("drivers do not come to rest")


def plan_for(robot, states, idle, now, through):
    """What each channel that drives does: (channel, amps, watts, passes through, its windings' voltages)."""
    circuit = now.circuit
    joined = Groups()
    closed = {contact.element for contact, shut in zip(circuit.contacts, now.closed) if shut}
    for number in circuit.conductors | closed:
        joined.join(circuit.elements[number].a, circuit.elements[number].b)
    plan = []
    for number, motors in motors_on(circuit, joined).items():
        driver = circuit.drivers[circuit.channels[number].driver]
        supply = idle.volts(*driver.poles) or 0.0
        if supply < driver.lowest:
            continue
        driven = channel_plan(robot, states, circuit, number, motors, supply)
        if driven:
            amps, watts, windings = driven
            sagged = now.volts(*driver.poles) or 0.0
            if watts / amps >= sagged:
                through.add(number)
            plan.append((number, amps, watts, number in through, tuple(windings)))
    return plan


def motors_on(circuit, joined):
    """The motors of each channel, each with whether it is the other way round."""
    channels, motors = {}, {}
    for number, channel in enumerate(circuit.channels):
        ends = tuple(joined.root(lead) for lead in channel.leads)
        if ends[0] != ends[1]:
            channels.setdefault(ends, number)
    for name, winding in circuit.windings.items():
        ends = tuple(joined.root(lead) for lead in winding.leads)
        if ends in channels:
            motors.setdefault(channels[ends], []).append((name, False))
        elif ends[::-1] in channels:
            motors.setdefault(channels[ends[::-1]], []).append((name, True))
    return dict(sorted(motors.items()))


def channel_plan(robot, states, circuit, number, motors, supply):
    """Current, power and windings of a channel; nothing when its motors draw nothing."""
    wanted = {name: motor_amps(circuit, robot, name, states[name]) for name, _ in motors}
    total, limit = sum(wanted.values()), circuit.channels[number].limit
    if total <= 0:
        return None
    share = limit / total if limit is not None and total > limit else 1.0
    watts, windings = 0.0, []
    for name, turned in motors:
        winding, amps = circuit.windings[name], wanted[name] * share
        volts = min(amps * winding.ohms if states[name] == "stall" else winding.volts, supply)
        emf = max(volts - amps * winding.ohms, 0.0)
        watts += volts * amps
        windings.append((name, -emf if turned else emf))
    return total * share, watts / usual.DRIVER_EFFICIENCY, windings


def apply(circuit, plan):
    """Lays a plan over a circuit in which nothing drives."""
    supplies = {name: [0.0, 0.0, 0.0] for name in circuit.drivers}
    for number, amps, watts, through, windings in plan:
        channel = circuit.channels[number]
        (a, b), owner = channel.leads, channel.driver
        for name, emf in windings:
            winding = circuit.windings[name]
            ends = winding.leads
            circuit.elements[winding.element] = Element(name, *ends, 1 / winding.ohms, emf, role="winding")
        circuit.elements[channel.bridge] = Element(owner, a, b, lowest=-amps, highest=-amps)
        circuit.elements[channel.leak] = resistor(owner, a, b, usual.BRIDGE_LEAK)
        low = circuit.elements[channel.low_side]
        circuit.elements[channel.low_side] = resistor(owner, low.a, low.b, usual.BRIDGE)
        for diode in channel.diodes:
            old = circuit.elements[diode]
            circuit.elements[diode] = nothing(owner, old.a, old.b)
        sums = supplies[owner]
        if through:
            sums[0] += amps
        else:
            sums[1], sums[2] = sums[1] + watts, sums[2] + amps
    for name, (steady, watts, amps) in supplies.items():
        driver = circuit.drivers[name]
        circuit.elements[driver.steady] = steady_load(name, *driver.poles, driver.quiescent + steady, driver.lowest, "draw")
        if watts > 0:
            circuit.elements[driver.power] = Element(name, *driver.poles, watts=watts, cutoff=watts / amps, role="draw")


# ---- points -------------------------------------------------------------------------------------------------------


def point(robot, states, corner, before=None):
    """The point of a mode; begins with the contacts of an earlier one, at rest without it."""
    circuit = build(robot, states, corner)

    def fresh():
        return replace(circuit, elements=list(circuit.elements))

    if before is None:
        closed = [contact.breaks != (states[contact.relay] == "held") for contact in circuit.contacts]
        running, start = [False] * len(circuit.regulators), None
    else:
        closed, running, start = list(before.closed), before.running, before.point.volts
    at_rest = [False] * len(running)
    idle = settle(fresh(), closed, at_rest, start)
    moves = any(motor_amps(circuit, robot, name, states[name]) > 0 for name in circuit.windings)
    return drive(robot, states, idle, fresh) if moves else idle
