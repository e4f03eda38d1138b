"""How long the insulation of a wire stands a current, by the published law and by the one with cooling that is told beside
it: k² S² = I² t while no heat leaves the metal (IEC 60364-4-43), k of IEC 60949."""

from dataclasses import dataclass
from math import log, sqrt

import constants as usual
from elements import over_copper

#: The adiabatic law is meant for up to so many seconds.
LONGEST = 5.0
#: So many kelvin above its class thermoplastic insulation may run while a fault lasts.
EMERGENCY = 20.0


def limit(insulation):
    """What insulation of a class stands for the seconds of a short, °C."""
    return 160.0 if insulation <= 105 else 250.0


def factor(insulation, aluminium):
    """k, A √s/mm²."""
    zero, metal = (228.0, 148.0) if aluminium else (234.5, 226.0)
    return metal * sqrt(log((zero + limit(insulation)) / (zero + insulation)))


def area_of(wire):
    """Cross-section, mm²; `None` without a size."""
    return usual.awg_area(wire.awg) if wire.awg is not None else wire.area.base if wire.area else None


@dataclass
class Withstand:
    """What a wire stands; the ampacity is another question and comes from the profile."""

    energy: float
    insulation: float
    ambient: float
    ampacity: float | None

    @classmethod
    def of(cls, robot, wire, ampacity):
        """Of a wire in its robot; `None` without a size."""
        area = area_of(wire)
        if area is None:
            return None
        k = factor(robot.insulation, over_copper(wire) != 1.0)
        return cls((k * area) ** 2, robot.insulation, robot.ambient, ampacity)

    def seconds(self, amps):
        """How long it stands a current: a number, "for good" or "ages"."""
        if self.ampacity is not None and amps <= self.ampacity or amps <= 0:
            return "for good"
        adiabatic = self.energy / (amps * amps)
        rise, more = self.insulation - self.ambient, limit(self.insulation) - self.insulation
        if self.ampacity is None or adiabatic <= LONGEST or rise <= 0:
            return adiabatic
        # A body that gives heat off in proportion to its rise, at its class when it carries its ampacity, heated by I²:
        # C dθ/dt = P (I/Iz)² − P θ/rise, so θ runs towards rise (I/Iz)² with the time constant C rise / P, and the
        # adiabatic law fixes C/P: more · C / P = k²S² / Iz².
        aim = rise * (amps / self.ampacity) ** 2
        if aim <= rise + more:
            return "ages"
        constant = self.energy / self.ampacity**2 * rise / more
        return max(adiabatic, -constant * log((aim - rise - more) / (aim - rise)))

    def outlasts(self, amps, latest, energy):
        """Whether it is intact after the devices have opened, or need not have."""
        stands = self.seconds(amps)
        if stands == "for good":
            return True
        if stands == "ages":
            rise = self.insulation - self.ambient
            return latest is not None or rise * (amps / self.ampacity) ** 2 <= rise + EMERGENCY
        return latest is not None and energy is not None and energy <= stands * amps * amps
