"""What draws: resistances, currents, powers, electronics, servos, and a clamp across them."""

from robot import quantity

from .ways import Ways


class Loads(Ways):
    """Loads on a rail."""

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

    def overload(self, rail):
        """A load that asks a regulator for more than it gives."""
        amps = rail.amps * self.dice.uniform(1.2, 2.2)
        load = self.resistive(rail.volts, amps) if self.chance(0.6) else self.steady(rail.volts, amps)
        self.loads.append(load)
        self.wire(rail.plus, f"{load}.pos", amps)
        self.wire(f"{load}.neg", rail.minus, amps)
