"""How warm wires get, against what the command prints of them; and the formula for convection against the `ht` library."""

import constants as usual
from heat import Cable, convection, with_ht

#: Of the rise over the air. Both find the same temperature by search, the linter to about a nanokelvin.
OF_RISE = 1e-6


def check_library(comparison):
    """The correlation as written here and as the `ht` library has it, over the sizes and temperatures that occur."""
    for diameter in (0.5e-3, 1e-3, 3e-3, 10e-3):
        for surface in (20.5, 40.0, 90.0, 200.0):
            comparison.counts["heat transfer coefficients"] += 1
            here, library = convection(diameter, surface, 20.0), with_ht(diameter, surface, 20.0)
            if abs(here / library - 1) > 1e-9:
                comparison.wrong.append(f"convection of {diameter} m at {surface} °C: {here}, by the library {library}")


def check(comparison, seed, robot, told, figures):
    """Checks the conductor temperatures, and in still air the ampacities, of one robot."""
    wires = {wire.name: wire for wire in robot.wires}
    for figure in figures:
        wire = wires.get(figure["thing"]) if figure["of"] == "wire" else None
        if wire is None or figure["value"] is None or figure["figure"] not in ("conductor temperature", "ampacity"):
            continue
        area = usual.awg_area(wire.awg) if wire.awg is not None else wire.area.base
        cable = Cable(area, robot.ambient)
        if figure["figure"] == "ampacity":
            if robot.profile == "still-air" and not is_aluminium(wire):
                own = cable.ampacity(robot.insulation) * usual.bundle_share(robot.side_by_side(wire))
                note(comparison, seed, figure, own, OF_RISE * own)
            continue
        point = next(point for key, point in told.items() if is_at(point, figure))
        alone = abs(point["wires"][wire.name]) * robot.duty(point["mode"]) ** 0.5 / usual.bundle_share(robot.side_by_side(wire))
        # Heat goes with the resistance of the metal and with the square of the current.
        own = cable.temperature(alone * (usual.ALUMINIUM_OVER_COPPER if is_aluminium(wire) else 1.0) ** 0.5)
        # The rise is what is compared; below it the difference of two temperatures has no more digits.
        note(comparison, seed, figure, own, OF_RISE * (own - robot.ambient) + 1e-8)


def is_aluminium(wire):
    """Whether its metal is aluminium, clad or not."""
    return "aluminium" in (wire.material or "")


def is_at(point, figure):
    """Whether a figure is of this point."""
    return point["mode"] == figure["mode"] and point["corner"] == figure["corner"]


def note(comparison, seed, figure, own, most):
    """Counts, and notes a disagreement."""
    comparison.counts[f"wire: {figure['figure']}"] += 1
    if abs(figure["value"] - own) > most:
        comparison.wrong.append(
            f"robot {seed}: {figure['thing']} has {figure['figure']} {figure['value']}, by the oracle {own}")
