"""Random robots, always the same ones for the same seed: sound texts whose elements that are not straight are at work.

The order in which the dice are thrown makes a robot what it is: a throw more or less anywhere makes others of all seeds."""

from robot import Mode

from .drives import Drives
from .maker import Rail
from .regulators import Regulators
from .sources import Sources
from .surroundings import Surroundings


class Generator(Sources, Regulators, Drives, Surroundings):
    """A whole robot."""

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


def robot(seed):
    """The robot of a seed."""
    return Generator(seed).make()
