"""When fuses and breakers open: the limits of their styles, written down a second time, and what follows between them.

Of each style, by multiples of the rating: the time that it holds at least and the time by which it has opened, second;
`None` where the standard demands nothing. Sources, as the pages of the linter state them: blade fuses ISO 8820-3 types C
and F (1.10 and 1.35 times read in a data sheet); bolt-down fuses ISO 8820-5 and makers' practice, an order of magnitude;
cartridge fuses IEC 60127-2 sheets 2 (fast) and 3 (slow), the wider of both where the speed is not said; breakers
IEC 60898-1, of the magnetic part the widest of curves B, C and D. All but the two from memory, here as there.

Between two multiples a limit is carried by its energy: an element needs no more I²t at a higher current, for it has less
time to lose heat. So a time t at I₁ bounds the time at I above it by t (I₁/I)²."""

BLADE = [(1.10, 360_000.0, None), (1.35, 0.75, 600.0), (1.60, 0.25, 50.0), (2.00, 0.15, 5.0), (3.50, 0.04, 0.5),
         (6.00, 0.02, 0.1)]
BANDS = {
    ("blade", None): BLADE,
    ("mini-blade", None): BLADE,
    ("bolt-down", None): [(1.00, 14_400.0, None), (1.35, 120.0, 1800.0), (2.00, 1.0, 15.0), (3.50, 0.3, 5.0),
                          (6.00, 0.1, 1.0)],
    ("cartridge", "fast"): [(1.50, 3600.0, None), (2.10, None, 1800.0), (2.75, 0.05, 2.0), (4.00, 0.01, 0.3), (10.0, None, 0.02)],
    ("cartridge", "slow"): [(1.50, 3600.0, None), (2.10, None, 120.0), (2.75, 0.6, 10.0), (4.00, 0.15, 3.0), (10.0, 0.02, 0.3)],
    ("cartridge", None): [(1.50, 3600.0, None), (2.10, None, 1800.0), (2.75, 0.05, 10.0), (4.00, 0.01, 3.0), (10.0, None, 0.3)],
    ("thermal", None): [(1.13, 3600.0, None), (1.45, None, 3600.0), (2.55, 1.0, 120.0)],
    ("thermal-magnetic", None): [(1.13, 3600.0, None), (1.45, None, 3600.0), (2.55, 1.0, 120.0), (3.0, 0.1, None),
                                 (20.0, None, 0.1)],
}
#: Which are built alike, so that the ratio of two ratings tells.
FAMILY = {"blade": "blade", "mini-blade": "blade"}
#: Multiples from which a thermal-magnetic breaker may trip at once, and from which it surely does.
AT_ONCE = {"thermal-magnetic": (3.0, 20.0)}
#: The arc lasts some milliseconds: no opening is counted as quicker, second.
QUICKEST = 0.01
#: Of a bimetal nothing is said above this many times the last multiple of its limits.
FAR = 2.0
#: Fuses of one family open one after the other from this ratio on.
RATIO = 2.0
#: What lasts this long unlatches a trip that acts at once, second.
UNLATCHES = 0.01
#: A limit of a device holds up to this share below where the next one begins.
BELOW = 1 - 1e-9
#: What a style breaks where nothing is written, ampere (grammar/REFERENCE.md, Fuse styles).
BREAKS = {"blade": 1000.0, "mini-blade": 1000.0, "cartridge": 35.0, "class-t": 20_000.0}


class Device:
    """A fuse or breaker, or the fuse inside a pack, of which no band is known."""

    def __init__(self, thing):
        self.name, self.built_in = thing.name, thing.kind == "battery"
        self.is_breaker = thing.kind == "breaker"
        self.rated = thing.base("built-in-fuse") if self.built_in else thing.base("current")
        self.style = None if self.built_in else thing.word("style")
        speed = thing.word("speed")
        self.rows = BANDS.get((self.style, speed)) or BANDS.get((self.style, None))
        self.stated_breaks = thing.base("breaking-capacity")
        self.breaks = self.stated_breaks or (None if self.built_in or self.is_breaker else BREAKS.get(self.style))

    @property
    def family(self):
        """The name of those that are built alike."""
        return FAMILY.get(self.style, self.style)

    def energy(self, amps):
        """The most I²t that it lets pass at a current, A²s; `None` when it need not open. No arc is in it, but in that of
        a breaker, whose contacts take their time."""
        if self.is_breaker:
            latest = self.latest(amps)
            return None if latest is None else latest * amps * amps
        return min((row[2] * (self.rated * row[0]) ** 2 for row in self.rows if row[2] and self.rated * row[0] <= amps),
                   default=None)

    def latest(self, amps):
        """By when it has opened; `None` when it need not."""
        times = [min(until, max(until * (self.rated * multiple / amps) ** 2, QUICKEST))
                 for multiple, _, until in self.rows if until and amps >= self.rated * multiple]
        return min(times, default=None)

    def earliest(self, amps):
        """How long it holds at least: of the limits at higher currents, carried down, the nearest."""
        holding = [row for row in self.rows if row[1] and self.rated * row[0] >= amps]
        return holding[0][1] * (self.rated * holding[0][0] / amps) ** 2 if holding else 0.0

    def least_energy(self):
        """The I²t that it stands for sure."""
        sure = [row for row in self.rows if row[1] and row[2]]
        return (self.rated * sure[-1][0]) ** 2 * sure[-1][1] if sure else None

    def says_nothing(self, amps):
        """Whether a current lies beyond what its limits tell: no band, or a bimetal far beyond its last one."""
        if not self.rows:
            return True
        last = max(row[0] for row in self.rows if row[2])
        return self.is_breaker and amps > FAR * last * self.rated

    def surely_breaks(self):
        """A current at which its own limits make it open, so that it breaks it."""
        return self.rated * max(row[0] for row in self.rows if row[2]) if self.rows else None

    def edges(self):
        """Right below where the latest time falls at once, and of a breaker the highest current that its limits tell of."""
        rows = self.rows or []
        most = [FAR * max(row[0] for row in rows if row[2]) * self.rated] if rows and self.is_breaker else []
        return [self.rated * row[0] * BELOW for row in rows] + most


def first(devices, amps):
    """The device of several that has surely opened first at a current, and by when; `None` where nothing is known of any."""
    known = [device for device in devices if device.rows]
    if not known:
        return None
    least = min(known, key=lambda device: inf_if_none(device.energy(amps)))
    return least, least.latest(amps)


def inf_if_none(value):
    """Without end, where it need not open."""
    return float("inf") if value is None else value
