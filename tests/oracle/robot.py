"""A robot as the generator describes it, and the text of the language that says the same."""

from dataclasses import dataclass, field

#: How units are written, and what one of them is in the base unit.
SCALE = {
    "V": 1.0, "mV": 1e-3, "A": 1.0, "mA": 1e-3, "Ω": 1.0, "mΩ": 1e-3, "kΩ": 1e3, "W": 1.0, "%": 1e-2,
    "mm": 1e-3, "S": 1.0, "P": 1.0, "": 1.0, "mm²": 1.0, "pole": 1.0, "way": 1.0, "°C": 1.0,
}


@dataclass(frozen=True)
class Quantity:
    """A number as it is written, with its unit."""

    number: float
    unit: str

    @property
    def base(self):
        """In the base unit."""
        return float(f"{self.number:.12g}") * SCALE[self.unit]

    def __str__(self):
        number = f"{self.number:.6f}".rstrip("0").rstrip(".")
        return f"{number} {self.unit}".strip()


def quantity(number, unit, digits=3):
    """A quantity rounded to so many significant digits, as a person writes it."""
    rounded = float(f"{number:.{digits}g}")
    # What is not written is not meant either: six decimals are the most that the text has.
    return Quantity(round(rounded, 6), unit)


@dataclass
class Thing:
    """A part. Ratings map a key to a `Quantity`, a pair of them (a range), a word or a flag."""

    kind: str
    name: str
    ratings: dict = field(default_factory=dict)
    on: str | None = None

    def base(self, key, default=None):
        """The value under a key in base units."""
        value = self.ratings.get(key)
        return default if value is None else value.base

    def word(self, key, default=None):
        """The word or flag under a key."""
        return self.ratings.get(key, default)

    def line(self):
        """Its statement."""
        seat = f" on {self.on}" if self.on else ""
        settings = "; ".join(_setting(key, value) for key, value in self.ratings.items())
        return f"{self.kind} {self.name}{seat}" + (f" {{ {settings} }}" if settings else "")


def _setting(key, value):
    if value is True:
        return key
    if value is False:
        return f"not {key}"
    if isinstance(value, tuple):
        return f"{key} {value[0]} .. {value[1]}"
    return f"{key} {value}"


@dataclass
class Wire:
    """A conductor between two terminals, `THING.terminal` each."""

    name: str
    start: str
    end: str
    awg: int | None = None
    area: Quantity | None = None
    length: Quantity | None = None
    resistance: Quantity | None = None
    material: str | None = None
    sheathed: bool = False

    def line(self, word="wire "):
        """Its statement, or its line in a harness."""
        size = f" {self.awg} AWG" if self.awg is not None else f" {self.area}" if self.area else ""
        length = f" {self.length}" if self.length else ""
        more = (f" {self.material}" if self.material else "") + (" sheathed" if self.sheathed else "")
        measured = f" {{ resistance {self.resistance} }}" if self.resistance else ""
        ends = f"{_end(self.start)} to {_end(self.end)}"
        return f"{word}{self.name.rpartition('.')[2]} {ends}{size} red{length}{more}{measured}"


def _end(path):
    """A terminal as it is written: what has one terminal is named alone."""
    thing, terminal = path.split(".", 1)
    return thing if terminal in ("bar", "joint", "stud", "frame") else path


@dataclass
class Mode:
    """A written mode: a level for everything, lines about single things, and the share of the time that loads draw."""

    name: str
    level: str
    lines: dict = field(default_factory=dict)
    duty: Quantity | None = None

    def text(self):
        """Its statement."""
        lines = [f"  everything {self.level}"] + [f"  {name} {state}" for name, state in self.lines.items()]
        lines += [f"  duty {self.duty}"] if self.duty else []
        return "\n".join([f"mode {self.name} {{", *lines, "}"])


@dataclass
class Robot:
    """All of it."""

    name: str
    things: dict = field(default_factory=dict)
    wires: list = field(default_factory=list)
    ties: list = field(default_factory=list)
    mates: list = field(default_factory=list)
    modes: list = field(default_factory=list)
    #: How many loaded conductors run side by side in each harness.
    bundles: dict = field(default_factory=dict)
    profile: str = "boat"
    ambient: float = 30.0
    insulation: int = 105

    def text(self):
        """The robot as a file of the language."""
        head = ["wattle 1", f'robot "{self.name}" {{ ambient {self.ambient:g} °C; insulation {self.insulation} °C; '
                f"profile {self.profile} }}"]
        harnesses = {}
        for wire in self.wires:
            if "." in wire.name:
                harnesses.setdefault(wire.name.partition(".")[0], []).append(wire)
        lines = head + [thing.line() for thing in self.things.values()]
        lines += [f"tie {_end(a)} to {_end(b)}" for a, b in self.ties]
        lines += [wire.line() for wire in self.wires if "." not in wire.name]
        for name, wires in harnesses.items():
            lines += [f"harness {name} {{", f"  bundle {self.bundles[name]}", *("  " + wire.line("") for wire in wires), "}"]
        lines += [f"mate {one} with {other}" for one, other in self.mates]
        lines += [mode.text() for mode in self.modes]
        return "\n".join(lines) + "\n"

    def side_by_side(self, wire):
        """How many loaded conductors run beside a wire, itself among them."""
        return self.bundles.get(wire.name.partition(".")[0], 1) if "." in wire.name else 1

    def duty(self, mode):
        """The share of the time that loads draw in a mode."""
        return next((one.duty.base for one in self.modes if one.name == mode and one.duty), 1.0)
