"""The numbers that the model takes where the author wrote nothing, as the language's reference and the pages of the
network document them. Written down here a second time on purpose: a slip in one place is a disagreement."""

from math import pi

# grammar/REFERENCE.md, Chemistries: volts of one cell full, nominal, empty.
CHEMISTRIES = {
    "lipo": (4.2, 3.7, 3.0), "lihv": (4.35, 3.8, 3.0), "li-ion": (4.2, 3.7, 3.0), "lifepo4": (3.65, 3.2, 2.5),
    "lead-acid": (2.4, 2.0, 1.75), "agm": (2.45, 2.0, 1.75), "nimh": (1.45, 1.2, 1.0), "nicd": (1.45, 1.2, 1.0),
}

# linter/src/unfold/battery.rs: internal resistance of one cell, ohm.
CELL_RESISTANCE = {
    "lipo": 6e-3, "lihv": 6e-3, "li-ion": 35e-3, "lifepo4": 10e-3, "lead-acid": 0.6e-3, "agm": 1.1e-3,
    "nimh": 8e-3, "nicd": 6e-3,
}

# Copper of 100 % IACS at 20 °C: ohm metre, and the growth per kelvin (NBS Handbook 100).
COPPER, COPPER_GROWTH = 1.7241e-8, 0.00393
# Electrical aluminium has 61 % of the conductivity of annealed copper.
ALUMINIUM_OVER_COPPER = 1 / 0.61

# linter/src/unfold/usual.rs
CRIMP = 0.1e-3
CONTACT = 1e-3
RING = 10e-3
SUPPLY = 10e-3
UNLIMITED = 1e4
REGULATOR = 1e-3
REGULATOR_GROUND = 1e-3
LIMIT_OVER_RATED = 1.2
LINEAR_DROPOUT, BUCK_DROPOUT = 2.0, 1.0
REGULATOR_EFFICIENCY, DRIVER_EFFICIENCY = 0.85, 0.95
CUTOFF = 0.5
DIODE, CLAMP = 10e-3, 0.1
SILICON = 0.7
FORWARD = {"silicon": 0.7, "schottky": 0.4, "ideal": 0.03}
STALL_OVER_TYPICAL = 8.0
BRIDGE, BRIDGE_LEAK, BUS_LEAK = 10e-3, 1e6, 1e6
SHUNT_DROP = 0.075
# A protective device drops 0.1 V at its rated current (REFERENCE, `fuse` and `breaker`).
PROTECTIVE_DROP = 0.1
# linter/src/physics/fuse.rs: cold resistance of blade fuses, rating and milliohm, for the fuse inside a pack.
COLD_MILLIOHMS = [(1.0, 123.0), (2.0, 53.5), (4.0, 22.8), (10.0, 7.70), (25.0, 2.36)]
# The same fuse is warm at its rating: 109 mV at 10 A against 7.70 mΩ cold.
HOT_OVER_COLD = 0.109 / 10.0 / 7.70e-3
# linter/src/trace/feeds.rs: what a source that states no limit folds back at, over its rating, where a fault is judged.
FOLD_BACK = 1.5
# The least resistance that anything is given.
LEAST = 1e-6
# A supply range is not written: voltage ± 10 %.
SUPPLY_MARGIN = 0.10
OPERATE_SHARE, RELEASE_SHARE = 0.75, 0.10
RELAY_COIL_POWER, CONTACTOR_COIL_POWER = 1.6, 8.0
# Share of its ampacity that is left to each of so many loaded conductors side by side (33 CFR 183.425 table 5 note 2).
BUNDLES = [(2, 1.0), (3, 0.7), (6, 0.6), (24, 0.5)]


def bundle_share(loaded):
    """The share that is left."""
    return next((share for most, share in BUNDLES if loaded <= most), 0.4)


def awg_area(number):
    """Area of a gauge, mm² (ASTM B258: 0.005 in at 36, 0.46 in at 4/0, 39 equal steps of the logarithm)."""
    diameter = 0.005 * 25.4 * 92 ** ((36 - number) / 39)
    return pi / 4 * diameter * diameter
