"""What a short on a wire comes to, and which of two devices opens first, judged a second time.

The linter holds a wire against its devices at the ends of the range of currents and where a limit of a device ends. Here
it is held against them at many currents between the ends as well: none may show a failure that it does not tell."""

import re
from math import isclose

import numpy as np

from bands import AT_ONCE, RATIO, UNLATCHES, first

#: Currents between the lowest and the highest at which a wire is held against its devices.
STEPS = 25
#: Three digits are printed: half of the last one, of the figure itself.
PRINTED = 0.00501
UNITS = {"A": 1.0, "mA": 1e-3, "kA": 1e3, "s": 1.0, "ms": 1e-3, "µs": 1e-6, "ns": 1e-9, "min": 60.0, "h": 3600.0}
RANK = ["nothing", "bears", "in time", "not assessed", "no device", "slow"]


def kind_of(words):
    """The kind of a verdict by its words; what is missing is not assessed."""
    kinds = {"nothing feeds it": "nothing", "it carries for good whatever feeds it gives": "bears",
             "the devices open before its insulation fails": "in time", "no device stands on a way in": "no device"}
    return "slow" if words.startswith("a short here draws") else kinds.get(words, "not assessed")


def judge(stands, devices, lowest, highest, unmeasured):
    """One way in: its kind, and of a slow one the currents at which the wire fails."""
    if stands is None:
        return "not assessed", []
    if stands.seconds(max(lowest, highest)) == "for good":
        return "bears", []
    if not devices:
        return "no device", []
    if unmeasured:
        return "not assessed", []
    slow, unknown = [], False
    for amps in currents(devices, lowest, max(highest, lowest)):
        found = first(devices, amps)
        latest, energy = (found[1], found[0].energy(amps)) if found else (None, None)
        if stands.outlasts(amps, latest, energy):
            continue
        if any(device.says_nothing(amps) for device in devices):
            unknown = True
        else:
            slow.append((amps, latest, stands.seconds(amps)))
    return ("slow", slow) if slow else ("not assessed" if unknown else "in time", [])


def currents(devices, lowest, highest):
    """From the lowest to the highest, and right below where each limit begins."""
    edges = [edge for device in devices for edge in device.edges()]
    inner = np.geomspace(max(lowest, 1e-9), max(highest, 1e-9), STEPS)[1:-1] if highest > lowest else []
    return sorted([lowest, highest, *inner, *(edge for edge in edges if lowest < edge < highest)])


def together(stands, ways):
    """Several packs at one end, each behind a device of its own: which ways fail when all of them feed the short at once,
    each its share of the current, in the ratio of what it gives alone, and at which currents. `ways` are (devices, lowest,
    highest)."""
    lists = [{device.name for device in devices} for devices, _, _ in ways]
    whole = sum(lowest for _, lowest, _ in ways)
    if stands is None or len(ways) < 2 or set.intersection(*lists) or whole <= 0:
        return {}
    failing = {}
    for at, (devices, lowest, total) in enumerate(ways):
        most = total * lowest / whole
        if most <= 0:
            continue
        # Further away all shares are smaller alike.
        over = total / most
        edges = [edge for device in devices for edge in device.edges() if lowest < edge < most]
        for share in [most, *edges]:
            found = first(devices, share)
            if found is None or any(device.says_nothing(share) for device in devices):
                continue
            energy = found[0].energy(share)
            scaled = None if energy is None else energy * over**2
            if not stands.outlasts(share * over, found[1], scaled):
                failing.setdefault(at, []).append((share * over, found[1], stands.seconds(share * over)))
    return failing


def printed(words):
    """The figures in words, in base units."""
    return [float(number) * UNITS[unit] for number, unit in re.findall(r"(\d[\d.]*) (kA|mA|A|ms|µs|ns|min|s|h)\b", words)]


def tells(words, case):
    """Whether words tell a current, a time and how long the insulation lasts as they are."""
    amps, latest, lasts = case
    own = [amps] + ([latest] if latest is not None else []) + ([lasts] if not isinstance(lasts, str) else [])
    told = printed(words)
    return len(told) == len(own) and all(isclose(one, other, rel_tol=PRINTED) for one, other in zip(told, own)) \
        and ("need not open" in words) == (latest is None) and ("above its class" in words) == isinstance(lasts, str)


def order(lower, upper, amps, share, ratio, has_way_round):
    """Which of two devices in a row opens first: a word, and the two times where they decide."""
    if has_way_round or not lower.rows or not upper.rows or amps <= 0:
        return "not sure", ()
    energy = lower.rows and min((until * (lower.rated * multiple) ** 2 for multiple, _, until in lower.rows
                                 if until and lower.rated * multiple <= amps), default=None)
    melts = None if energy is None else energy / amps**2
    trip = AT_ONCE.get(upper.style)
    if trip and share >= trip[1] * upper.rated and (melts is None or melts > UNLATCHES):
        return "both", ()
    if lower.family == upper.family and lower.style not in AT_ONCE:
        return ("this by ratio" if ratio >= RATIO else "too near"), ()
    holds = upper.earliest(share)
    if trip is None and all(upper.rated * multiple < share for multiple, at_least, _ in upper.rows if at_least):
        holds = max(holds, (upper.least_energy() or 0.0) / share**2)
    gone = melts if melts is not None else lower.latest(amps)
    if gone is not None and gone <= holds:
        return "this", (gone, holds)
    other = upper.latest(share)
    if other is not None and other <= lower.earliest(amps):
        return "other", (other, lower.earliest(amps))
    return "not sure", ()


def order_of(words):
    """The word for what is told of two devices, and its times."""
    if words.startswith("this one first, by the ratio"):
        return "this by ratio", ()
    starts = {"this one first": "this", "the other first": "other", "both": "both", "not sure: one family": "too near"}
    word = next((word for start, word in starts.items() if words.startswith(start)), "not sure")
    return word, tuple(printed(words)) if word in ("this", "other") else ()


