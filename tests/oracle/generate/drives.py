"""Drivers and motors."""

from robot import Quantity, quantity

from .ways import Ways


class Drives(Ways):
    """Motors on a rail, past a driver or straight."""

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
