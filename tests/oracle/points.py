"""All working points of a robot, in the order in which one follows from another: contacts remember."""

from circuit import mode_names, states_in
from elements import Corner, over_copper
from heat import Cable, coil_growth
from newton import Lost
from solve import point
import constants as usual

CHARGES = ("full", "nominal", "empty")
SETTINGS = {None: 0.0, "low": -1.0, "high": 1.0}


class Points:
    """The points of one robot."""

    def __init__(self, robot):
        self.robot = robot
        self.modes = mode_names(robot)
        self.states = {mode: states_in(robot, mode) for mode in self.modes}
        self.found, self.why = {}, {}
        self.ambient = robot.ambient

    def solve(self, settings, conductors, told):
        """Solves every mode with the regulators at each of `settings`. `told` has the outcomes of the command: where it
        found no point, the next one begins at rest, as its own next one does."""
        hot = self.temperatures() if conductors == "hot" else {}
        # Without a regulator it is the same whatever regulators are set to.
        regulated = any(thing.kind == "regulator" for thing in self.robot.things.values())
        for setting in settings if regulated else settings[:1]:
            waiting = [mode for mode in self.modes if self.is_pushed(mode) and "run" in self.modes]
            for charge in CHARGES:
                for mode in [mode for mode in self.modes if mode not in waiting] + waiting:
                    key = (charge, setting, conductors)
                    self.solve_one(mode, key, self.before(mode, key, mode in waiting, told), hot.get(mode))
                    for other in () if regulated else settings[1:]:
                        self.repeat(mode, key, (charge, other, conductors))

    def repeat(self, mode, key, other):
        """Takes a point for that of another setting too."""
        for known in (self.found, self.why):
            if (mode, key) in known:
                known[mode, other] = known[mode, key]

    def solve_one(self, mode, key, before, hot):
        """One point."""
        charge, setting, conductors = key
        coils = coil_growth(self.ambient) if conductors == "hot" else 1.0
        corner = Corner(charge, SETTINGS[setting], hot, coils)
        try:
            found = point(self.robot, self.states[mode], corner, before)
        except Lost as lost:
            self.why[mode, key] = str(lost)
            return
        if found.point.overdrawn:
            self.why[mode, key] = "overdrawn"
        else:
            self.found[mode, key] = found

    def before(self, mode, key, waits, told):
        """The point that one begins from: of its mode the charge before, of a mode that is pushed what `run` was."""
        charge, *rest = key
        def solved(name, at):
            return self.found.get((name, at)) if told[name, at]["wires"] else None
        if waits:
            same = solved("run", key)
            others = (solved("run", (other, *rest)) for other in CHARGES[: CHARGES.index(charge) + 1])
            return same or next((one for one in others if one), None)
        earlier = CHARGES[: CHARGES.index(charge)][-1:]
        before = next((one for one in (solved(mode, (other, *rest)) for other in earlier) if one), None)
        # What has pulled in cold stays in while it warms.
        return before or (solved(mode, (charge, rest[0], "cold")) if rest[1] == "hot" else None)

    def is_pushed(self, mode):
        """Whether a motor is turned from outside in it."""
        return "turned" in self.states[mode].values()

    def lasts(self, mode):
        """Whether nothing is blocked or turned in it."""
        return not {"turned", "stall"} & {state for state in self.states[mode].values() if isinstance(state, str)}

    def temperatures(self):
        """How warm each wire is in each mode at the hot corners: at the largest of its currents at the cold ones; in a
        mode that does not last, as the warmest of those that do."""
        warm = {}
        for mode in filter(self.lasts, self.modes):
            cold = [found for (name, key), found in self.found.items() if name == mode and key[2] == "cold"]
            warm[mode] = {
                wire.name: self.temperature(wire, self.warming(wire, mode, cold))
                for wire in self.robot.wires
            }
        worst = {wire.name: max((of[wire.name] for of in warm.values()), default=self.ambient) for wire in self.robot.wires}
        return {mode: warm.get(mode, worst) for mode in self.modes}

    def warming(self, wire, mode, points):
        """The current that would warm a wire as much if it were alone and loaded all the time."""
        most = max((abs(one.amps(one.circuit.wires[wire.name])) for one in points), default=0.0)
        return most * self.robot.duty(mode) ** 0.5 / usual.bundle_share(self.robot.side_by_side(wire))

    def temperature(self, wire, amps):
        """How warm a current makes a wire, at most what its insulation stands for the seconds of a short."""
        area = usual.awg_area(wire.awg) if wire.awg is not None else wire.area.base if wire.area else None
        if not area or amps == 0:
            return self.ambient
        most = max(last_moment(self.robot.insulation), self.ambient)
        # Heat goes with the resistance and with the square of the current.
        as_copper = amps * over_copper(wire) ** 0.5
        warm = Cable(area, self.ambient).chord(as_copper)
        return most if warm is None else min(warm, most)


def last_moment(insulation):
    """What insulation of a class stands for the seconds of a short, °C (linter/src/physics/adiabatic.rs)."""
    return 160.0 if insulation <= 105 else 250.0
