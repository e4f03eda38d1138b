"""Runs the oracle: working points of random robots, what protects their wires, and how warm wires get."""

import argparse
import shutil
import sys
import time
from concurrent.futures import ProcessPoolExecutor

import compare_heat
from compare import Comparison, compare
from tool import target

#: Robots that one run of the command and one worker take at a time.
BATCH = 20

#: The share of points at which something that is not straight has to be at work, or the comparison is worth little.
AT_WORK = 0.6

#: The share of points about which the two may disagree whether there is a working point at all: loads at the very edge
#: of what their source carries, where a supply that hiccups has none and one that sags has.
AT_EDGE = 0.01

#: Terminals that the linter may leave on an island of their own where next to nothing flows: one in 100,000. A rail
#: that is live and shown as dead would be many more.
ALONE = 1e-5


def work(batch):
    """Compares a batch in a worker of its own."""
    folder = target() / "oracle" / "robots" / f"{batch[0]:05}"
    try:
        return compare(batch, folder)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def working_points(first, count):
    """Compares so many robots; says what came of it and gives the number of disagreements."""
    batches = [list(range(at, min(at + BATCH, first + count))) for at in range(first, first + count, BATCH)]
    total = Comparison()
    compare_heat.check_library(total)
    with ProcessPoolExecutor() as pool:
        for comparison in pool.map(work, batches):
            total.add(comparison)
    for what, number in sorted(total.counts.items()):
        print(f"{number:9} {what}")
    for edge in total.edges[:10]:
        print("edge:", edge)
    wrong = sorted(total.wrong)
    points = max(total.counts["points"], 1)
    if total.counts["points with something at work"] < AT_WORK * points:
        wrong.append("too few points have anything at work that is not straight")
    alone = total.counts["terminals on an island of their own"]
    if alone > ALONE * max(total.counts["terminal voltages"], 1):
        wrong.append(f"the linter leaves too many terminals, {alone}, on islands of their own")
    if total.counts["edges"] > AT_EDGE * points:
        wrong.append("too many points on whose existence the two disagree")
    return wrong


def main():
    """The whole."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--robots", type=int, default=500, help="how many robots (500)")
    parser.add_argument("--first", type=int, default=0, help="the seed of the first (0)")
    options = parser.parse_args()
    begun = time.monotonic()
    wrong = working_points(options.first, options.robots)
    for line in wrong[:40]:
        print("WRONG:", line)
    print(f"{time.monotonic() - begun:.0f} s")
    print(f"{options.robots - len(wrong) if len(wrong) < options.robots else 0} passed, {len(wrong)} failed")
    sys.exit(bool(wrong))


if __name__ == "__main__":
    main()
