"""The ways between a rail and what hangs on it: devices, contacts, plugs, and the way back."""

from robot import Quantity, quantity

from .maker import Maker

FUSES = [3, 5, 7.5, 10, 15, 20, 25, 30, 40]


class Ways(Maker):
    """Ways out and back."""

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
