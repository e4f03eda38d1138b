"""What protects every wire and what a short on it comes to, against what the command prints of it in the section `short`.

Every way in is asked for: of every pole, at every end of every wire. Which device counts, what the pole alone gives at
least, by when the devices on the way have opened at that current and at the highest, what the wire stands, and what it all
comes to. Where several ways are as little protected as each other the linter takes one: then what is told has to be true of
one of them, in all its figures together."""

import re
from dataclasses import dataclass, replace
from math import inf, isclose

import networkx

from bands import Device, first
from shorts import Shorts
from verdicts import PRINTED, RANK, judge, kind_of, order, order_of, tells, together
from ways import HOLDS, TooMeshed, Wiring
from withstand import Withstand

#: What a figure may differ by, of itself.
OF_ITSELF = 1e-6
#: The usual resistance of a chemistry may lie so many times above that of a pack.
USUAL_SPREAD = 4.0
RULE = "protection.breaking-capacity-exceeded"


@dataclass
class Case:
    """A way in: over one of the least protected ways, with what it gives at least, and what it may be told to give where
    the way home is no single one."""

    way: object
    lowest: float
    homeward: bool = False
    least: float = inf


class Told:
    """The figures of the section `short` of one robot, by thing and name."""

    def __init__(self, figures):
        self.of = {}
        for figure in figures:
            if figure["of"] == "short":
                self.of.setdefault(figure["thing"], {})[figure["figure"]] = figure

    def value(self, thing, what):
        """The number; `None` where there is none."""
        figure = self.of.get(thing, {}).get(what)
        return None if figure is None else figure["value"]

    def words(self, thing, what):
        """The words or what is missing."""
        figure = self.of.get(thing, {}).get(what) or {}
        return figure.get("words") or figure.get("missing")


class Checker:
    """The comparison of one robot."""

    def __init__(self, comparison, seed, robot, told):
        self.comparison, self.seed, self.robot, self.told = comparison, seed, robot, told
        self.wiring = Wiring(robot)
        self.shorts = Shorts(self.wiring)
        self.devices = {thing.name: Device(thing) for thing in robot.things.values()
                        if thing.kind in ("fuse", "breaker") or "built-in-fuse" in thing.ratings}
        self.home_graphs, self.home_ohms = {}, {}

    def wrong(self, what):
        """Notes a disagreement."""
        self.comparison.wrong.append(f"robot {self.seed}: {what}")

    def count(self, what, number=1):
        """Counts what was asked."""
        self.comparison.counts[what] += number

    def same(self, thing, what, own):
        """Compares a number, or one that may be anywhere between two."""
        low, high = own if isinstance(own, tuple) else (own, own)
        told = self.told.value(thing, what)
        self.count(f"short: {what.partition(',')[0]}")
        if told is None or not low * (1 - OF_ITSELF) - 1e-12 <= told <= high * (1 + OF_ITSELF) + 1e-12:
            self.wrong(f"{thing} has {what} {told}, by the oracle {low if low == high else own}")

    # ---- wires ------------------------------------------------------------------------------------------------

    def wires(self):
        """Every wire."""
        for wire in self.robot.wires:
            link = self.wiring.wires[wire.name]
            stands = Withstand.of(self.robot, wire, self.told.value(wire.name, "ampacity"))
            if stands:
                self.same(wire.name, "energy the insulation stands", stands.energy)
            ends = [(at_from, self.wiring.feeds_into(link, at_from)) for at_from in (True, False)]
            fed = any(found for _, found in ends)
            highest = self.highest(wire, link, fed)
            told_ways = self.ways(wire, link, highest) if fed else self.ways_home(wire, link)
            if told_ways is not None:
                self.verdict(wire, told_ways, stands)

    def highest(self, wire, link, fed):
        """The highest currents of a wire that something feeds, by the end they come in at."""
        if not fed:
            return None
        near = {at_from: self.shorts.into(link, at_from) for at_from in (True, False)}
        far = [self.shorts.behind(link, at_from) for at_from in (True, False)]
        figures = (("highest fault current", near.values()), ("highest fault current at its far end", far))
        for what, pairs in figures:
            self.highest_of(wire.name, what, tuple(max(pair[end] for pair in pairs) for end in (0, 1)), link)
        return near

    def highest_of(self, name, what, own, link):
        """Compares a highest current. Behind a diode that leads back to where it is fed from, and behind several that are
        fed from one place, what is told may be a bound: no less than it is."""
        if self.shorts.in_ring(link.a, link.b) or self.shorts.doubled(link.a, link.b):
            self.count("short: highest currents that may be bounds")
            self.same(name, what, (own[0], inf))
        else:
            self.same(name, what, own)

    def ways(self, wire, link, highest):
        """Every way into a wire that something feeds: what is told of each that there is."""
        told_ways = []
        for feed in self.wiring.feeds:
            for at_from in (True, False):
                named = f", fed by `{feed.name}` at its `{'from' if at_from else 'to'}` end"
                told = self.told.value(wire.name, "lowest fault current" + named)
                surely, perhaps = self.wiring.comes_in(feed, link, at_from)
                self.count("short: ways in looked for")
                if told is None and surely or told is not None and not perhaps:
                    self.wrong(f"{wire.name}: a way in{named} is {'not ' * (told is None)}told")
                if told is None or not perhaps:
                    continue
                near = self.exact_near(link, highest, at_from)
                most = inf if near is None else highest[at_from][1]
                cases = [Case(way, min(self.lowest(feed, way, link, at_from), most),
                              least=min(self.lowest(feed, way, link, at_from, True), highest[at_from][0])) for way in perhaps]
                told_ways.append(self.way(wire, feed, named, cases, near, at_from))
        return told_ways

    def exact_near(self, link, highest, at_from):
        """The highest current through an end; `None` where it is told as a bound only, or may be one of several."""
        low, high = highest[at_from]
        bound = self.shorts.in_ring(link.a, link.b) or self.shorts.doubled(link.a, link.b)
        return None if bound or low < high else high

    def lowest(self, feed, way, link, at_from, detour=False):
        """What a pole alone gives at least into a short at the other end: empty and hot, over one way and home; with a
        detour when it comes home over the negative of the first source there, as the linter's tree of ways may have it."""
        _, empty, ohms, _, _, least, _ = self.wiring.string(feed)[-1]
        far = link.b if at_from else link.a
        back = self.back(feed, far, detour)
        if back is None:
            back = way.wire_hot + link.hot
        driven = max(empty - way.drop, 0.0) / (ohms + way.hot + link.hot + back)
        return min(driven, way.limit, least)

    def back(self, feed, node, detour):
        """The way home from the loads at a node, hot: the longest of them; `None` where no load leads home."""
        others = [one.b if one.a == node else one.a for one in self.wiring.loads if node in (one.a, one.b) and not one.is_pack]
        known = [self.ohms_home(feed, other, detour) for other in others]
        return max((ohms for ohms in known if ohms is not None), default=None)

    def ohms_home(self, feed, node, detour=False):
        """The least resistance from a node to the negative of a source, or over that of the first source there."""
        minus = self.wiring.home_node(feed)
        if not detour:
            return self.ohms_from(minus).get(node)
        root = next(one.minus for one in self.wiring.feeds if self.wiring.rail(one.minus) == self.wiring.rail(minus))
        ohms = self.ohms_from(root)
        return ohms[node] + ohms[minus] if node in ohms and minus in ohms else None

    def ohms_from(self, minus):
        """The least resistance to every node from a negative over what brings current home to it."""
        if minus not in self.home_ohms:
            home = self.wiring.rail(minus)
            if home not in self.home_graphs:
                self.home_graphs[home] = self.wiring.homeward(home)
            graph = self.home_graphs[home]
            self.home_ohms[minus] = networkx.single_source_dijkstra_path_length(graph, minus, weight="ohms") \
                if minus in graph else {minus: 0.0}
        return self.home_ohms[minus]

    def way(self, wire, feed, named, cases, near, at_from):
        """Compares the figures of one way in; gives what its verdict is made of."""
        told = self.told.value(wire.name, "lowest fault current" + named)
        self.count("short: lowest fault current")
        fitting = [case for case in cases if isclose(told, case.lowest, rel_tol=OF_ITSELF, abs_tol=1e-12)]
        if not fitting:
            fitting = [replace(case, lowest=told) for case in cases
                       if case.least * (1 - OF_ITSELF) <= told <= case.lowest * (1 + OF_ITSELF)]
            self.count("short: lowest fault currents over another way home", bool(fitting))
        if not fitting:
            self.wrong(f"{wire.name} has lowest fault current{named} {told}, by the oracle {sorted({c.lowest for c in cases})}")
            fitting = cases
        guards = {guard for case in fitting for guard in self.guards(feed, case.way)}
        self.count("short: protected by")
        said = self.told.words(wire.name, "protected by" + named)
        if not any(matches(said, guard) for guard in guards):
            self.wrong(f"{wire.name} is protected by {said}{named}, by the oracle by {sorted(guards, key=str)}")
        problems = [self.times(wire, named, case, near) for case in fitting]
        if all(problems):
            self.wrong(problems[0])
        right = [case for case, problem in zip(fitting, problems) if not problem]
        return feed, at_from, right or fitting, near

    def guards(self, feed, way):
        """The smallest that opens or limits on a way: everything on it that is no larger than what it lets pass."""
        if way.width == inf:
            return {("nothing", inf)}
        found = {("a limit", way.width)} if self.is_limit(feed, way) else set()
        for name in way.devices:
            if self.devices[name].rated == way.width:
                found.add((name, way.width))
        return found

    def is_limit(self, feed, way):
        """Whether a limit, and not a device, is the smallest on a way."""
        caps = [feed.limit] if feed.strength == "limit" else []
        for link in way.links:
            if link.what == "resistor":
                caps.append(feed.volts / link.cold)
            elif link.what == "driver":
                caps.append(link.cap)
        return any(isclose(cap, way.width, rel_tol=1e-12) for cap in caps)

    def times(self, wire, named, case, near):
        """What is wrong with the times told of a way in; nothing when all is right."""
        devices = [self.devices[name] for name in case.way.devices]
        asked = [("lowest", case.lowest)]
        if near is not None:
            asked.append(("highest", near))
        for which, amps in asked:
            what = f"opened at the {which} current within{named}"
            self.count(f"short: opened at the {which} current within")
            problem = self.time(wire.name, what, devices, amps)
            if problem:
                return problem
        return None

    def time(self, name, what, devices, amps):
        """What is wrong with a time; nothing when it is right."""
        told = self.told.of.get(name, {}).get(what)
        if not devices or amps <= 0:
            return f"{name}: {what} is told" if told else None
        if told is None:
            return f"{name}: {what} is not told"
        # At the very limit of a device the last digit of the current decides.
        found = [first(devices, amps * near) for near in (1.0, 1 - 1e-9, 1 + 1e-9)]
        if any(fits_time(told, one) for one in found):
            return None
        return f"{name} has {what} {told['value']} {told['words']} {told['missing']}, by the oracle {found[0]}"

    # ---- ways home --------------------------------------------------------------------------------------------

    def ways_home(self, wire, link):
        """The heaviest load that comes home through a wire that nothing feeds: what is told of it."""
        told = [what for what in self.told.of.get(wire.name, {}) if what.startswith("lowest fault current") and "home" in what]
        heaviest = self.wiring.heaviest(link)
        self.count("short: wires asked for loads that come home")
        if not heaviest:
            if told:
                self.wrong(f"{wire.name}: no load comes home through it, but {told[0]} is told")
            return []
        if not told:
            owners = sorted({f"{one.load.owner} fed by {one.feed.name}" for one in heaviest})
            self.wrong(f"{wire.name}: nothing is told of a load that comes home through it: {owners}")
            return None
        named = told[0].removeprefix("lowest fault current")
        cases, near = [], None
        for one in heaviest:
            if f"`{one.feed.name}`" not in named:
                continue
            nears = self.shorts.at(one.load.a), self.shorts.at(one.load.b)
            near = max(pair[1] for pair in nears)
            if not isclose(near, self.told.value(wire.name, "highest fault current"), rel_tol=OF_ITSELF):
                continue
            cases += [(one.feed, Case(way, min(self.lowest_of_load(one.feed, way, one), near), True,
                                      min(self.lowest_of_load(one.feed, way, one, True), near)), near) for way in one.ways]
        if not cases:
            self.home_without_match(wire, named, heaviest)
            return None
        feed, _, near = cases[0]
        return [self.way(wire, feed, named, [case for _, case, _ in cases], near, None)]

    def home_without_match(self, wire, named, heaviest):
        """No heaviest load fits what is told."""
        if any(self.shorts.in_ring(node) or self.shorts.doubled(node) for one in heaviest for node in (one.load.a, one.load.b)):
            self.count("short: ways home that rest on a bound")
            return
        told = self.told.value(wire.name, "highest fault current")
        own = sorted({f"{one.load.owner} fed by {one.feed.name}" for one in heaviest})
        self.wrong(f"{wire.name}: highest fault current {told}{named} is that of none of the heaviest loads {own}")

    def lowest_of_load(self, feed, way, one, detour=False):
        """What a pole alone gives at least into a short of a load."""
        _, empty, ohms, _, _, least, _ = self.wiring.string(feed)[-1]
        other = one.load.b if one.load.a == way.node else one.load.a
        back = self.ohms_home(feed, other, detour)
        back = way.wire_hot if back is None else back
        return min(max(empty - way.drop, 0.0) / (ohms + way.hot + back), way.limit, least)

    # ---- verdict ----------------------------------------------------------------------------------------------

    def verdict(self, wire, ways, stands):
        """What it comes to: the worst of the ways."""
        words = self.told.words(wire.name, "a short on it")
        if words is None:
            return self.wrong(f"{wire.name}: nothing is told of a short on it")
        if any(near is None for _, _, _, near in ways):
            return self.count("short: verdicts that rest on a bound")
        if stands and stands.ampacity and any(isclose(amps, stands.ampacity, rel_tol=1e-9) for _, _, cases, near in ways
                                              for case in cases for amps in (case.lowest, near)):
            return self.count("short: verdicts on the very ampacity")
        told = kind_of(words)
        self.count(f"short: verdicts, {told}")
        picks = range(max((len(cases) for _, _, cases, _ in ways), default=1))
        problems = [self.differs(wire, words, self.judged(wire, [
            (feed, at_from, cases[min(pick, len(cases) - 1)], near) for feed, at_from, cases, near in ways], stands))
            for pick in picks]
        if all(problems):
            self.wrong(problems[0])
        return None

    def differs(self, wire, words, judged):
        """What is wrong with the words on a short; nothing when they are right."""
        worst = max((RANK.index(kind) for kind, _ in judged), default=0)
        if kind_of(words) != RANK[worst]:
            return f"{wire.name}: a short on it is told as `{words}`, by the oracle {RANK[worst]}: {judged}"
        if kind_of(words) == "slow" and not any(tells(words, case) for _, cases in judged for case in cases):
            return f"{wire.name}: `{words}` is told of a short on it, by the oracle none of {judged}"
        return None

    def judged(self, wire, ways, stands):
        """The kind of each way, with the currents at which the wire fails."""
        judged = []
        for feed, at_from, case, near in ways:
            limited = feed.strength == "limit" and any(
                other.strength != "limit" and end == at_from for other, end, _, _ in ways)
            alone = min(near, feed.limit) if limited else near
            unmeasured = case.way.unmeasured or (not case.homeward and wire.name in self.wiring.unmeasured)
            judged.append(judge(stands, self.on(case.way), case.lowest, alone, unmeasured))
        for end in (True, False):
            here = [at for at, (feed, at_from, _, _) in enumerate(ways) if at_from == end and feed.strength != "limit"]
            strong = [(self.on(ways[at][2].way), ways[at][2].lowest, ways[at][3]) for at in here]
            for at, cases in together(stands, strong).items():
                if judged[here[at]][0] == "in time":
                    judged[here[at]] = "slow", cases
        return judged

    def on(self, way):
        """The devices on a way."""
        return [self.devices[name] for name in way.devices]

    # ---- devices ----------------------------------------------------------------------------------------------

    def all_devices(self, findings, gaps):
        """Every fuse and breaker."""
        rows = self.rows()
        for link in self.wiring.links:
            if link.what != "device":
                continue
            device, near = self.devices[link.owner], None
            if link.a in self.wiring.pushed or link.b in self.wiring.pushed:
                near = self.device(link, device)
                self.breaking(link, device, findings, gaps)
            if near is not None:
                self.rows_of(link, device, near, rows)

    def device(self, link, device):
        """The highest currents through one, the voltage across it, and when it opens at the highest."""
        near = tuple(max(ends) for ends in zip(*(self.shorts.into(link, at_from) for at_from in (True, False))))
        far = tuple(max(ends) for ends in zip(*(self.shorts.behind(link, at_from) for at_from in (True, False))))
        self.highest_of(link.owner, "highest fault current", near, link)
        self.highest_of(link.owner, "fault current it has to break", far, link)
        reaching = [feed for feed in self.wiring.feeds if {link.a, link.b} & self.wiring.fed[feed.name]]
        volts = max(level[0] for feed in reaching for level in self.wiring.string(feed) + self.wiring.switched(feed))
        told = self.told.value(link.owner, "voltage across it when it opens")
        self.count("short: voltage across it when it opens")
        # Turned motors and braking against a clamp may lift it.
        lifts = any(thing.kind in ("motor", "clamp") for thing in self.robot.things.values())
        if told < volts * (1 - OF_ITSELF) or not lifts and not isclose(told, volts, rel_tol=OF_ITSELF):
            self.wrong(f"{link.owner} has {told} V across it when it opens, by the oracle {volts}")
        if self.shorts.in_ring(link.a, link.b) or self.shorts.doubled(link.a, link.b) or near[0] < near[1]:
            return None
        self.count("short: opened at the highest fault current within")
        problem = self.time(link.owner, "opened at the highest fault current within", [device], near[1])
        if problem:
            self.wrong(problem)
        return near[1]

    def breaking(self, link, device, findings, gaps):
        """Whether it breaks what a short behind it draws, from either side."""
        if self.shorts.in_ring(link.a, link.b) or self.shorts.doubled(link.a, link.b):
            return
        outcomes = [breaks(device, self.sides(link, end)) for end in (0, 1)]
        told = "exceeded" if link.owner in findings else "within"
        self.count(f"short: breaking capacities {outcomes[0][0]}")
        if not any(fits(told, outcome, findings, gaps) for outcome in outcomes):
            self.wrong(f"{link.owner} breaks {device.breaks} A and is told as {told}, by the oracle as {outcomes}: "
                       f"{self.sides(link, 1)}")

    def sides(self, link, end):
        """What a device has to break from either side, with the batteries that feed it of which only the usual resistance
        is known; at the lower or the upper end, where one of several ways decides what comes in."""
        return [(self.shorts.behind(link, at_from)[end], self.usual_among(link, at_from)[end]) for at_from in (True, False)]

    def usual_among(self, link, at_from):
        """The batteries that lack a resistance among what surely and what perhaps comes in on one side."""
        node, among = link.a if at_from else link.b, (set(), set())
        for feed in self.wiring.feeds:
            if self.wiring.lacking(feed):
                for known, found in zip(among, self.shorts.comes(feed, node, link)):
                    known.update(self.wiring.lacking(feed) if found else ())
        return among

    # ---- two in a row -----------------------------------------------------------------------------------------

    def rows(self):
        """The devices towards the sources before each device, over every way to a load; `None` for those before which a
        choice between ways as little protected as each other would decide."""
        above, topmost, unsure = {}, set(), set()
        for feed in self.wiring.feeds:
            for load in self.wiring.loads:
                for node in {load.a, load.b} if not load.is_pack else ():
                    ways = self.wiring.ways_to(feed, node)
                    widest = max((way.width for way in ways), default=0.0)
                    chains = {way.devices for way in ways if way.width == widest and not way.past_driver}
                    if len(chains) > 1 or chains and any(way.past_driver for way in ways if way.width == widest):
                        unsure.update(*chains)
                    for chain in chains:
                        topmost.update(chain[:1])
                        for upper, lower in zip(chain, chain[1:]):
                            above.setdefault(lower, set()).add(upper)
        return {lower: None if lower in unsure else uppers for lower, uppers in above.items()
                if lower in unsure or lower not in topmost}

    def rows_of(self, link, device, near, rows):
        """Which of it and those before it opens first."""
        prefix, suffix = "which opens first, this or `", "` before it"
        told = {what.removeprefix(prefix).removesuffix(suffix): figure["words"]
                for what, figure in self.told.of.get(link.owner, {}).items() if what.startswith(prefix)}
        uppers = rows.get(link.owner, set())
        if uppers is None:
            return self.count("short: devices with several ways to them")
        if set(told) != uppers:
            return self.wrong(f"{link.owner} is compared with {sorted(told)} before it, by the oracle with {sorted(uppers)}")
        whole = sum(self.devices[name].rated for name in uppers)
        for name, words in told.items():
            own = order(device, self.devices[name], near, near / len(uppers), whole / device.rated, self.has_way_round(name))
            there = order_of(words)
            self.count(f"short: which opens first, {there[0]}")
            if there[0] != own[0] or any(not isclose(one, other, rel_tol=PRINTED) for one, other in zip(there[1], own[1])):
                self.wrong(f"{link.owner} and {name} before it: `{words}` is told, by the oracle {own}")
        return None

    def has_way_round(self, name):
        """Whether conductors and other devices lead round a device."""
        graph = networkx.Graph()
        device = next(link for link in self.wiring.links if link.what == "device" and link.owner == name)
        graph.add_edges_from((link.a, link.b) for link in self.wiring.links if link.what in HOLDS and link is not device)
        return device.a in graph and device.b in graph and networkx.has_path(graph, device.a, device.b)


def breaks(device, sides):
    """What is to be told of a breaking capacity, and for want of what it cannot be: `sides` are the currents with the
    batteries of which only the usual resistance is known."""
    needs = max(amps for amps, _ in sides)
    if device.breaks is None:
        surely = device.surely_breaks()
        return ("within", set()) if surely is not None and needs <= surely else ("not assessed", {device.name})
    if any(amps > device.breaks and not usual for amps, usual in sides):
        return "exceeded", set()
    unsure = [usual for amps, usual in sides if usual and amps * USUAL_SPREAD > device.breaks]
    return ("not assessed", unsure[0]) if unsure else ("within", set())


def fits(told, outcome, findings, gaps):
    """Whether findings and gaps tell what a breaking capacity comes to. A finding names six devices of one block only."""
    verdict, missing = outcome
    if verdict == "not assessed":
        return told == "within" and bool(missing & gaps)
    return told == verdict or verdict == "exceeded" and "more" in findings


def fits_time(told, found):
    """Whether a time is told as it is, of the device that opens first."""
    if found is None:
        return told["missing"] is not None
    if found[1] is None:
        return told["words"] == "need not open"
    # The time falls with the square of the current, which itself is right to a millionth.
    return told["value"] is not None and isclose(told["value"], found[1], rel_tol=3 * OF_ITSELF)


def matches(said, guard):
    """Whether words name what protects."""
    name, amps = guard
    if name == "nothing":
        return said == "nothing"
    if name == "a limit":
        return said is not None and said.startswith("a limit of ")
    return said is not None and said.startswith(f"`{name}` (")


def check(comparison, seed, robot, figures, report):
    """Checks one robot: its figures, and of its findings those on breaking capacity."""
    try:
        checker = Checker(comparison, seed, robot, Told(figures))
    except TooMeshed:
        comparison.counts["short: robots too meshed to list all ways"] += 1
        return
    checker.wires()
    findings = " ".join(" ".join([f"`{one['subject']}`", *one["because"]]) for one in report["findings"] if one["rule"] == RULE)
    gaps = {one["subject"] for one in report["not_assessed"] if RULE in one["blocks"]}
    checker.all_devices(names_in(findings), gaps)


def names_in(words):
    """The names in backticks, and the word "more" where a finding names only some of its devices."""
    more = {"more"} if re.search(r"and \d+ more", words) else set()
    return set(re.findall("`([A-Z][A-Z0-9.-]*)`", words)) | more
