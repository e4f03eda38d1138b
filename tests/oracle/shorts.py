"""The highest currents of a short: the whole network with the short put in, solved dense, once for every node.

All sources stand full and cold between their poles, cell by cell where taps are brought out and pack on pack in series: a
branch of a voltage and a resistance between any two nodes. Contacts are closed, loads draw nothing, and there is no way back: the
rail that a current comes home to is one node. Diodes either conduct, with their slope, or do not: each short is solved
again until none of them conducts backwards or holds a voltage forwards. What limits itself is not in the network: its limit
is added where it reaches, so that of such a short the current is an upper bound."""

from dataclasses import dataclass, field

import numpy as np
from scipy.sparse import csr_array
from scipy.sparse.csgraph import connected_components

#: What holds nodes that nothing else holds, siemens: no current flows in it.
HELD = 1.0


@dataclass
class Circuit:
    """What can be shorted to one rail."""

    wiring: object
    home: int
    members: list
    index: dict = field(default_factory=dict)
    solved: dict = field(default_factory=dict)
    leads: dict = field(default_factory=dict)

    def __post_init__(self):
        wiring = self.wiring
        reached = set().union(*(wiring.fed[feed.name] for feed, _ in self.members))
        nodes = sorted(node for node in reached if wiring.rail(node) != self.home)
        self.index = {node: at for at, node in enumerate(nodes)}
        self.links = [link for link in wiring.links if link.a in self.index and link.b in self.index and link.a != link.b
                      and link.cold > 0]
        self.both = [link for link in self.links if not link.one_way]
        self.diodes = [link for link in self.links if link.one_way]
        self.matrix = np.zeros((len(nodes), len(nodes)))
        self.pushed = np.zeros(len(nodes))
        for link in self.both:
            self.lay(self.matrix, link)
        self.ground = np.zeros(len(nodes))
        packs = {feed.thing for feed, _ in self.members}
        self.branches = [branch for branch in wiring.branches if branch.owner in packs and branch.high in self.index
                         and (branch.low in self.index or wiring.rail(branch.low) == self.home)]
        for branch in self.branches:
            self.lay_branch(branch)
        self.beside = {}
        for branch in self.branches:
            for one, other in ((branch.low, branch.high), (branch.high, branch.low)):
                if one in self.index and other in self.index:
                    self.beside.setdefault(one, []).append(other)
        self.find_rings()

    def lay_branch(self, branch):
        """A voltage behind a resistance, from the rail or from another node."""
        high, amps = self.index[branch.high], branch.volts / branch.ohms
        self.matrix[high, high] += 1 / branch.ohms
        self.pushed[high] += amps
        if branch.low in self.index:
            low = self.index[branch.low]
            self.matrix[low, low] += 1 / branch.ohms
            self.matrix[[low, high], [high, low]] -= 1 / branch.ohms
            self.pushed[low] -= amps
        else:
            self.ground[high] += 1 / branch.ohms

    def find_rings(self):
        """The nodes of which the highest current is not told exactly: behind a diode that leads back to where it is fed
        from, and behind several that are fed from one place and come together again, of which the linter adds all."""
        ring = [link for link in self.diodes if self.leads_to(link.b, link.a)]
        self.in_ring = {node for node in self.index if any(self.leads_to(link.b, node) for link in ring)}
        meets = {node for node in self.index for link in self.diodes for other in self.diodes
                 if link.number < other.number and self.leads_to(link.b, node) and self.leads_to(other.b, node)
                 and any(self.leads_to(feed.plus, link.a) and self.leads_to(feed.plus, other.a) for feed, _ in self.members
                         if feed.plus in self.index)}
        self.doubled = meets - self.in_ring

    def lay(self, matrix, link):
        """A resistance between two nodes."""
        a, b = self.index[link.a], self.index[link.b]
        siemens = 1 / link.cold
        matrix[[a, b], [a, b]] += siemens
        matrix[[a, b], [b, a]] -= siemens

    def short(self, node):
        """The voltages with one node held at the rail, and which diodes conduct."""
        if node not in self.solved:
            self.solved[node] = self.solve(self.index[node], self.before(node))
        return self.solved[node]

    def before(self, node):
        """The diodes that lead to a node: what lies behind the others draws, as loads do, and adds nothing."""
        return [self.leads_to(link.b, node) for link in self.diodes]

    def solve(self, at, leads):
        """Diodes are switched until they stand right."""
        conducts = list(leads)
        for _ in range(50):
            matrix = self.matrix.copy()
            for link, shut in zip(self.diodes, conducts):
                if shut:
                    self.lay(matrix, link)
            volts = self.held(matrix, at)
            forward = [volts[self.index[link.a]] - volts[self.index[link.b]] for link in self.diodes]
            wanted = [lead and across > (-1e-9 if shut else 1e-9) for lead, across, shut in zip(leads, forward, conducts)]
            if wanted == conducts:
                return volts, conducts
            conducts = wanted
        raise RuntimeError("diodes go round")

    def held(self, matrix, at):
        """The voltages with one node at nothing; parts that hang on nothing are held there too."""
        keep = np.arange(len(matrix)) != at
        inner = matrix[np.ix_(keep, keep)]
        volts = np.zeros(len(matrix))
        if len(inner):
            part = connected_components(csr_array(inner != 0), directed=False)[1]
            grounded = np.bincount(part, self.ground[keep] - matrix[keep, at])
            inner[np.diag_indices(len(inner))] += np.where(grounded[part] == 0.0, HELD, 0.0)
            volts[keep] = np.linalg.solve(inner, self.pushed[keep])
        return volts

    def total(self, node, without=None):
        """All that flows into a node when it is shorted, but for what comes through one link."""
        volts, conducts = self.short(node)
        amps = sum(self.out_of(branch, volts, node) for branch in self.branches if node in (branch.low, branch.high))
        for link in self.both:
            if node in (link.a, link.b) and link is not without:
                amps += volts[self.index[link.b if link.a == node else link.a]] / link.cold
        for link, shut in zip(self.diodes, conducts):
            if shut and link.b == node and link is not without:
                amps += volts[self.index[link.a]] / link.cold
            elif shut and link.a == node and link is not without:
                amps -= max(-volts[self.index[link.b]] / link.cold, 0.0)
        return amps

    def out_of(self, branch, volts, node):
        """What a branch pushes into a node at one of its ends."""
        low, high = (volts[self.index[end]] if end in self.index else 0.0 for end in (branch.low, branch.high))
        amps = (low + branch.volts - high) / branch.ohms
        return amps if node == branch.high else -amps

    def through(self, link, start, end):
        """What passes a link when its end is shorted."""
        volts, _ = self.short(end)
        return volts[self.index[start]] / link.cold

    def added(self, node, past=None):
        """The limits of what limits itself and reaches a node by a way that does not pass a link: (lowest, highest), which
        differ where one of several ways as little protected as each other leads through it."""
        low = high = self.channels(node)
        for feed, (_, _, _, _, limit, *_) in self.members:
            if feed.strength == "limit":
                surely, perhaps = self.comes(feed, node, past)
                low += limit if surely else 0.0
                high += limit if perhaps else 0.0
        return low, high

    def comes(self, feed, node, past):
        """Whether what a pole gives surely, and whether it perhaps, comes to a node past a link: by wire, or where none
        leads there through the cells of packs."""
        if self.wiring.ways_to(feed, node):
            return reaches(self.wiring, feed, node, past)
        return node in self.led_from(feed.plus, past), self.leads_to(feed.plus, node)

    def channels(self, node):
        """The limits of the channels of drivers whose leads reach a node."""
        amps = 0.0
        for leads, limit in self.limited_channels():
            if any(self.leads_to(lead, node) for lead in leads):
                amps += limit
        return amps

    def limited_channels(self):
        """The leads of each channel of a driver that limits itself, as far as the circuit has them."""
        bridges = {}
        for link in self.links_limited():
            bridges.setdefault(link.owner, []).append(link)
        for links in bridges.values():
            for pair in zip(links[::2], links[1::2]):
                leads = [link.b for link in pair if link.b in self.index and link.a in self.index]
                if leads:
                    yield leads, pair[0].cap

    def links_limited(self):
        """Bridges with a limit, two for each channel in order."""
        return [link for link in self.wiring.links if link.what == "driver" and link.cap < float("inf")]

    def leads_to(self, start, node):
        """Whether current gets from one node to the other within the circuit."""
        if start not in self.leads:
            self.leads[start] = self.led_from(start)
        return node in self.leads[start]

    def led_from(self, start, past=None):
        """All nodes that current gets to from one, past a link."""
        seen, stack = {start}, [start]
        while stack:
            here = stack.pop()
            for link in self.wiring.at.get(here, ()):
                to = link.b if link.a == here else link.a
                if link is not past and link.cold > 0 and to in self.index and to not in seen \
                        and not (link.one_way and here != link.a):
                    seen.add(to)
                    stack.append(to)
            for to in self.beside.get(here, ()):
                if to not in seen:
                    seen.add(to)
                    stack.append(to)
        return seen


def reaches(wiring, feed, node, past):
    """Whether a pole surely, and whether it perhaps, reaches a node past a link: not surely where the least protected ways
    differ in it. Behind a limit on the way, which has no resistance, that limit counts instead."""
    ways = wiring.ways_to(feed, node)
    clear = [way for way in ways if not any(link.cold == 0 for link in way.links)]
    if not clear:
        return False, False
    widest = max(way.width for way in ways)
    best = [way for way in ways if way.width == widest]
    surely = all(way in clear and not (way.links and way.links[-1] is past) for way in best)
    perhaps = [way for way in [*best, *clear] if not (way.links and way.links[-1] is past)]
    return surely, bool(perhaps)


class Shorts:
    """The highest currents of a robot."""

    def __init__(self, wiring):
        self.wiring = wiring
        homes = {}
        for feed in wiring.feeds:
            for level in wiring.string(feed) + wiring.switched(feed):
                homes.setdefault(wiring.rail(level[-1]), []).append((feed, level))
        self.circuits = [Circuit(wiring, home, members) for home, members in homes.items()]

    def comes(self, feed, node, past):
        """Whether what a pole gives surely, and whether it perhaps, comes to a node past a link, to whatever rail."""
        found = [circuit.comes(feed, node, past) for circuit in self.circuits if feed in (one for one, _ in circuit.members)]
        return any(surely for surely, _ in found), any(perhaps for _, perhaps in found)

    def in_ring(self, *nodes):
        """Whether a node lies behind a diode that leads back to where it is fed from."""
        return any(node in circuit.in_ring for circuit in self.circuits for node in nodes)

    def doubled(self, *nodes):
        """Whether a node lies behind several diodes that are fed from one place."""
        return any(node in circuit.doubled for circuit in self.circuits for node in nodes)

    def at(self, node):
        """A short at a node: from and up to."""
        pairs = [more(circuit.total(node), circuit.added(node)) for circuit in self.circuits if node in circuit.index]
        return widest(pairs)

    def into(self, link, at_from):
        """A short on a link right behind one of its ends, fed through that end."""
        node = link.a if at_from else link.b
        pairs = [more(circuit.total(node, link), circuit.added(node, link)) for circuit in self.circuits
                 if link in circuit.both]
        return widest(pairs)

    def behind(self, link, at_from):
        """A short at the far end of a link, through it."""
        start, end = (link.a, link.b) if at_from else (link.b, link.a)
        near = self.into(link, at_from)
        pairs = [more(circuit.through(link, start, end), circuit.added(start, link)) for circuit in self.circuits
                 if link in circuit.both]
        return tuple(min(far, most) for far, most in zip(widest(pairs), near))


def more(amps, added):
    """A current, nothing where it flows the other way, and what is added to it."""
    return tuple(max(amps, 0.0) + add for add in added)


def widest(pairs):
    """The highest of the lower and of the upper ends."""
    return tuple(max((pair[end] for pair in pairs), default=0.0) for end in (0, 1))
