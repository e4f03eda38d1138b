"""How warm a wire gets in still air, from published formulas: natural convection by Churchill and Chu, radiation, and
conduction through the insulation.

The air is that of the U.S. Standard Atmosphere 1976, as the linter has it; `with_ht` takes convection from the `ht`
library instead, and what it says differs by the air of its property library only (see `compare_heat`)."""

from math import exp, log, log10, pi, sqrt

import constants as usual

GRAVITY, ZERO, STEFAN_BOLTZMANN = 9.80665, 273.15, 5.670374e-8
EMISSIVITY, INSULATION = 0.9, 0.17
#: Of stranded wire: diameter over that of a solid one, and resistance over it.
STRANDED_WIDER, STRANDED_LONGER = 1.15, 1.02
#: The curve that the linter reads hot temperatures from: points, and the first and last rise of the surface, K.
POINTS, RISES = 96, (0.05, 600.0)
COPPER_ZERO = 234.5
#: How much warmer than its air a coil is that has been on for hours, K.
COIL_RISE = 40.0


def air(celsius):
    """Conductivity, kinematic viscosity and Prandtl number of dry air at sea level (U.S. Standard Atmosphere 1976)."""
    kelvin = celsius + ZERO
    molar, gas = 28.9644e-3, 8.31432
    dynamic = 1.458e-6 * kelvin**1.5 / (kelvin + 110.4)
    conductivity = 2.64638e-3 * kelvin**1.5 / (kelvin + 245.4 * 10 ** (-12 / kelvin))
    density = 101325.0 * molar / (gas * kelvin)
    return conductivity, dynamic / density, 3.5 * gas / molar * dynamic / conductivity


def convection(diameter, surface, ambient):
    """Heat transfer of a horizontal cylinder, W/(m² K)."""
    film = (surface + ambient) / 2
    conductivity, viscosity, prandtl = air(film)
    grashof = GRAVITY * abs(surface - ambient) * diameter**3 / ((film + ZERO) * viscosity**2)
    fluid = (1 + (0.559 / prandtl) ** (9 / 16)) ** (8 / 27)
    return (0.60 + 0.387 * (grashof * prandtl) ** (1 / 6) / fluid) ** 2 * conductivity / diameter


def with_ht(diameter, surface, ambient):
    """The same with the correlation as the `ht` library has it, on the same air."""
    from ht.conv_free_immersed import Nu_horizontal_cylinder_Churchill_Chu

    film = (surface + ambient) / 2
    conductivity, viscosity, prandtl = air(film)
    grashof = GRAVITY * abs(surface - ambient) * diameter**3 / ((film + ZERO) * viscosity**2)
    return Nu_horizontal_cylinder_Churchill_Chu(prandtl, grashof) * conductivity / diameter


def wall(area):
    """Insulation of a thin-walled wire, m."""
    return 0.4e-3 if area <= 2.5 else 0.5e-3 if area <= 6.0 else 0.8e-3


class Cable:
    """A stranded copper wire of thin insulation, in air."""

    def __init__(self, area, ambient, convect=convection):
        self.area, self.ambient, self.convect = area, ambient, convect
        self.copper = sqrt(4 * area / pi) * 1e-3 * STRANDED_WIDER
        self.outside = self.copper + 2 * wall(area)
        self.through = log(self.outside / self.copper) / (2 * pi * INSULATION)

    def loss(self, surface):
        """Heat of one metre, W."""
        hot, cold = surface + ZERO, self.ambient + ZERO
        radiation = EMISSIVITY * STEFAN_BOLTZMANN * (hot**4 - cold**4)
        convected = self.convect(self.outside, surface, self.ambient) * (surface - self.ambient)
        return (radiation + convected) * pi * self.outside

    def at(self, surface):
        """Conductor temperature and current for a temperature of the surface."""
        heat = self.loss(surface)
        conductor = surface + heat * self.through
        ohms = STRANDED_LONGER * usual.COPPER / (self.area * 1e-6) * (1 + usual.COPPER_GROWTH * (conductor - 20))
        return conductor, sqrt(heat / ohms)

    def temperature(self, amps):
        """The temperature that a current settles at, °C (Brent's method on the surface's rise)."""
        from scipy.optimize import brentq

        if amps == 0:
            return self.ambient
        rise = brentq(lambda rise: self.at(self.ambient + rise)[1] - amps, 0.0, 3000.0, xtol=1e-12, rtol=1e-14)
        return self.at(self.ambient + rise)[0]

    def ampacity(self, limit):
        """The current that keeps the conductor at a temperature, A."""
        from scipy.optimize import brentq

        rise = brentq(lambda rise: self.at(self.ambient + rise)[0] - limit, 1e-9, limit - self.ambient, xtol=1e-12,
                      rtol=1e-14)
        return self.at(self.ambient + rise)[1]

    def chord(self, amps):
        """The temperature as the linter reads it for the hot corners: on chords between the points of a curve, which lie
        above it; `None` beyond its end."""
        step = log(RISES[1] / RISES[0]) / (POINTS - 1)
        before = (self.ambient, 0.0)
        for number in range(POINTS):
            here = self.at(self.ambient + RISES[0] * exp(step * number))
            if here[1] >= amps:
                share = (amps - before[1]) / (here[1] - before[1])
                return before[0] + (here[0] - before[0]) * share
            before = here
        return None


def coil_growth(ambient):
    """How many times its resistance at 20 °C a warm coil has."""
    return (COPPER_ZERO + ambient + COIL_RISE) / (COPPER_ZERO + 20)
