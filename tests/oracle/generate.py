"""Random robots, always the same ones for the same seed: sound texts whose elements that are not straight are at work."""

import random

from constants import CHEMISTRIES
from robot import Mode, Quantity, Robot, Thing, Wire, quantity

AWGS = list(range(4, 25, 2))
FUSES = [3, 5, 7.5, 10, 15, 20, 25, 30, 40]


class Rail:
    """Two terminals between which a voltage stands, and what hangs on them may draw."""

    def __init__(self, plus, minus, volts, amps, depth=0):
        self.plus, self.minus, self.volts, self.amps, self.depth = plus, minus, volts, amps, depth

    def take(self, amps):
        """Uses up some of what the rail carries."""
        self.amps -= amps


class Maker:
    """A robot under construction."""

    def __init__(self, seed):
        self.dice = random.Random(seed)
        #: Dice of their own for what came later, so that it leaves the rest of a robot as it is.
        self.later = random.Random(f"later {seed}")
        self.robot = Robot(f"Oracle {seed}")
        self.counts = {}
        self.switches = []
        self.motors = []
        self.loads = []
        self.relays = []
        self.full = False
        self.most = int(self.dice.triangular(6, 56, 14))

    # ---- small helpers ----------------------------------------------------------------------------------------

    def chance(self, share):
        """Whether something happens that happens so often."""
        return self.dice.random() < share

    def about(self, low, high, unit, digits=3):
        """A quantity somewhere in a range."""
        return quantity(self.dice.uniform(low, high), unit, digits)

    def name(self, prefix):
        """A name that nothing has yet."""
        self.counts[prefix] = self.counts.get(prefix, 0) + 1
        return f"{prefix}{self.counts[prefix]}"

    def thing(self, kind, prefix, on=None, **ratings):
        """Adds a part; in keys `_` stands for `-`."""
        name = self.name(prefix)
        written = {key.replace("_", "-"): value for key, value in ratings.items() if value is not None}
        self.robot.things[name] = Thing(kind, name, written, on)
        return name

    def wire(self, start, end, amps=1.0):
        """Joins two terminals with some conductor."""
        wire = Wire(self.name("W"), start, end)
        stout = [gauge for gauge in AWGS if gauge <= 16] if amps > 8 else AWGS
        if self.chance(0.85):
            wire.awg = self.dice.choice(stout)
        elif self.chance(0.9):
            wire.area = Quantity(self.dice.choice([0.5, 0.75, 1, 1.5, 2.5, 4, 6]), "mm²")
        if self.chance(0.96):
            wire.length = quantity(self.dice.choice([self.dice.uniform(40, 300), self.dice.uniform(100, 1500)]), "mm")
        if self.chance(0.03):
            wire.resistance = self.about(1, 30, "mΩ")
        if self.chance(0.04):
            wire.material = self.dice.choice(["aluminium", "copper-clad-aluminium", "tinned-copper"])
        wire.sheathed = self.chance(0.1)
        self.robot.wires.append(wire)

    def may_grow(self):
        """Whether there is room for more."""
        return len(self.robot.wires) < self.most

    # ---- sources ----------------------------------------------------------------------------------------------

    def packs(self):
        """One bank of packs on a pair of bars, and the rail that they make."""
        chemistry = self.dice.choice(list(CHEMISTRIES))
        nominal = CHEMISTRIES[chemistry][1]
        cells = self.dice.choice([n for n in (3, 4, 6, 7, 8, 10, 12) if 9 < n * nominal < 46])
        plus = self.dice.choice([self.block, self.stud])()
        minus = self.dice.choice([self.block, self.stud, self.chassis])()
        count = self.dice.choice([1, 1, 2, 2, 2, 3, 4])
        if self.later.random() < 0.08:
            return self.mains(plus, minus, cells * nominal)
        if cells * nominal < 23 and self.later.random() < 0.3:
            # Two of them on top of each other.
            middle = self.dice.choice([self.block, self.stud])()
            self.pack(chemistry, cells, middle, minus)
            self.pack(chemistry, cells, plus, middle)
            return Rail(plus, minus, 2 * cells * nominal, 30.0)
        for _ in range(count):
            self.pack(chemistry, cells, plus, minus)
        return Rail(plus, minus, cells * nominal, 20.0 + 10 * count)

    def mains(self, plus, minus, volts):
        """No pack at all: one or two supplies, or a generator."""
        for _ in range(self.later.choice([1, 1, 2])):
            kind = self.later.choice(["supply", "supply", "generator"])
            amps = Quantity(self.later.choice([15, 30, 60]), "A")
            if kind == "supply":
                limit = Quantity(round(amps.number * 1.25), "A") if self.later.random() < 0.5 else None
                source = self.thing(kind, "PSU", voltage=quantity(volts, "V"), current=amps, current_limit=limit)
            else:
                source = self.thing(kind, "GEN", style="alternator", voltage=quantity(volts, "V"),
                                    full=quantity(volts * 1.15, "V"), current=amps)
            self.wire(self.way_out(f"{source}.pos"), plus, 20)
            self.wire(f"{source}.neg", minus, 20)
        return Rail(plus, minus, volts, 12.0)

    def pack(self, chemistry, cells, plus, minus):
        """A pack, unlike its neighbours in charge, resistance or chemistry."""
        volts = CHEMISTRIES[chemistry]
        like = [other for other, row in CHEMISTRIES.items() if abs(row[1] - volts[1]) < 0.6]
        ratings = {"chemistry": self.dice.choice(like) if self.chance(0.4) else chemistry, "cells": Quantity(cells, "S")}
        if self.chance(0.8):
            ratings["resistance"] = self.about(4, 60, "mΩ")
        if self.chance(0.2):
            ratings["strings"] = Quantity(self.dice.choice([2, 3]), "P")
        if ratings["chemistry"] != chemistry or self.chance(0.35):
            # Packs in parallel may differ by 2 % when they are full; below that they differ as they like.
            shares = [self.dice.uniform(0.985, 1.0), self.dice.uniform(0.95, 1.0), self.dice.uniform(0.9, 1.0)]
            for key, cell, share in zip(("full", "voltage", "empty"), volts, shares):
                ratings[key] = quantity(cell * cells * share, "V", 4)
        if self.chance(0.1):
            ratings["built_in_fuse"] = Quantity(self.dice.choice([30, 40, 60]), "A")
        taps = self.chance(0.25)
        pack = self.thing("battery", "PACK", taps=taps or None, **ratings)
        top = self.way_out(f"{pack}.pos")
        self.wire(top, plus, 20)
        bottom = f"{pack}.neg"
        if self.chance(0.15):
            shunt = self.thing("shunt", "SH", current=Quantity(100, "A"), drop=Quantity(75, "mV"))
            self.wire(bottom, f"{shunt}.1", 20)
            bottom = f"{shunt}.2"
        self.wire(bottom, minus, 20)
        if taps:
            self.balance_leads(pack, cells, volts[1])

    def way_out(self, pole):
        """A device at a pole, sometimes with a plug or a diode behind it."""
        if self.chance(0.75):
            fuse = self.thing("fuse", "F", current=Quantity(self.dice.choice([40, 60, 80]), "A"), style="bolt-down")
            self.join(pole, f"{fuse}.line")
            pole = f"{fuse}.load"
        if self.chance(0.15):
            pole = self.through_plug(pole, 20)
        if self.chance(0.12):
            diode = self.thing("diode", "D", style=self.dice.choice(["schottky", "ideal", "silicon"]))
            self.wire(pole, f"{diode}.anode", 20)
            pole = f"{diode}.cathode"
        return pole

    def join(self, one, other):
        """A tie or a short wire."""
        if self.chance(0.5):
            self.robot.ties.append((one, other))
        else:
            self.wire(one, other, 20)

    def balance_leads(self, pack, cells, cell_volts):
        """Loads on taps: a small one between two taps, or between a tap and negative."""
        tap = self.dice.randrange(1, cells)
        volts = tap * cell_volts
        load = self.resistive(volts, 0.2)
        self.wire(f"{pack}.t{tap}", f"{load}.pos")
        self.wire(f"{load}.neg", f"{pack}.t0" if self.chance(0.7) else f"{pack}.neg")

    def block(self):
        """A bar."""
        return self.thing("block", "B", ways=Quantity(12, "way")) + ".bar"

    def stud(self):
        """A stud."""
        return self.thing("stud", "ST") + ".stud"

    def chassis(self):
        """The frame, once."""
        return self.thing("chassis", "FRAME", carries_return=True) + ".frame" if "FRAME1" not in self.robot.things \
            else "FRAME1.frame"

    def further_source(self, rail):
        """A charger, bench supply or solar panel beside the packs."""
        kind = self.dice.choice(["charger", "supply", "generator"])
        if kind == "charger":
            volts = quantity(rail.volts * self.dice.uniform(1.0, 1.2), "V")
            source = self.thing(kind, "CHG", voltage=volts, current=self.about(1, 10, "A"))
        elif kind == "supply":
            limit = self.about(3, 12, "A") if self.chance(0.5) else None
            source = self.thing(kind, "PSU", voltage=quantity(rail.volts * self.dice.uniform(0.9, 1.15), "V"),
                                current=self.about(3, 10, "A"), current_limit=limit,
                                sinks=True if self.chance(0.3) else None)
        else:
            volts = rail.volts * self.dice.uniform(1.0, 1.2)
            source = self.thing(kind, "SUN", style="solar", voltage=quantity(volts, "V"),
                                full=quantity(volts * self.dice.uniform(1.1, 1.3), "V"), current=self.about(1, 6, "A"))
        plus = f"{source}.pos"
        if self.chance(0.4):
            diode = self.thing("diode", "D", style=self.dice.choice(["schottky", "silicon"]))
            self.wire(plus, f"{diode}.anode", 10)
            plus = f"{diode}.cathode"
        self.wire(plus, self.branch(rail, 8) if self.chance(0.5) else rail.plus, 10)
        self.wire(f"{source}.neg", rail.minus, 10)

    # ---- ways -------------------------------------------------------------------------------------------------

    def branch(self, rail, amps):
        """A terminal behind the rail's positive, past some devices and contacts."""
        at = rail.plus
        if self.chance(0.8):
            at = self.device(at, amps)
        for _ in range(self.dice.choice([0, 0, 1, 1, 2])):
            at = self.dice.choice([
                self.through_switch, self.through_plug, self.through_splice, self.through_ring, self.through_breaker,
                self.through_shunt, self.through_resistor, self.through_diode, self.through_stop,
            ])(at, amps)
        if self.chance(0.14) and self.may_grow():
            at = self.through_relay(rail, at, amps)
        return at

    def device(self, at, amps):
        """A fuse, plugged into the bar where there is one."""
        rated = Quantity(next((size for size in FUSES if size >= amps), 60), "A")
        style = self.dice.choice(["blade", "mini-blade", "cartridge"])
        if at.endswith(".bar"):
            return self.thing("fuse", "F", on=at.split(".")[0], current=rated, style=style) + ".load"
        measured = self.about(1, 20, "mΩ") if self.chance(0.2) else None
        fuse = self.thing("fuse", "F", current=rated, style=style, resistance=measured)
        self.wire(at, f"{fuse}.line", amps)
        return f"{fuse}.load"

    def through_switch(self, at, amps):
        """Past a pole of a switch."""
        contact = self.about(0.5, 8, "mΩ") if self.chance(0.3) else None
        breaks = "break" if self.chance(0.15) else None
        switch = self.thing("switch", "S", current=Quantity(20, "A"), contact=breaks, contact_resistance=contact)
        self.switches.append(switch)
        self.wire(at, f"{switch}.1", amps)
        return f"{switch}.2"

    def through_stop(self, at, amps):
        """Past a contact of a stop."""
        stop = self.thing("stop", "STOP", current=Quantity(20, "A"))
        self.wire(at, f"{stop}.11", amps)
        return f"{stop}.12"

    def through_breaker(self, at, amps):
        """Past a breaker."""
        breaker = self.thing("breaker", "CB", current=self.about(max(amps, 3), 40, "A", 2), style="thermal")
        self.wire(at, f"{breaker}.line", amps)
        return f"{breaker}.load"

    def through_plug(self, at, amps):
        """Past a mated way."""
        ways = Quantity(self.dice.choice([1, 2, 3]), "way")
        halves = [self.thing(kind, prefix, ways=ways,
                             contact_resistance=self.about(0.5, 5, "mΩ") if self.chance(0.4) else None)
                  for kind, prefix in (("socket", "J"), ("plug", "P"))]
        self.robot.mates.append((halves[1], halves[0]))
        way = self.dice.randrange(1, int(ways.number) + 1)
        self.wire(at, f"{halves[0]}.{way}", amps)
        return f"{halves[1]}.{way}"

    def through_splice(self, at, amps):
        """Past a splice."""
        splice = self.thing("splice", "SP")
        self.wire(at, f"{splice}.joint", amps)
        return f"{splice}.joint"

    def through_ring(self, at, amps):
        """Past a slip ring."""
        ring = self.thing("slip-ring", "SR", ways=Quantity(3, "way"))
        way = self.dice.randrange(1, 4)
        self.wire(at, f"{ring}.s{way}", amps)
        return f"{ring}.r{way}"

    def through_shunt(self, at, amps):
        """Past a shunt."""
        shunt = self.thing("shunt", "SH", current=Quantity(50, "A"), drop=self.about(50, 100, "mV", 2))
        self.wire(at, f"{shunt}.1", amps)
        return f"{shunt}.2"

    def through_resistor(self, at, amps):
        """Past a resistor that drops next to nothing, or a tenth of a volt or two."""
        resistor = self.thing("resistor", "R", resistance=quantity(self.dice.uniform(0.01, 0.3) / max(amps, 0.1), "Ω", 2))
        self.wire(at, f"{resistor}.1", amps)
        return f"{resistor}.2"

    def through_diode(self, at, amps):
        """Past a diode, the right way round."""
        forward = self.about(0.3, 0.9, "V", 2) if self.chance(0.3) else None
        diode = self.thing("diode", "D", style=self.dice.choice(["silicon", "schottky", "ideal"]), forward=forward)
        self.wire(at, f"{diode}.anode", amps)
        return f"{diode}.cathode"

    def through_relay(self, rail, at, amps):
        """Past a contact that follows a coil of the same rail."""
        kind = self.dice.choice(["relay", "relay", "contactor"])
        volts = rail.volts * self.dice.choice([0.8, 1.0, 1.0, 1.25])
        relay = self.thing(kind, "K", coil_voltage=quantity(volts, "V", 2), current=Quantity(30, "A"),
                           coil=self.about(40, 250, "mA") if self.chance(0.8) else None,
                           suppression="diode" if self.chance(0.5) else None)
        self.relays.append(relay)
        command = rail.plus
        if self.chance(0.6):
            command = self.device(command, 1)
        if self.chance(0.75):
            command = self.through_switch(command, 1)
        self.wire(command, f"{relay}.A1")
        self.wire(f"{relay}.A2", self.way_back(rail))
        if kind == "contactor":
            common, other = f"{relay}.1", f"{relay}.2"
        else:
            common, other = f"{relay}.11", f"{relay}.{'14' if self.chance(0.75) else '12'}"
        self.wire(at, common, amps)
        if kind == "relay" and self.chance(0.15):
            # It holds itself once it has been started.
            self.wire(other, f"{relay}.A1")
        return other

    def way_back(self, rail):
        """A terminal on the rail's negative side."""
        if self.chance(0.12):
            frame = self.chassis()
            if not any({wire.start, wire.end} == {frame, rail.minus} for wire in self.robot.wires) \
                    and frame != rail.minus:
                self.wire(frame, rail.minus, 20)
            return frame
        return self.through_splice(rail.minus, 5) if self.chance(0.1) else rail.minus

    # ---- what draws -------------------------------------------------------------------------------------------

    def resistive(self, volts, amps):
        """A load that is a resistance."""
        if self.chance(0.5):
            return self.thing("load", "L", resistance=quantity(volts / amps, "Ω"))
        return self.thing("load", "L", voltage=quantity(volts, "V"), typical=quantity(amps, "A"), draws="resistance")

    def draw(self, rail):
        """A load of any sort."""
        amps = min(self.dice.choice([0.05, 0.3, 1.0, 3.0, 6.0]) * self.dice.uniform(0.5, 1.5), max(rail.amps, 0.05))
        rail.take(amps)
        volts = rail.volts * self.dice.choice([1.0, 1.0, 1.0, 0.9, 1.1, 1.3])
        load = self.dice.choice([self.resistive, self.steady, self.steady, self.powered, self.board, self.servo])(volts, amps)
        self.loads.append(load)
        self.wire(self.branch(rail, amps), f"{load}.pos", amps)
        self.wire(f"{load}.neg", self.way_back(rail), amps)
        if self.chance(0.12):
            self.clamp(rail, load)

    def steady(self, volts, amps):
        """A load of a current."""
        kind = self.dice.choice(["load", "light"])
        ratings = {"voltage": quantity(volts, "V"), "typical": quantity(amps, "A")}
        if self.chance(0.3):
            ratings["peak"] = quantity(amps * 1.5, "A")
        if self.chance(0.3):
            ratings["idle"] = quantity(amps * 0.2, "A")
        return self.thing(kind, "L", **ratings)

    def powered(self, volts, amps):
        """A load of a power."""
        amps = amps * 0.6
        if self.chance(0.4):
            return self.thing("load", "L", voltage=quantity(volts, "V"), power=quantity(volts * amps, "W"))
        if self.chance(0.3):
            return self.thing("load", "L", power=quantity(volts * amps, "W"),
                              supply=(quantity(volts * 0.6, "V"), quantity(volts * 1.3, "V")))
        return self.thing("load", "L", voltage=quantity(volts, "V"), typical=quantity(amps, "A"), draws="power")

    def board(self, volts, amps):
        """Electronics."""
        kind, prefix = self.dice.choice([("controller", "C"), ("sensor", "N"), ("receiver", "N"), ("meter", "N")])
        ratings = {"supply": (quantity(volts * 0.7, "V"), quantity(volts * 1.3, "V")), "typical": quantity(amps / 3, "A")}
        if self.chance(0.4):
            ratings["idle"] = quantity(amps / 10, "A")
        if self.chance(0.3):
            ratings["draws"] = self.dice.choice(["power", "resistance", "current"])
        return self.thing(kind, prefix, **ratings)

    def servo(self, volts, amps):
        """A servo."""
        return self.thing("servo", "V", supply=(quantity(volts * 0.8, "V"), quantity(volts * 1.2, "V")),
                          typical=quantity(amps / 2, "A"), idle=quantity(amps / 20, "A"), stall=quantity(amps, "A"))

    def clamp(self, rail, load):
        """A clamp across a load: mostly it waits, sometimes it conducts."""
        at = rail.volts * self.dice.choice([0.95, 1.1, 1.3])
        style = self.dice.choice(["brake-resistor", "transient-diode", "varistor"])
        clamp = self.thing("clamp", "CL", clamps_at=quantity(at, "V"), style=style,
                           resistance=self.about(0.8, 6, "Ω", 2))
        self.wire(f"{load}.pos", f"{clamp}.pos")
        self.wire(f"{clamp}.neg", f"{load}.neg")

    def regulator(self, rail):
        """A regulator with a rail of its own behind it."""
        style = self.dice.choice(["buck", "buck", "linear", "boost", "buck-boost", None])
        share = {"boost": self.dice.uniform(1.1, 2.0), "buck-boost": self.dice.uniform(0.4, 1.6)}
        output = rail.volts * share.get(style, self.dice.choice([self.dice.uniform(0.3, 0.8), self.dice.uniform(0.8, 0.98)]))
        amps = min(self.dice.uniform(0.5, 5), 0.5 * max(rail.amps, 0.2) * rail.volts / output)
        low = rail.volts * self.dice.choice([0.4, 0.6, 0.6, 0.85, 0.97])
        isolated = self.chance(0.25)
        regulator = self.thing(
            "regulator", "REG", style=style, output=quantity(output, "V"), current=quantity(amps, "A"),
            supply=(quantity(low, "V"), quantity(rail.volts * 1.6, "V")) if self.chance(0.85) else None,
            dropout=self.about(0.1, 2.5, "V", 2) if self.chance(0.5) else None,
            efficiency=self.about(70, 96, "%", 2) if style != "linear" and self.chance(0.5) else None,
            quiescent=self.about(1, 40, "mA", 2) if self.chance(0.6) else None,
            current_limit=quantity(amps * self.dice.uniform(1.0, 1.6), "A") if self.chance(0.4) else None,
            tolerance=self.about(1, 6, "%", 1) if self.chance(0.5) else None,
            isolated=True if isolated else None, sinks=True if self.chance(0.1) else None)
        amps = self.robot.things[regulator].base("current")
        rail.take(amps * output / rail.volts / 0.7)
        self.wire(self.branch(rail, amps), f"{regulator}.in", amps)
        self.wire(f"{regulator}.in-neg", self.way_back(rail), amps)
        inner = Rail(f"{regulator}.out", f"{regulator}.out-neg", output, amps, rail.depth + 1)
        if self.chance(0.5):
            bar = self.block()
            self.wire(inner.plus, bar, amps)
            inner.plus = bar
        if not isolated and self.chance(0.3):
            # A second way home past the regulator's own.
            inner.minus = rail.minus
        if self.chance(0.2):
            self.overload(inner)
        else:
            for _ in range(self.dice.choice([1, 1, 2, 3])):
                self.grow(inner)

    def overload(self, rail):
        """A load that asks a regulator for more than it gives."""
        amps = rail.amps * self.dice.uniform(1.2, 2.2)
        load = self.resistive(rail.volts, amps) if self.chance(0.6) else self.steady(rail.volts, amps)
        self.loads.append(load)
        self.wire(rail.plus, f"{load}.pos", amps)
        self.wire(f"{load}.neg", rail.minus, amps)

    def driver(self, rail):
        """A driver with a motor on each channel."""
        channels = self.dice.choice([1, 1, 2])
        amps = min(self.dice.uniform(1, 8), max(rail.amps / 2, 0.5))
        driver = self.thing(
            "driver", "DR", channels=Quantity(channels, ""),
            supply=(quantity(rail.volts * self.dice.choice([0.4, 0.6, 0.9]), "V"), quantity(rail.volts * 1.5, "V")),
            current=quantity(amps * 2, "A"), quiescent=self.about(5, 60, "mA", 2) if self.chance(0.6) else None,
            current_limit=quantity(amps * self.dice.uniform(0.8, 3), "A") if self.chance(0.6) else None)
        rail.take(channels * amps)
        self.wire(self.branch(rail, amps * channels), f"{driver}.pos", amps * channels)
        self.wire(f"{driver}.neg", self.way_back(rail), amps * channels)
        for channel in range(1, channels + 1):
            self.motor_on(rail, f"{driver}.m{channel}a", f"{driver}.m{channel}b", amps)

    def motor(self, rail, amps):
        """A motor that draws so much in ordinary work."""
        volts = rail.volts * self.dice.choice([0.5, 1.0, 1.0, 1.2])
        ratings = {"voltage": quantity(volts, "V"), "typical": quantity(amps, "A")}
        if self.chance(0.6):
            ratings["stall"] = quantity(amps * self.dice.uniform(3, 7), "A")
        elif self.chance(0.5):
            ratings["resistance"] = quantity(volts / amps / self.dice.uniform(3, 8), "Ω")
        if self.chance(0.4):
            ratings["pushed"] = quantity(volts * self.dice.uniform(0.2, 1.3), "V")
        motor = self.thing("motor", "M", **ratings)
        if self.chance(0.15):
            self.robot.things[motor].ratings["back-drivable"] = False
        self.motors.append(motor)
        return motor

    def motor_on(self, rail, first, second, amps):
        """A motor on two leads, straight or crossed, sometimes past a relay."""
        motor = self.motor(rail, amps)
        if self.chance(0.2) and self.may_grow():
            first = self.through_relay(rail, first, amps)
        ends = [f"{motor}.a", f"{motor}.b"]
        if self.chance(0.3):
            ends.reverse()
        self.wire(first, ends[0], amps)
        self.wire(second, ends[1], amps)

    def bare_motor(self, rail):
        """A motor straight on its supply, with a freewheel diode."""
        amps = min(self.dice.uniform(0.3, 3), max(rail.amps / 3, 0.1))
        rail.take(amps)
        motor = self.motor(rail, amps)
        self.wire(self.through_switch(self.branch(rail, amps), amps), f"{motor}.a", amps)
        self.wire(f"{motor}.b", self.way_back(rail), amps)
        if self.chance(0.6):
            diode = self.thing("diode", "D", style="silicon")
            self.wire(f"{motor}.b", f"{diode}.anode", amps)
            self.wire(f"{diode}.cathode", f"{motor}.a", amps)

    def section(self, rail):
        """A bar further out."""
        if rail.depth >= 2:
            return self.draw(rail)
        bar = self.block()
        amps = rail.amps * self.dice.uniform(0.3, 0.6)
        rail.take(amps)
        self.wire(self.branch(rail, amps), bar, amps)
        minus = rail.minus
        if self.chance(0.5):
            minus = self.block()
            self.wire(minus, rail.minus, amps)
            if self.chance(0.3):
                self.wire(minus, rail.minus, amps)
        inner = Rail(bar, minus, rail.volts, amps, rail.depth + 1)
        for _ in range(self.dice.choice([1, 2, 3])):
            self.grow(inner)
        return None

    def grow(self, rail):
        """One more piece on a rail."""
        if not self.may_grow():
            return
        pieces = [self.draw] * 5 + [self.driver, self.bare_motor, self.section]
        if rail.depth < 2:
            pieces += [self.regulator] * 3
        self.dice.choice(pieces)(rail)

    def stray(self, rail):
        """A part between any two places: what sneak paths are made of."""
        ends = sorted({end for wire in self.robot.wires for end in (wire.start, wire.end)})
        one, other = self.dice.sample(ends, 2)
        if self.chance(0.6):
            part = self.thing("resistor", "R", resistance=self.about(0.2, 20, "kΩ", 2))
            first, second = f"{part}.1", f"{part}.2"
        else:
            lamp = self.thing("resistor", "R", resistance=self.about(50, 500, "Ω", 2))
            part = self.thing("diode", "D", style="silicon")
            self.wire(f"{part}.cathode", f"{lamp}.1")
            first, second = f"{part}.anode", f"{lamp}.2"
        self.wire(one, first)
        self.wire(second, other)

    def island(self, rail):
        """A pack and a load that nothing joins to the rest."""
        pack = self.thing("battery", "PACK", chemistry="nimh", cells=Quantity(self.dice.choice([4, 6, 10]), "S"))
        load = self.steady(self.robot.things[pack].base("cells") * 1.2, 0.2)
        self.wire(f"{pack}.pos", f"{load}.pos")
        self.wire(f"{load}.neg", f"{pack}.neg")

    def mode(self):
        """A written mode with a few lines."""
        mode = Mode("show", self.dice.choice(["typical", "typical", "idle", "peak", "stall"]))
        for switch in self.switches:
            if self.chance(0.85):
                mode.lines[switch] = self.dice.choice(["closed", "closed", "closed", "closed", "open"])
        for load in self.loads:
            if self.chance(0.15):
                mode.lines[load] = str(self.about(0.05, 1.5, "A"))
        for motor in self.motors:
            if self.chance(0.25):
                mode.lines[motor] = self.dice.choice(["off", "stall", "turned", "typical"])
        for relay in self.relays:
            if self.chance(0.4):
                mode.lines[relay] = "held"
        for name, thing in self.robot.things.items():
            if thing.kind in ("charger", "supply") and self.chance(0.6):
                mode.lines[name] = self.dice.choice(["connected", "absent"])
            if thing.kind in ("plug", "fuse", "breaker") and self.chance(0.05):
                mode.lines[name] = "open"
        self.robot.modes.append(mode)

    def make(self):
        """The whole robot."""
        rail = self.packs()
        if self.chance(0.3):
            self.further_source(rail)
        for _ in range(60):
            if not self.may_grow():
                break
            self.grow(rail)
        if self.chance(0.3):
            self.stray(rail)
        if self.chance(0.1):
            self.island(rail)
        if self.chance(0.8):
            self.mode()
        self.robot.profile = self.dice.choice(["boat", "boat", "aircraft", "still-air"])
        self.devices_of_all_styles()
        self.looms()
        self.surroundings()
        return self.robot

    # ---- what came later --------------------------------------------------------------------------------------

    def devices_of_all_styles(self):
        """Other styles, speeds, and written breaking capacities."""
        for thing in self.robot.things.values():
            if thing.kind == "fuse":
                if thing.word("style") == "cartridge" and self.later.random() < 0.6:
                    thing.ratings["speed"] = self.later.choice(["fast", "slow"])
                elif thing.word("style") == "bolt-down" and self.later.random() < 0.15:
                    thing.ratings["style"] = self.later.choice(["strip", "class-t", "blade"])
            if thing.kind == "breaker" and self.later.random() < 0.4:
                thing.ratings["style"] = self.later.choice(["thermal-magnetic", "thermal-magnetic", "magnetic"])
            if thing.kind in ("fuse", "breaker") or "built-in-fuse" in thing.ratings:
                if self.later.random() < 0.4:
                    thing.ratings["breaking-capacity"] = Quantity(self.later.choice([150, 300, 600, 1500, 3000]), "A")

    def looms(self):
        """Some neighbours in the text run together in a harness."""
        wires = self.robot.wires
        for number in range(1, self.later.choice([0, 0, 1, 2]) + 1):
            first = self.later.randrange(len(wires))
            together = [wire for wire in wires[first : first + self.later.randrange(2, 9)] if "." not in wire.name]
            if len(together) < 2:
                continue
            self.robot.bundles[f"H{number}"] = self.later.choice([1, 2, 3, 5, 8, 25])
            for wire in together:
                wire.name = f"H{number}.{wire.name}"

    def surroundings(self):
        """The class of the insulation, the air, and for how much of the time a mode draws."""
        if self.later.random() < 0.5:
            self.robot.insulation = self.later.choice([60, 75, 90, 105, 125, 150, 200])
            self.robot.ambient = float(self.later.choice([20, 25, 35, 40, 50]))
        for mode in self.robot.modes:
            if self.later.random() < 0.4:
                mode.duty = Quantity(self.later.choice([10, 25, 50, 80]), "%")


def robot(seed):
    """The robot of a seed."""
    return Maker(seed).make()
