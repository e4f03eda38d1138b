"""Regulators, and the rails behind them."""

from robot import quantity

from .loads import Loads
from .maker import Rail


class Regulators(Loads):
    """Regulators on a rail."""

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
