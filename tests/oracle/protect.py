"""Which wires a battery can feed with nothing to open: paths searched with networkx on the generator's description, against
the findings of `protection.unfused-branch`.

The rule's page says: a conductor that some source reaches with no fuse, breaker or limit on the way is reported, unless it
lies between the source and its first device and that device is near enough. So, for each robot:

- what is reported is reached by a battery with nothing on the way;
- the distance that is told is the length of the shortest bare way to that device, and beyond what is allowed;
- what is reached with nothing on the way and not reported leads to a device, or to nothing at all, near enough."""

import networkx

from elements import Nodes, cells_of

RULE = "protection.unfused-branch"
#: 33 CFR 183.455(b): 7 in; 40 in where the conductor is sheathed over its whole length.
BARE, SHEATHED = 7 * 0.0254, 40 * 0.0254


class Wiring:
    """What a fault current passes with nothing to open it, what opens, and what is one rail whatever is switched."""

    def __init__(self, robot):
        self.robot, self.nodes = robot, Nodes(robot)
        self.bare = networkx.MultiDiGraph()
        self.rail = networkx.Graph()
        self.exits = {}
        for wire in robot.wires:
            ends = self.at(wire.start), self.at(wire.end)
            self.both(*ends, wire=wire.name, metres=wire.length.base if wire.length else 0.0)
            self.rail.add_edge(*ends)
        for one, other in robot.mates:
            for way in range(1, round(robot.things[one].base("ways")) + 1):
                self.joint(f"{one}.{way}", f"{other}.{way}", True)
        for thing in robot.things.values():
            self.lay(thing)

    def at(self, path):
        """The node of a terminal."""
        return self.nodes.of(path)

    def both(self, a, b, **what):
        """Something that passes current both ways."""
        self.bare.add_edge(a, b, **what)
        self.bare.add_edge(b, a, **what)

    def joint(self, one, other, lasting):
        """A contact; a lasting one holds a rail together."""
        self.both(self.at(one), self.at(other), metres=0.0)
        if lasting:
            self.rail.add_edge(self.at(one), self.at(other))

    def exit(self, one, other, lasting):
        """Something that opens or limits."""
        ends = self.at(one), self.at(other)
        for end in ends:
            self.exits.setdefault(end, set()).add(one.split(".")[0])
        if lasting:
            self.rail.add_edge(*ends)

    def lay(self, thing):
        """The inside of a part."""
        name, kind = thing.name, thing.kind
        if kind in ("fuse", "breaker"):
            self.exit(f"{name}.line", f"{name}.load", True)
        elif kind == "resistor":
            self.exit(f"{name}.1", f"{name}.2", False)
        elif kind == "shunt":
            self.joint(f"{name}.1", f"{name}.2", True)
        elif kind == "switch":
            self.joint(f"{name}.1", f"{name}.2", False)
        elif kind == "stop":
            self.joint(f"{name}.11", f"{name}.12", False)
        elif kind == "contactor":
            self.joint(f"{name}.1", f"{name}.2", False)
        elif kind == "relay":
            self.joint(f"{name}.11", f"{name}.12", False)
            self.joint(f"{name}.11", f"{name}.14", False)
        elif kind == "slip-ring":
            for way in range(1, round(thing.base("ways")) + 1):
                self.joint(f"{name}.s{way}", f"{name}.r{way}", True)
        elif kind == "diode":
            self.bare.add_edge(self.at(f"{name}.anode"), self.at(f"{name}.cathode"), metres=0.0)
        elif kind == "regulator" and not thing.word("isolated"):
            self.rail.add_edge(self.at(f"{name}.in-neg"), self.at(f"{name}.out-neg"))
        elif kind == "driver" and "current-limit" not in thing.ratings:
            for channel in range(1, round(thing.base("channels")) + 1):
                for lead in "ab":
                    self.bare.add_edge(self.at(f"{name}.pos"), self.at(f"{name}.m{channel}{lead}"), metres=0.0)
        elif kind == "battery":
            self.lay_pack(thing)

    def lay_pack(self, thing):
        """A pack: its fuse; and a lead to its lower end is one between packs in series, which ends there, for its own pole
        is the next source."""
        name = thing.name
        below = [f"t{tap}" for tap in range(cells_of(thing))] if thing.word("taps") else ["neg"]
        for end in below:
            self.exits.setdefault(self.at(f"{name}.{end}"), set()).add(name)
        if "built-in-fuse" in thing.ratings:
            top = f"t{cells_of(thing)}" if thing.word("taps") else "~inner"
            self.exit(f"{name}.{top}", f"{name}.pos", True)

    def home(self, minus):
        """The rail that a current comes home to."""
        return networkx.node_connected_component(self.rail, minus) if minus in self.rail else {minus}

    def reach(self, thing, plus):
        """The nodes that a pole reaches with nothing on the way, each with its distance; nothing of a shorted one."""
        minus = self.at(f"{thing.name}.neg")
        home = self.home(minus)
        if plus in home or plus not in self.bare:
            return {}
        around = self.bare.subgraph([node for node in self.bare if node not in home])
        return networkx.single_source_dijkstra_path_length(around, plus, weight="metres")

    def feeds(self):
        """Every pole of every battery with nothing in the pack to open: name and what it reaches."""
        for thing in self.robot.things.values():
            if thing.kind != "battery":
                continue
            fused, cells = "built-in-fuse" in thing.ratings, cells_of(thing)
            poles = [] if fused else ["pos"]
            if thing.word("taps"):
                poles += [f"t{tap}" for tap in range(1, cells + fused)]
            for pole in poles:
                reached = self.reach(thing, self.at(f"{thing.name}.{pole}"))
                if reached:
                    yield f"{thing.name}.{pole}", reached


def check(comparison, seed, robot, findings):
    """Checks the findings of one robot."""
    wiring = Wiring(robot)
    feeds = dict(wiring.feeds())
    wires = {wire.name: (wiring.at(wire.start), wiring.at(wire.end)) for wire in robot.wires}
    reached_by = {name: [feed for feed, reached in feeds.items() if ends[0] in reached and ends[1] in reached]
                  for name, ends in wires.items()}
    told = [finding for finding in findings if finding["rule"] == RULE]
    covered, more = set(), False
    for finding in told:
        covered.add(finding["subject"])
        # A finding names six wires behind its first and counts the others.
        listed = " ".join(finding["because"])
        covered |= {word.strip("`,") for word in listed.split() if word.startswith(("`W", "`H"))}
        more |= " more behind it" in listed
        check_finding(comparison, seed, wiring, feeds, reached_by, finding)
    for name, by in reached_by.items():
        comparison.counts["wires searched for protection"] += 1
        comparison.counts["wires that a battery reaches bare"] += bool(by)
        if by and name not in covered and not more:
            check_silence(comparison, seed, wiring, feeds, wires[name], (name, by, covered))


def check_finding(comparison, seed, wiring, feeds, reached_by, finding):
    """What is reported is so; only batteries are looked at here."""
    wire, message = finding["subject"], finding["message"]
    if not any(f"`{feed}`" in message or f"`{feed.split('.')[0]}`" in message for feed in feeds):
        return
    comparison.counts["findings on protection"] += 1
    if not reached_by[wire]:
        comparison.wrong.append(f"robot {seed}: {wire} is reported, but no battery reaches it bare: {message}")
    far = [figure["value"] for figure in finding["figures"] if figure["what"] == "distance to the first device"]
    allowed = [figure["value"] for figure in finding["figures"] if figure["what"] == "allowed distance"]
    if far:
        distances = [reached[node] for feed, reached in feeds.items() if f"`{feed}`" in message
                     for node in reached if wiring.exits.get(node)]
        if not any(abs(distance - far[0]) < 1e-9 for distance in distances):
            comparison.wrong.append(f"robot {seed}: no device stands {far[0]} m from a pole as {wire} is told: {distances}")
        if far[0] <= allowed[0] or not any(abs(allowed[0] - one) < 1e-12 for one in (BARE, SHEATHED)):
            comparison.wrong.append(f"robot {seed}: {wire}: {far[0]} m of {allowed[0]} m is too far")


def check_silence(comparison, seed, wiring, feeds, ends, unreported):
    """What is reached bare and not reported itself lies behind a wire that is, or leads to a device near enough."""
    name, by, covered = unreported
    for feed in by:
        reached = feeds[feed]
        near = min(ends, key=lambda node: reached[node])
        far = ends[1] if near == ends[0] else ends[0]
        inside = wiring.bare.subgraph(reached)
        if covered & wires_on_way(inside, wiring.at(feed), near):
            continue
        behind = networkx.descendants(inside, far) | {far}
        devices = [reached[node] for node in behind if wiring.exits.get(node)]
        if not devices or min(devices) > SHEATHED + 1e-9:
            comparison.wrong.append(f"robot {seed}: {feed} reaches {name} with nothing to open it, and nothing is reported")


def wires_on_way(graph, start, end):
    """The wires on the shortest way, parallel ones among them."""
    way = networkx.dijkstra_path(graph, start, end, weight="metres")
    return {edge.get("wire") for one, other in zip(way, way[1:]) for edge in graph[one][other].values()}
