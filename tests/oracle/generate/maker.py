"""A robot under construction: what every part of the generator stands on."""

import random

from robot import Quantity, Robot, Thing, Wire, quantity

AWGS = list(range(4, 25, 2))


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

    def join(self, one, other):
        """A tie or a short wire."""
        if self.chance(0.5):
            self.robot.ties.append((one, other))
        else:
            self.wire(one, other, 20)

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

    def may_grow(self):
        """Whether there is room for more."""
        return len(self.robot.wires) < self.most
