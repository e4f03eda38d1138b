"""What a fault current passes: links with their resistance cold and hot, poles that push, and every simple way from a pole.

Made from the generator's description. Where the linter searches one tree of least protected ways, all ways that visit no
node twice are listed here, and what is told has to be true of one of the least protected among them."""

from dataclasses import dataclass, field
from math import inf

import networkx

import constants as usual
from circuit import Groups
from elements import Nodes, SOURCES, cells_of, cold_resistance, over_copper, pack_figures, supply_figures
from withstand import area_of

#: A pole with more simple ways than this is left out and counted: two meshes of many strays.
MOST_WAYS = 4000


@dataclass(frozen=True)
class Link:
    """Something that a fault current passes, from `a` to `b` and, unless it is one-way, back."""

    number: int
    owner: str
    what: str
    a: int
    b: int
    cold: float = 0.0
    hot: float = 0.0
    one_way: bool = False
    #: What opens it or limits it, ampere.
    cap: float = inf
    drop: float = 0.0


@dataclass(frozen=True)
class Feed:
    """A pole that pushes: against its own negative, and what its string of packs comes to."""

    name: str
    thing: str
    plus: int
    minus: int
    volts: float
    full: float
    empty: float
    ohms: float
    #: "resistance", "usual" or "limit".
    strength: str
    limit: float = inf
    least: float = inf
    #: The fuse inside the pack that the pole stands behind.
    inside: str | None = None
    inside_rated: float = inf
    inside_hot: float = 0.0


@dataclass(frozen=True)
class Branch:
    """Cells between two poles of a pack: a voltage behind a resistance, full and cold."""

    owner: str
    low: int
    high: int
    volts: float
    ohms: float


@dataclass(frozen=True)
class Way:
    """One simple way from a pole to a node."""

    node: int
    links: tuple = ()
    nodes: frozenset = frozenset()
    width: float = inf
    hot: float = 0.0
    wire_hot: float = 0.0
    drop: float = 0.0
    limit: float = inf
    devices: tuple = ()
    unmeasured: bool = False
    past_driver: bool = False


@dataclass(frozen=True)
class Load:
    """Something between two nodes that a fault may short."""

    owner: str
    a: int
    b: int
    #: A pack, which is charged: no load by its nature, but a fault in it draws what the others let pass.
    is_pack: bool = False


@dataclass
class Wiring:
    """All of a robot that a fault current may pass."""

    robot: object
    nodes: Nodes = None
    links: list = field(default_factory=list)
    loads: list = field(default_factory=list)
    feeds: list = field(default_factory=list)
    branches: list = field(default_factory=list)
    rails: Groups = field(default_factory=Groups)

    def __post_init__(self):
        self.nodes = Nodes(self.robot)
        for wire in self.robot.wires:
            cold, hot = wire_resistance(self.robot, wire)
            self.add(wire.name, "wire", wire.start, wire.end, cold=cold, hot=hot)
        for one, other in self.robot.mates:
            halves = [self.robot.things[one], self.robot.things[other]]
            ohms = max(half.base("contact-resistance", usual.CONTACT) for half in halves)
            for way in range(1, round(halves[0].base("ways")) + 1):
                self.add("mate", "mated", f"{one}.{way}", f"{other}.{way}", cold=ohms)
        for thing in self.robot.things.values():
            INSIDE.get(thing.kind, load)(self, thing)
        self.at = {}
        for link in self.links:
            self.at.setdefault(link.a, []).append(link)
            if link.b != link.a:
                self.at.setdefault(link.b, []).append(link)
            if link.what in HOLDS:
                self.rails.join(link.a, link.b)
        for one, other in self.grounds():
            self.rails.join(one, other)
        self.wires = {link.owner: link for link in self.links if link.what == "wire"}
        self.find_feeds()
        self.unmeasured = {wire.name for wire in self.robot.wires if wire.resistance is None and wire.length is None}
        self.ways = {feed.name: list(self.search(feed)) for feed in self.feeds}
        self.by_node = {}
        for name, ways in self.ways.items():
            of = self.by_node.setdefault(name, {})
            for way in ways:
                of.setdefault(way.node, []).append(way)
        self._heavy, self._parts, self._unpushed = None, {}, None
        self.fed = {feed.name: {way.node for way in self.ways[feed.name]} for feed in self.feeds}
        self.pushed = set().union(*self.fed.values()) if self.fed else set()

    def node(self, path):
        """The node of a terminal."""
        return self.nodes.of(path)

    def add(self, owner, what, one, other, cold=0.0, hot=None, **more):
        """One more link."""
        a, b = (end if isinstance(end, int) else self.node(end) for end in (one, other))
        self.links.append(Link(len(self.links), owner, what, a, b, cold, cold if hot is None else hot, **more))

    def grounds(self):
        """The joints inside regulators that are not isolated."""
        for thing in self.robot.things.values():
            if thing.kind == "regulator" and not thing.word("isolated"):
                yield self.node(f"{thing.name}.in-neg"), self.node(f"{thing.name}.out-neg")

    def find_feeds(self):
        """Every pole of every source."""
        for thing in self.robot.things.values():
            if thing.kind == "battery":
                self.feeds += battery_feeds(self, thing)
            elif thing.kind in SOURCES:
                self.feeds.append(supply_feed(self, thing))
            elif thing.kind == "regulator":
                self.feeds.append(regulator_feed(self, thing))

    def rail(self, node):
        """The rail of a node: what stays joined whatever is switched."""
        return self.rails.root(node)

    def search(self, feed):
        """All simple ways of a pole that do not enter the rail it comes home to. Raises `TooMeshed` beyond the limit."""
        home = self.rail(feed.minus)
        if self.rail(feed.plus) == home:
            raise ValueError(f"{feed.name} is shorted")
        start = Way(feed.plus, nodes=frozenset([feed.plus]), limit=feed.least, hot=feed.inside_hot,
                    width=feed.inside_rated if feed.inside else feed.limit if feed.strength == "limit" else inf,
                    devices=(feed.inside,) if feed.inside else ())
        stack, count = [start], 0
        while stack:
            way = stack.pop()
            count += 1
            if count > MOST_WAYS:
                raise TooMeshed(feed.name)
            yield way
            for link in self.at.get(way.node, ()):
                to = link.b if link.a == way.node else link.a
                if to in way.nodes or self.rail(to) == home or (link.one_way and way.node != link.a):
                    continue
                stack.append(self.onwards(feed, way, link, to))

    def onwards(self, feed, way, link, to):
        """A way with one link more."""
        is_wire, is_device = link.what == "wire", link.what == "device"
        cap = feed.volts * (1 / link.cold) if link.what == "resistor" else link.cap
        limits = link.what == "driver" and link.cap < inf
        return Way(to, (*way.links, link), way.nodes | {to}, min(way.width, cap), way.hot + link.hot,
                   way.wire_hot + (link.hot if is_wire else 0.0), way.drop + link.drop,
                   min(way.limit, link.cap) if limits else way.limit,
                   (*way.devices, link.owner) if is_device else way.devices,
                   way.unmeasured or (is_wire and link.owner in self.unmeasured),
                   way.past_driver or link.what == "driver")

    def ways_to(self, feed, node, past=None):
        """The ways of a pole to a node that do not lead through a link."""
        return [way for way in self.by_node[feed.name].get(node, ()) if past is None or past not in way.links]

    def feeds_into(self, link, at_from):
        """Whether some pole reaches an end of a wire past the wire itself."""
        node = link.a if at_from else link.b
        return any(self.ways_to(feed, node, link) for feed in self.feeds)

    def comes_in(self, feed, link, at_from):
        """Whether a pole surely comes into a wire at an end, and the least protected ways by which it perhaps does: none
        when a way through the wire itself is less protected still, and not surely when one is as little."""
        node = link.a if at_from else link.b
        ways = self.ways_to(feed, node, link)
        widest = max((way.width for way in self.ways_to(feed, node)), default=0.0)
        best = [way for way in ways if way.width == widest]
        all_best = [way for way in self.ways_to(feed, node) if way.width == widest]
        return bool(best) and len(best) == len(all_best), best

    def heaviest(self, link):
        """The loads behind the largest device or limit that must come home through a wire: without it they do not. Those with
        nothing before them where there is none such."""
        found = [one for one in self.heavy_loads() if self.must_pass(one, link)]
        most = max((one.rated for one in found if one.rated < inf), default=inf)
        return [one for one in found if one.rated == most]

    def heavy_loads(self):
        """Every load, as each pole sees it."""
        if self._heavy is None:
            self._heavy = []
            for feed in self.feeds:
                for load in self.loads:
                    for node in {load.a, load.b}:
                        ways = self.ways_to(feed, node)
                        rated = max((way.width for way in ways), default=0.0)
                        best = tuple(way for way in ways if way.width == rated)
                        if best:
                            self._heavy.append(HeavyLoad(load, feed, rated, best))
        return self._heavy

    def must_pass(self, one, link):
        """Whether a load comes home to its source through a wire and by no other way."""
        start = one.load.b if one.ways[0].node == one.load.a else one.load.a
        end = self.string(one.feed)[-1][-1]
        graph = self.unpushed()
        if not graph.has_edge(link.a, link.b) or start not in graph or end not in graph:
            return False
        whole, parted = self.parts(None), self.parts(link)
        return whole[start] == whole[end] and parted[start] != parted[end]

    def parts(self, without):
        """Which nodes hang together that no pole pushes into, without one wire."""
        key = None if without is None else without.number
        if key not in self._parts:
            graph = self.unpushed().copy()
            if without is not None:
                graph.remove_edge(without.a, without.b, key=without.number)
            self._parts[key] = {node: number for number, part in enumerate(networkx.connected_components(graph))
                                for node in part}
        return self._parts[key]

    def unpushed(self):
        """What brings current home and no pole pushes into."""
        if self._unpushed is None:
            self._unpushed = networkx.MultiGraph()
            conductors = [(link.a, link.b, link.number) for link in self.links if link.what in HOLDS or link.what == "contact"]
            grounds = [(one, other, f"ground {one} {other}") for one, other in self.grounds()]
            for one, other, key in conductors + grounds:
                if one not in self.pushed and other not in self.pushed:
                    self._unpushed.add_edge(one, other, key=key)
        return self._unpushed

    def string(self, feed):
        """What a pole and the packs that it stands on come to, one after the other: (volts full, empty, ohms, strength,
        least, node it comes home to), against its own negative first."""
        levels = [(feed.full, feed.empty, feed.ohms, feed.strength, feed.limit, feed.least, feed.minus)]
        seen = {feed.name}
        while True:
            full, empty, ohms, strength, limit, least, minus = levels[-1]
            lower = next((one for one in self.feeds if self.rail(one.plus) == self.rail(minus)), None)
            if lower is None or lower.name in seen:
                return levels
            seen.add(lower.name)
            weaker = "limit" if "limit" in (strength, lower.strength) else \
                "usual" if "usual" in (strength, lower.strength) else "resistance"
            levels.append((full + lower.full, empty + lower.empty, ohms + lower.ohms, weaker, min(limit, lower.limit),
                           min(least, lower.least), lower.minus))

    def switched(self, feed):
        """What a pole comes to with the packs that it stands on while contacts are closed, one after the other, as `string`
        has it."""
        levels, seen = [self.string(feed)[-1]], {feed.thing}
        for *_, minus in self.string(feed)[:-1]:
            seen.add(next(one.thing for one in self.feeds if self.rail(one.plus) == self.rail(minus)))
        while True:
            full, empty, ohms, strength, limit, least, minus = levels[-1]
            lower = next((one for one in self.feeds if one.thing not in seen and self.rail(one.minus) != self.rail(minus)
                          and any(way.node == minus and all(link.what in HOLDS or link.what == "contact" for link in way.links)
                                  for way in self.ways[one.name])), None)
            if lower is None:
                return levels[1:]
            seen.add(lower.thing)
            weaker = "limit" if "limit" in (strength, lower.strength) else \
                "usual" if "usual" in (strength, lower.strength) else "resistance"
            levels.append((full + lower.full, empty + lower.empty, ohms + lower.ohms, weaker, min(limit, lower.limit),
                           min(least, lower.least), lower.minus))

    def lacking(self, feed):
        """The batteries of a string that state no resistance, the upper one first to be asked for."""
        levels, one = self.string(feed), feed
        for *_, minus in levels:
            if one.strength == "usual":
                return {one.thing}
            one = next((lower for lower in self.feeds if self.rail(lower.plus) == self.rail(minus)), one)
        return set()

    def home_node(self, feed):
        """Where the current of a pole ends: of a string its lowest negative, of which the first source's stands for all."""
        minus = self.string(feed)[-1][-1]
        if self.rail(minus) == self.rail(feed.minus):
            return feed.minus
        return next(one.minus for one in self.feeds if self.rail(one.minus) == self.rail(minus))

    def homeward(self, home):
        """What brings a current home, as a graph of hot resistances: conductors, devices and contacts over nodes that no
        pole pushes into. Of several side by side the least."""
        graph = networkx.MultiGraph()
        for link in self.links:
            if link.what in HOLDS or link.what == "contact":
                self.home_edge(graph, home, link.a, link.b, link.hot, link.owner if link.what == "wire" else None)
        for one, other in self.grounds():
            self.home_edge(graph, home, one, other, usual.REGULATOR_GROUND, None)
        return graph

    def home_edge(self, graph, home, a, b, ohms, wire):
        """One edge, where it is on the way home."""
        if all(self.rail(node) == home or node not in self.pushed for node in (a, b)):
            graph.add_edge(a, b, ohms=ohms, wire=wire)


class TooMeshed(Exception):
    """More simple ways than are listed."""


#: What holds a rail together.
HOLDS = {"wire", "mated", "device", "shunt"}


def wire_resistance(robot, wire):
    """Cold, and at the temperature class of the insulation."""
    growth = 1 + usual.COPPER_GROWTH * (max(robot.insulation, 20.0) - 20.0)
    if wire.resistance:
        return wire.resistance.base, wire.resistance.base * growth
    area = area_of(wire)
    metal = usual.COPPER * wire.length.base / (area * 1e-6) * over_copper(wire) if area and wire.length else 0.0
    return metal + 2 * usual.CRIMP, metal * growth + 2 * usual.CRIMP


def device(wiring, thing):
    """A fuse or breaker."""
    rated = thing.base("current")
    cold = thing.base("resistance", usual.PROTECTIVE_DROP / rated)
    wiring.add(thing.name, "device", f"{thing.name}.line", f"{thing.name}.load", cold=cold, hot=cold * usual.HOT_OVER_COLD,
               cap=rated)


def battery(wiring, thing):
    """The fuse inside a pack; its cells are a load for the others."""
    if "built-in-fuse" in thing.ratings:
        rated = thing.base("built-in-fuse")
        cold = cold_resistance(rated)
        top = f"{thing.name}.t{cells_of(thing)}" if thing.word("taps") else f"{thing.name}.~inner"
        wiring.add(thing.name, "device", top, f"{thing.name}.pos", cold=cold, hot=cold * usual.HOT_OVER_COLD, cap=rated)
    else:
        top = f"{thing.name}.pos"
    poles = [f"{thing.name}.neg", top]
    if thing.word("taps"):
        poles = [f"{thing.name}.t{tap}" for tap in range(cells_of(thing) + 1)]
    (volts, ohms), parts = pack_figures(thing, "full"), len(poles) - 1
    for low, high in zip(poles, poles[1:]):
        low, high = wiring.node(low), wiring.node(high)
        wiring.loads.append(Load(thing.name, high, low, is_pack=True))
        wiring.branches.append(Branch(thing.name, low, high, volts / parts, ohms / parts))


def contacts(*ways):
    """Contacts, closed for a fault."""
    def lay(wiring, thing):
        for one, other in ways:
            wiring.add(thing.name, "contact", f"{thing.name}.{one}", f"{thing.name}.{other}",
                       cold=thing.base("contact-resistance", usual.CONTACT))
        if thing.kind in ("relay", "contactor"):
            one, other = wiring.node(f"{thing.name}.A1"), wiring.node(f"{thing.name}.A2")
            wiring.loads.append(Load(thing.name, one, other))
            if thing.word("suppression") == "diode":
                wiring.add(thing.name, "diode", other, one, cold=usual.DIODE, one_way=True, drop=usual.SILICON)
    return lay


def shunt(wiring, thing):
    """A shunt."""
    ohms = thing.base("drop", usual.SHUNT_DROP) / thing.base("current")
    wiring.add(thing.name, "shunt", f"{thing.name}.1", f"{thing.name}.2", cold=ohms)


def resistor(wiring, thing):
    """A resistor."""
    wiring.add(thing.name, "resistor", f"{thing.name}.1", f"{thing.name}.2", cold=thing.base("resistance"))


def diode(wiring, thing):
    """A diode."""
    wiring.add(thing.name, "diode", f"{thing.name}.anode", f"{thing.name}.cathode", cold=usual.DIODE, one_way=True,
               drop=usual.SILICON)


def slip_ring(wiring, thing):
    """A slip ring."""
    for way in range(1, round(thing.base("ways")) + 1):
        wiring.add(thing.name, "mated", f"{thing.name}.s{way}", f"{thing.name}.r{way}",
                   cold=thing.base("contact-resistance", usual.RING))


def driver(wiring, thing):
    """A driver: its input is a load; from its supply into its leads, as far as its limit lets."""
    limit = thing.base("current-limit", inf)
    load(wiring, thing)
    for channel in range(1, round(thing.base("channels")) + 1):
        for lead in "ab":
            if limit < inf:
                wiring.add(thing.name, "driver", f"{thing.name}.pos", f"{thing.name}.m{channel}{lead}", one_way=True, cap=limit)
            else:
                wiring.add(thing.name, "driver", f"{thing.name}.pos", f"{thing.name}.m{channel}{lead}", cold=usual.BRIDGE,
                           one_way=True, drop=usual.SILICON)


def load(wiring, thing):
    """Anything between its poles."""
    name = thing.name
    ends = {"motor": ("a", "b"), "regulator": ("in", "in-neg")}.get(thing.kind, ("pos", "neg"))
    if thing.kind in NOTHING_INSIDE or thing.kind in SOURCES:
        return
    a, b = (wiring.node(f"{name}.{end}") for end in ends)
    wiring.loads.append(Load(name, a, b))


NOTHING_INSIDE = {"block", "splice", "stud", "chassis", "plug", "socket", "lug"}
INSIDE = {
    "fuse": device, "breaker": device, "battery": battery, "shunt": shunt, "resistor": resistor, "diode": diode,
    "slip-ring": slip_ring, "driver": driver, "switch": contacts(("1", "2")), "stop": contacts(("11", "12")),
    "contactor": contacts(("1", "2")), "relay": contacts(("11", "12"), ("11", "14")),
}


def battery_feeds(wiring, thing):
    """The positive pole, and every tap with its share."""
    name, cells = thing.name, cells_of(thing)
    (full, ohms), (empty, _) = pack_figures(thing, "full"), pack_figures(thing, "empty")
    strength = "resistance" if "resistance" in thing.ratings else "usual"
    fused = thing.base("built-in-fuse")
    minus = wiring.node(f"{name}.neg")
    yield Feed(f"{name}.pos", name, wiring.node(f"{name}.pos"), minus, full, full, empty, ohms, strength,
               inside=name if fused else None, inside_rated=fused or inf,
               inside_hot=cold_resistance(fused) * usual.HOT_OVER_COLD if fused else 0.0)
    if thing.word("taps"):
        for tap in range(1, cells + bool(fused)):
            part = tap / cells
            yield Feed(f"{name}.t{tap}", name, wiring.node(f"{name}.t{tap}"), minus, full * part, full * part, empty * part,
                       ohms * part, strength)


def supply_feed(wiring, thing):
    """A charger, supply or generator: a voltage behind a resistance up to a limit, which for a fault is taken high."""
    volts, ohms, _ = supply_figures(thing)
    rated, limit, off = thing.base("current"), thing.base("current-limit"), off_by(thing)
    most = limit if limit is not None else rated * (1.0 if thing.kind == "charger" else usual.FOLD_BACK)
    return Feed(f"{thing.name}.pos", thing.name, wiring.node(f"{thing.name}.pos"), wiring.node(f"{thing.name}.neg"), volts,
                volts * (1 + off), volts * (1 - off), ohms, "limit", most, min(rated if limit is None else limit, most))


def off_by(thing):
    """How far from what it is set to the voltage may be, a share."""
    return thing.base("tolerance", {"regulator": 0.05, "supply": 0.05, "charger": 0.01}.get(thing.kind, 0.0))


def regulator_feed(wiring, thing):
    """The output of a regulator."""
    rated, limit, off = thing.base("current"), thing.base("current-limit"), off_by(thing)
    most = limit if limit is not None else rated * usual.FOLD_BACK
    volts = thing.base("output")
    return Feed(f"{thing.name}.out", thing.name, wiring.node(f"{thing.name}.out"), wiring.node(f"{thing.name}.out-neg"), volts,
                volts * (1 + off), volts * (1 - off), usual.LEAST, "limit", most, min(rated if limit is None else limit, most))




@dataclass(frozen=True)
class HeavyLoad:
    """A load that comes home through a wire, with the least protected ways of a pole to it."""

    load: Load
    feed: Feed
    rated: float
    ways: tuple
